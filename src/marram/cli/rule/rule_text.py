"""A ruling as plain text for the terminal: each thing once, on one screen."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from textwrap import fill
from typing import TYPE_CHECKING

from marram.cli.common import rules_line
from marram.cli.rule.played_from import wrong_place_lines
from marram.cli.rule.rule_form import form_lines
from marram.cli.source_text import end_of_answer
from marram.cli.verdict import not_read_line
from marram.core.words import as_told

if TYPE_CHECKING:
    from marram.office.play.beside_ruling import GivenRuling
    from marram.rulings.case.ruling import Option, Question, Reference, Ruling

_WIDTH = 100
_LETTERS = "ABCDEFGHIJKLMNOP"
_SCREEN = 40
"""Lines of a screen: a ruling that would be longer runs its steps together."""


def ruling_text(given: GivenRuling, *, all_sources: bool = False) -> str:
    """The ruling of one book, with what stands beside it before the last lines.

    Args:
        given: The ruling.
        all_sources: Whether every place is told in which a rule was seen.
    """
    ruling = given.ruling
    end = [*(_wrapped(line, "") for line in _beside(given)), "", end_of_answer(ruling.citations, all_sources=all_sources)]
    wide = "\n".join([*_lines(ruling, is_tight=False), *end])
    return wide if wide.count("\n") < _SCREEN else "\n".join([*_lines(ruling, is_tight=True), *end])


def _beside(given: GivenRuling) -> list[str]:
    """The form of play, where the ball was played from, and the facts that the book does not read."""
    return [*form_lines(given.form), *wrong_place_lines(given.played_from), *not_read_line(given.book.name, given.facts_not_read)]


def _lines(ruling: Ruling, *, is_tight: bool) -> Iterator[str]:
    yield f"{ruling.title}  [{ruling.stamp}]"
    for caution in ruling.cautions:
        yield _wrapped(f"Caution. {caution.text}", "")
    told: dict[str, str] = {}
    for letter, option in zip(_LETTERS, ruling.options, strict=False):
        yield from () if is_tight and told else ("",)
        yield _wrapped(f"{letter}  {option.title}. {option.penalty_words}. {rules_line(option.citations)}", "")
        steps, measured = _steps(letter, option, told), _measured(option, ruling)
        paragraphs = [" ".join([*steps, *measured])] if is_tight else [*steps, " ".join(measured)]
        yield from (_wrapped(text, "   ") for text in paragraphs if text)
    yield from () if is_tight or not ruling.not_available else ("",)
    for entry in ruling.not_available:
        yield _wrapped(f"Not available: {entry.title}. {entry.because} {rules_line(entry.citations)}", "")
    if ruling.facts_needed:
        yield from ("To be asked",) if is_tight else ("", "To be asked")
        yield from (_question_line(question, ruling.options) for question in ruling.facts_needed)
    reasons = list(_reason_lines(ruling))
    yield from () if is_tight or not reasons else ("",)
    yield from reasons


def _question_line(question: Question, options: Sequence[Option]) -> str:
    """A question with what its answer would open, the name to state it under, and the options that a yes closes."""
    closed = [letter for letter, option in zip(_LETTERS, options, strict=False) if question.fact in option.waiting_for]
    tail = f" If yes, {' and '.join(closed)} {'is' if len(closed) == 1 else 'are'} closed." if closed else ""
    answers = f": {' or '.join(question.answers)}" if question.answers else ""
    return _wrapped(f"{question.words} ({as_told(question.fact)}{answers}){tail}", "   ")


def _reason_lines(ruling: Ruling) -> Iterator[str]:
    """What the options do not say themselves: where the ball lies, what is in the way, what is in doubt."""
    asked = {question.question for question in ruling.facts_needed}
    for line in ruling.lines:
        is_asked = line.is_waiting and any(line.text.endswith(question) for question in asked)
        if not line.sums_up and not is_asked:
            status = "" if line.is_applied else f"({line.status.value}) "
            yield _wrapped(f"{status}{line.text} {rules_line(line.citations)}", "")


def _steps(letter: str, option: Option, told: dict[str, str]) -> list[str]:
    """The steps of an option; one that an earlier option has too is named by its letter and number."""
    steps = []
    for number, step in enumerate(option.steps, start=1):
        steps.append(f"{number}. {f'As {told[step]}.' if step in told else step}")
        told.setdefault(step, f"{letter}{number}")
    return steps


def _measured(option: Option, ruling: Ruling) -> list[str]:
    """What was worked out on the ground."""
    found = [] if option.line is None else [f"Usable on the line: {option.usable_words}."]
    found += _doubts(option)
    if option.relief_area is not None:
        parts = option.relief_area.parts
        whole = f"Area {option.relief_area.area_m2:.2f} m²"
        split = ", ".join(f"{part.area_m2:.2f} m² {ruling.area_words[part.area]}" for part in parts)
        found.append(f"{whole}, {ruling.area_words[parts[0].area]}." if len(parts) == 1 else f"{whole}: {split or 'nothing is left'}.")
    found += [_point(number, reference) for number, reference in enumerate(option.references, start=1)]
    if option.must_measure_on_ground:
        accuracy = "unknown" if option.accuracy_m is None else f"{option.accuracy_m:.2f} m"
        found.append(f"Measure on the ground: margin {option.margin_m:.2f} m, survey accuracy {accuracy}.")
    return found


def _point(number: int, reference: Reference) -> str:
    away = "" if reference.distance_m is None else f", {reference.distance_m:.2f} m from the ball"
    return f"Point {number}: x {reference.position.x_m:.2f} m, y {reference.position.y_m:.2f} m{away}."


def _doubts(option: Option) -> Iterator[str]:
    """What a doubtful crossing point does to the option."""
    doubt = option.doubt
    if doubt is None:
        return
    if doubt.fan_m:
        back_m, half_m = doubt.fan_m[-1]
        yield f"By the survey's accuracy the line may run {half_m:.2f} m to either side {back_m:.0f} m back."
    if doubt.other_area is not None:
        common = "no ground in common" if not doubt.overlap_m2 else f"{doubt.overlap_m2:.2f} m² in common"
        yield f"The other estimate gives an area of {doubt.other_area.area_m2:.2f} m²; {common}."


def _wrapped(text: str, indent: str) -> str:
    return fill(text, width=_WIDTH, initial_indent=indent, subsequent_indent="   ", break_on_hyphens=False)
