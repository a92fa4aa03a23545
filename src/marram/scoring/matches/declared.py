"""A handicap that was declared for a match, and what follows where it was wrong."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marram.core.citations import Citation
from marram.handicaps.playing_handicap import off_lowest
from marram.rulebook.book import Book
from marram.rulings.acts.acts import rule_on_act

DECLARED = "wrong-handicap-in-match"
"""The act of declaring a wrong handicap."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Declared:
    """Which handicap a player of a match plays off.

    Attributes:
        strokes: The handicap that counts.
        is_out: Whether the player is disqualified.
        says: What was decided, in words; empty where nothing was wrong.
        citations: The rules.
    """

    strokes: int
    is_out: bool = False
    says: str = ""
    citations: tuple[Citation, ...] = ()


def handicap_declared(book: Book, right: int, declared: int, others: Sequence[int]) -> Declared:
    """Say which handicap counts where a player declared one.

    Args:
        book: The book.
        right: The handicap that is right.
        declared: The one that was declared, and not corrected in time.
        others: Handicaps of the other players of the match.
    """
    if declared == right:
        return Declared(strokes=right)
    is_same = off_lowest([declared, *others]) == off_lowest([right, *others])
    facts = {"declared_too_low": declared < right, "strokes_stay_the_same": is_same}
    answer = rule_on_act(book, DECLARED, facts)
    is_out = answer.case is not None and answer.case.out != ""
    if is_out:
        says = f"declared {declared}, and {right} is right: disqualified"
        return Declared(strokes=right, is_out=True, says=says, citations=answer.citations)
    kept = declared if declared < right else right
    says = f"declared {declared}, and {right} is right: plays off {kept}"
    return Declared(strokes=kept, says=says, citations=answer.citations)
