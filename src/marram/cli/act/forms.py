"""The part of `marram act` that says how acts read in a form of play, each of several by itself, and what each still turns on there."""

from __future__ import annotations

from typing import TYPE_CHECKING

from marram.cli.common import rules_line
from marram.cli.verdict import asked_lines

if TYPE_CHECKING:
    from marram.office.play.read_acts import ActReading
    from marram.rulebook.consequences import Consequence
    from marram.rulings.acts.act_in_form import FormReading
    from marram.rulings.acts.acts import ActAnswer


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
    left = [then.after_in(is_match=reading.is_match).put_right for reading, then in read if reading.happens and not reading.is_over]
    return any(told.answer.last_hole_of(put_right) for put_right in left)


def _says(answer: ActAnswer, reading: FormReading, case: Consequence) -> str:
    """A reading with what becomes of stroke and ball, where anything is left to do."""
    if reading.is_over or not reading.happens:
        return reading.says
    after = case.after_words(is_match=reading.is_match, is_stroke_in_question=answer.is_stroke_in_question)
    return f"{reading.says} {after[0].upper()}{after[1:]}." if after else reading.says
