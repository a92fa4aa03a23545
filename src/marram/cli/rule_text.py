"""A ruling as plain text for the terminal."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from textwrap import fill

from marram.core.citations import Citation
from marram.core.terms import ADVICE
from marram.rulings.explain import interval_words, strokes_words
from marram.rulings.ruling import LineStatus, Option, Ruling

_WIDTH = 100


def ruling_text(ruling: Ruling, more: Sequence[str] = ()) -> str:
    """The ruling of one book, with more lines before its last."""
    return "\n".join([*_lines(ruling), *(_wrapped(line, "") for line in more), "", ADVICE])


def citation_words(citations: tuple[Citation, ...]) -> str:
    """Rules with their provenance, short."""
    return "; ".join(dict.fromkeys(f"{citation.reference}, {citation.provenance}" for citation in citations))


def _lines(ruling: Ruling) -> Iterator[str]:
    yield f"{ruling.title}  [{ruling.stamp}]"
    yield "=" * min(_WIDTH, len(ruling.title) + len(ruling.stamp) + 4)
    for caution in ruling.cautions:
        yield _wrapped(f"Caution. {caution.text}", "")
    for letter, option in zip("ABCDEFGHIJKLMNOP", ruling.options, strict=False):
        yield ""
        yield from _option_lines(letter, option, ruling)
    for entry in ruling.not_available:
        yield ""
        yield _wrapped(f"Not available: {entry.title}. {entry.because}", "")
        yield _wrapped(f"[{citation_words(entry.citations)}]", "   ")
    if ruling.facts_needed:
        yield ""
        yield "To be asked"
        for question in ruling.facts_needed:
            yield _wrapped(f"{question.fact}: {question.question}", "   ")
    yield ""
    yield "Reasons"
    for line in ruling.lines:
        status = "" if line.status is LineStatus.APPLIED else f"({line.status.value}) "
        yield _wrapped(f"{status}{line.text} [{citation_words(line.citations)}]", "   ")


def _option_lines(letter: str, option: Option, ruling: Ruling) -> Iterator[str]:
    yield f"{letter}  {option.title}. {strokes_words(option.penalty_strokes)}."
    for number, step in enumerate(option.steps, start=1):
        yield _wrapped(f"{number}. {step}", "   ")
    if option.line is not None:
        yield _wrapped(f"Usable on the line: {interval_words(option.line.intervals_m)}.", "   ")
    yield from _doubt_lines(option)
    if option.relief_area is not None:
        parts = ", ".join(f"{part.area_m2:.2f} m² {ruling.area_words[part.area]}" for part in option.relief_area.parts)
        yield _wrapped(f"Area {option.relief_area.area_m2:.2f} m²: {parts or 'nothing is left'}.", "   ")
    for number, reference in enumerate(option.references, start=1):
        away = "" if reference.distance_m is None else f", {reference.distance_m:.2f} m from the ball"
        place = f"x {reference.position.x_m:.2f} m, y {reference.position.y_m:.2f} m"
        yield f"   Point {number}: {place}{away}."
    if option.must_measure_on_ground:
        accuracy = "unknown" if option.accuracy_m is None else f"{option.accuracy_m:.2f} m"
        yield f"   Measure on the ground: margin {option.margin_m:.2f} m, survey accuracy {accuracy}."
    yield _wrapped(f"[{citation_words(option.citations)}]", "   ")


def _doubt_lines(option: Option) -> Iterator[str]:
    """What a doubtful crossing point does to the option."""
    doubt = option.doubt
    if doubt is None:
        return
    if doubt.fan_m:
        back_m, half_m = doubt.fan_m[-1]
        yield _wrapped(f"By the survey's accuracy the line may run {half_m:.2f} m to either side {back_m:.0f} m back.", "   ")
    if doubt.other_area is not None:
        common = "no ground in common" if not doubt.overlap_m2 else f"{doubt.overlap_m2:.2f} m² in common"
        yield _wrapped(f"The other estimate gives an area of {doubt.other_area.area_m2:.2f} m²; {common}.", "   ")


def _wrapped(text: str, indent: str) -> str:
    return fill(text, width=_WIDTH, initial_indent=indent, subsequent_indent=indent + "   ")
