"""Add acts up: what several cost together under a book, and how that is told where it hangs on what nobody has said."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from marram.rulebook.book import Book
from marram.rulings.acts.acts import rule_on_act
from marram.rulings.acts.breaches import NamedAct, as_counted
from marram.rulings.acts.several import SumOfActs, Supposal, sum_of_acts
from marram.rulings.acts.sum_of_breaches import Between, Supposed

_SUPPOSED: Mapping[Supposal, str] = {
    Supposal.NOTHING: "no stroke and no awareness of a breach lay between",
    Supposal.EVENT: "a stroke, or being aware of the first breach, lay between",
    Supposal.RELATED: "the acts are related",
    Supposal.APART: "the acts are unrelated",
    Supposal.WITH_THAT_BALL: "the further act was done in playing the ball whose strokes do not count",
    Supposal.OTHERWISE: "it was not done with that ball",
    Supposal.ONE_HOLE: "on one hole only",
    Supposal.MORE_HOLES: "on two holes or more",
    Supposal.TWO_HOLES: "on two holes, and so on for each hole",
}
_QUESTIONS: Mapping[Supposal, str] = {
    Supposal.EVENT: "Was a stroke completed, or did the player know or learn of a breach, before the further act?",
    Supposal.RELATED: "Are the acts related: of one type, and part of one process?",
    Supposal.WITH_THAT_BALL: "Was the further act done in playing the ball whose strokes do not count?",
    Supposal.ONE_HOLE: "Over how many holes did it go on?",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class SumTold:
    """Several acts together.

    Attributes:
        found: The totals, or why there are none.
        asks: What to ask where the totals hang on it.
        says: The totals in words; empty where there are none.
    """

    found: SumOfActs
    asks: tuple[str, ...]
    says: str


def add_acts(book: Book, acts: Sequence[NamedAct], between: Between | None, holes: int | None) -> SumTold | None:
    """Add all acts up; None for one alone that is not counted by the hole.

    Args:
        book: The book.
        acts: The acts, with the facts of each.
        between: What lies between them; None where nobody has said.
        holes: Over how many holes a breach went on that is counted for each hole; None where nobody has said.
    """
    alone = rule_on_act(book, acts[0].act, acts[0].facts).case
    if len(acts) == 1 and (alone is None or not alone.per_hole or alone.added):
        return None
    found = sum_of_acts(book, acts, between, holes)
    return SumTold(found=found, asks=_asks(found), says="" if found.why_not else _says(found))


def counted_up(book: Book, acts: Sequence[NamedAct], between: Between | None) -> list[NamedAct]:
    """The acts as the sum counts them, whatever nobody has said taken not to be so."""
    supposed = Supposed(between=between or Between.NO_EVENT, are_related=False, is_with_uncounted=False, holes=1)
    return as_counted(book, acts, supposed.counted_up)


def _asks(found: SumOfActs) -> tuple[str, ...]:
    supposed = {supposal for reading in found.readings for supposal in reading.supposes}
    return tuple(question for supposal, question in _QUESTIONS.items() if supposal in supposed)


def _says(found: SumOfActs) -> str:
    stroke = _side([(reading.supposes, reading.total.stroke_play_words) for reading in found.readings])
    match = _side([(reading.supposes, reading.total.match_play_words) for reading in found.readings])
    return f"Together: stroke play {stroke}; match play {match}."


def _side(told: list[tuple[tuple[Supposal, ...], str]]) -> str:
    """The totals of a form of play, those that are equal told once with all that leads to them."""
    by_words: dict[str, list[str]] = {}
    for supposes, words in told:
        by_words.setdefault(words, []).append(" and ".join(_SUPPOSED[supposal] for supposal in supposes))
    if len(by_words) == 1:
        return next(iter(by_words))
    return ", but ".join(f"{words} if {' or '.join(ifs)}" for words, ifs in by_words.items())
