"""What a verdict turns on: the questions, not answered yet, of which a yes would change it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from operator import attrgetter

from marram.rulebook.book import Book
from marram.rulebook.consequences import Cases, Consequence
from marram.rulebook.facts import is_settled_by
from marram.rulings.explain import ask

_verdict_of = attrgetter(
    *("strokes", "match_strokes", "hole", "who", "out", "only_in", "per_hole", "added", "allowed"),
    *("stroke", "ball", "match_stroke", "match_ball"),
)
"""What makes two cases different answers: the penalty, the hole, disqualification, the stroke and the ball."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """Questions of which a yes, to all of them, changes what an act leads to.

    Attributes:
        facts: The facts that are not settled yet.
        questions: The question for each, in the edition's words.
        then: What the act leads to if all of them are so.
    """

    facts: tuple[str, ...]
    questions: tuple[str, ...]
    then: Consequence


def open_facts(case: Consequence, stated: Mapping[str, bool]) -> tuple[str, ...]:
    """Facts of a case that nobody has stated; none where another of its facts is false."""
    if any(stated.get(name) is False for name in case.when):
        return ()
    return tuple(name for name in case.when if name not in stated)


def turns_of(book: Book, cases: Cases, held: Consequence, stated: Mapping[str, bool]) -> tuple[Turn, ...]:
    """What a verdict turns on, in the order in which the book tries its cases; the first that is so decides.

    A case of the same verdict is among them where it keeps a later one from deciding.

    Args:
        book: The book.
        cases: All cases of the act.
        held: The case that holds by what is stated.
        stated: Named facts that are known, true or false.
    """
    turns = []
    for case in cases[: cases.index(held)]:
        names = open_facts(case, stated)
        if names and not any(is_settled_by(name, stated, book.catalogue.facts) for name in names):
            turns.append(Turn(facts=names, questions=tuple(ask(book, name, {}) for name in names), then=case))
    while turns and _verdict_of(turns[-1].then) == _verdict_of(held):
        turns.pop()
    return tuple(turns)
