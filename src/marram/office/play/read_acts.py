"""Read acts in a form of play: how each of several reads there by itself, and what it still turns on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marram.core.terms import Form
from marram.rulebook.book import Book
from marram.rulings.acts.act_in_form import FormReading, read_in_form, turns_in_form
from marram.rulings.acts.acts import ActAnswer, rule_on_act
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


def read_acts(book: Book, acts: Sequence[NamedAct], form: Form, played: Form) -> tuple[ActReading, ...]:
    """How each act reads in a form of play; none where the book has no such form or first act.

    Args:
        book: The book.
        acts: The acts, with the facts of each.
        form: The form.
        played: For partners, the form in which the sides play: stroke play or match play.
    """
    found = [_reading(book, act, form, played) for act in acts]
    there = tuple(reading for reading in found if reading is not None)
    return there if there and there[0].act == acts[0].act else ()


def _reading(book: Book, named: NamedAct, form: Form, played: Form) -> ActReading | None:
    answer = rule_on_act(book, named.act, named.facts)
    reading = None if answer.case is None else read_in_form(book, form, named.act, answer.case, played)
    if reading is None or answer.case is None:
        return None
    turns = turns_in_form(book, form, named.act, answer.cases, answer.case, named.facts, played)
    then = [(turn, read_in_form(book, form, named.act, turn.then, played)) for turn in turns]
    return ActReading(act=named.act, reading=reading, turns=tuple((turn, read) for turn, read in then if read is not None), answer=answer)
