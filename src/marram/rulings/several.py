"""Several acts together: what they cost by a book's own arithmetic, and the cap for what is counted for each hole."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from marram.core.citations import Citation, merged
from marram.core.errors import DataError
from marram.rulebook.book import Book
from marram.rulebook.consequences import Consequence

_ROW, _CAP = "several-breaches", "club-excess-penalty-cap"


class Between(StrEnum):
    """What lies between two breaches."""

    ONE_ACT = "one-act"
    NO_EVENT = "no-event"
    EVENT = "event"


_PARTS = {Between.ONE_ACT: "one_act", Between.NO_EVENT: "apart_without_event", Between.EVENT: "apart_after_event"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Together:
    """What several acts cost together.

    Attributes:
        strokes: Penalty strokes in stroke play.
        match_strokes: Penalty strokes in match play.
        holes_deducted: Holes deducted in a match, for what is counted for each hole.
        holes_lost: Which holes of the match are lost: ``lost`` the hole being played, ``first-lost``, ``next-lost``.
        is_out: Whether the player is disqualified in stroke play.
        is_out_of_match: Whether the player is disqualified in match play.
        counts: ``highest`` or ``each``, as the book says.
        citations: The rules.
    """

    strokes: int
    match_strokes: int
    holes_deducted: int
    holes_lost: tuple[str, ...]
    is_out: bool
    is_out_of_match: bool
    counts: str
    citations: tuple[Citation, ...]


def together(book: Book, cases: Sequence[Consequence], between: Between, *, holes: int) -> Together:
    """Add acts up.

    Args:
        book: The book.
        cases: What each act leads to.
        between: What lies between the breaches.
        holes: Over how many holes a breach went on that is counted for each hole.

    Raises:
        DataError: There is nothing to add up, or no hole.
    """
    if not cases or holes < 1:
        raise DataError("There is nothing to add up.", where="--also", hint="Name acts, and at least one hole.")
    counts = book.word(f"{_ROW}.{_PARTS[between]}").value
    strokes = [_strokes(book, case, holes) for case in cases]
    matched = [case.match_strokes for case in cases if case.who == "player"]
    deducted = [_deducted(book, case, holes) for case in cases]
    add = max if counts == "highest" else sum
    per_hole = any(case.per_hole for case in cases)
    return Together(
        strokes=add(strokes),
        match_strokes=add(matched) if matched else 0,
        holes_deducted=add(deducted),
        holes_lost=tuple(dict.fromkeys(case.hole for case in cases if case.who == "player" and case.hole.endswith("lost"))),
        is_out=any(case.out in {"always", "stroke-play"} for case in cases),
        is_out_of_match=any(case.out in {"always", "match-play"} for case in cases),
        counts=counts,
        citations=merged(book.citations(_ROW), book.citations(_CAP) if per_hole else ()),
    )


def _strokes(book: Book, case: Consequence, holes: int) -> int:
    """Penalty strokes; what is counted for each hole stops at the cap."""
    if not case.per_hole:
        return case.strokes
    strokes = case.strokes * holes
    return min(strokes, int(book.number(f"{_CAP}.max_strokes").value)) if case.capped else strokes


def _deducted(book: Book, case: Consequence, holes: int) -> int:
    if not case.per_hole or not case.capped:
        return 0
    each = int(book.number(f"{_CAP}.holes_per_hole").value)
    return min(each * holes, int(book.number(f"{_CAP}.max_holes").value))
