"""The part of `marram act` that says how acts read in a form of play, each of several by itself, and what each still turns on there."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from marram.cli.act.further_acts import turns_of_act
from marram.cli.common import rules_line
from marram.cli.verdict import asked_lines

if TYPE_CHECKING:
    from collections.abc import Sequence

    from marram.core.terms import Form
    from marram.rulebook.book import Book
    from marram.rulebook.consequences import Consequence
    from marram.rulings.acts.act_in_form import FormReading
    from marram.rulings.acts.acts import ActAnswer
    from marram.rulings.acts.breaches import NamedAct
    from marram.rulings.acts.turns import Turn


@dataclass(frozen=True, slots=True, kw_only=True)
class ActReading:
    """How an act reads in a form of play.

    Attributes:
        act: Name of the act.
        reading: How the case reads that holds by what is stated.
        turns: What that turns on in the form, each with how it then reads.
        answer: What the act leads to in any form.
    """

    act: str
    reading: FormReading
    turns: tuple[tuple[Turn, FormReading], ...]
    answer: ActAnswer


def readings_of(book: Book, acts: Sequence[NamedAct], form: str, *, is_match: bool) -> list[ActReading]:
    """How each act reads in a form of play; none where none is asked, or the book has no such form or first act.

    Raises:
        DataError: There is no such form.
    """
    from marram.core.terms import Form
    from marram.rulings.acts.form_of_play import known_form

    if not form:
        return []
    named, played = known_form(form), Form.MATCH_PLAY if is_match else Form.STROKE_PLAY
    found = [_reading(book, act, named, played) for act in acts]
    there = [reading for reading in found if reading is not None]
    return there if there and there[0].act == acts[0].act else []


def _reading(book: Book, named: NamedAct, form: Form, played: Form) -> ActReading | None:
    from marram.rulings.acts.act_in_form import read_in_form, turns_in_form
    from marram.rulings.acts.acts import rule_on_act

    answer = rule_on_act(book, named.act, named.facts)
    reading = None if answer.case is None else read_in_form(book, form, named.act, answer.case, played)
    if reading is None or answer.case is None:
        return None
    turns = turns_in_form(book, form, named.act, answer.cases, answer.case, named.facts, played)
    then = [(turn, read_in_form(book, form, named.act, turn.then, played)) for turn in turns]
    return ActReading(act=named.act, reading=reading, turns=tuple((turn, read) for turn, read in then if read is not None), answer=answer)


def readings_object(told: list[ActReading]) -> dict[str, object]:
    """How acts read in a form of play, as outsiders read it; nothing where none is asked, and more than one where acts are added up."""
    if not told:
        return {}
    each = [{"act": entry.act, **_reading_object(entry.reading)} for entry in told]
    return {"reads": _reading_object(told[0].reading)} | ({"each_reads": each} if told[1:] else {})


def _reading_object(reading: FormReading) -> dict[str, object]:
    from marram.answers.rules.ruling_answer import citation_object

    return {
        "form": reading.form.value,
        "happens": reading.happens,
        "see_instead": reading.see_instead,
        "strokes": reading.strokes,
        "hole": reading.hole,
        "disqualified": reading.is_out,
        "bears": reading.bears,
        "partner": reading.partner,
        "says": reading.says,
        "citations": [citation_object(citation) for citation in reading.citations],
    }


def asked_in_form(told: ActReading) -> list[dict[str, object]]:
    """What the reading of an act turns on in its form, as outsiders read it, each with how it then reads."""
    objects = turns_of_act(told.answer, (turn for turn, _ in told.turns))
    return [one | {"reads": _reading_object(read)} for one, (_, read) in zip(objects, told.turns, strict=True)]


def reading_lines(told: ActReading) -> list[str]:
    """How an act reads in a form of play, in lines: what decides there is asked first."""
    turns = [(turn.questions, _says(told.answer, read, turn.then)) for turn, read in told.turns]
    case = told.answer.case
    lines = asked_lines(turns, told.reading.says if case is None else _says(told.answer, told.reading, case))
    last_hole = [told.answer.last_hole_words] if _is_put_right(told) else []
    return [*lines[:-1], f"{lines[-1]} {rules_line(told.reading.citations)}", *last_hole]


def _is_put_right(told: ActReading) -> bool:
    """Whether anything that is told can still be put right before the next tee."""
    case = told.answer.case
    read = [*((read, turn.then) for turn, read in told.turns), *(((told.reading, case),) if case is not None else ())]
    left = [then.after_in(is_match=reading.is_match)["put_right"] for reading, then in read if reading.happens and not reading.is_over]
    return any(told.answer.last_hole_of(put_right) for put_right in left)


def _says(answer: ActAnswer, reading: FormReading, case: Consequence) -> str:
    """A reading with what becomes of stroke and ball, where anything is left to do."""
    if reading.is_over or not reading.happens:
        return reading.says
    after = case.after_words(is_match=reading.is_match, is_stroke_in_question=answer.is_stroke_in_question)
    return f"{reading.says} {after[0].upper()}{after[1:]}." if after else reading.says
