"""The part of `marram act` that says how acts read in a form of play, each of several by itself."""

from __future__ import annotations

from typing import TYPE_CHECKING

from marram.cli.common import rules_line

if TYPE_CHECKING:
    from collections.abc import Sequence

    from marram.rulebook.book import Book
    from marram.rulings.act_in_form import FormReading
    from marram.rulings.breaches import NamedAct

    ActReading = tuple[str, FormReading]

_NOT_THERE = "It cannot happen in this form."


def readings_of(book: Book, acts: Sequence[NamedAct], form: str, *, is_match: bool) -> list[ActReading]:
    """How each act reads in a form of play; none where none is asked, or the book has no such form or first act.

    Raises:
        DataError: There is no such form.
    """
    from marram.core.terms import Form
    from marram.rulings.act_in_form import read_in_form
    from marram.rulings.acts import rule_on_act
    from marram.rulings.form_of_play import known_form

    if not form:
        return []
    named, played = known_form(form), Form.MATCH_PLAY if is_match else Form.STROKE_PLAY
    cases = [(act.act, rule_on_act(book, act.act, act.facts).case) for act in acts]
    found = [(act, read_in_form(book, named, act, case, played)) for act, case in cases if case is not None]
    there = [(act, reading) for act, reading in found if reading is not None]
    return there if there and there[0][0] == acts[0].act else []


def readings_object(told: list[ActReading]) -> dict[str, object]:
    """How acts read in a form of play, as outsiders read it; nothing where none is asked, and more than one where acts are added up."""
    if not told:
        return {}
    each = [{"act": act, **_reading_object(reading)} for act, reading in told]
    return {"reads": _reading_object(told[0][1])} | ({"each_reads": each} if told[1:] else {})


def _reading_object(reading: FormReading) -> dict[str, object]:
    from marram.interchange.answers import citation_object

    return {
        "form": reading.form.value,
        "strokes": reading.strokes,
        "hole": reading.hole,
        "disqualified": reading.is_out,
        "bears": reading.bears,
        "partner": reading.partner,
        "says": reading.says or _NOT_THERE,
        "citations": [citation_object(citation) for citation in reading.citations],
    }


def reading_lines(told: list[ActReading], *, depends: bool) -> list[str]:
    """How acts read in a form of play, in lines; several are told with their names."""
    return [_line(act if told[1:] else "", reading, depends=depends and not number) for number, (act, reading) in enumerate(told)]


def _line(act: str, reading: FormReading, *, depends: bool) -> str:
    lead = f"{'Otherwise, in' if depends else 'In'} {reading.form.value.replace('-', ' ')}"
    return f"{lead}{f', {act}' if act else ''}: {reading.says or _NOT_THERE} {rules_line(reading.citations)}"
