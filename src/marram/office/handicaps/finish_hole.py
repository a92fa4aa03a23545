"""Finish a hole that was begun and not played out: the most likely scores that it may be given, under each book."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from marram.core.citations import Citation
from marram.core.field_names import Field
from marram.handicaps.adjusted_score import most_likely_scores
from marram.handicaps.rules.score_rules import most_likely_rules
from marram.office.handicaps.written_figures import Written
from marram.rulebook.book import Book

_DISTANCE = re.compile(r"([0-9]{1,4}(?:\.[0-9]{1,3})?) ?(yd|ft|m|in)", re.ASCII)
_YARDS = {"yd": Fraction(1), "ft": Fraction(1, 3), "in": Fraction(1, 36), "m": Fraction(10_000, 9_144)}
"""Yards in each unit; a yard is 0.9144 m by the international agreement of 1959."""
_MOST_TAKEN, _FARTHEST_YD = 30, 700


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleFinished:
    """The most likely scores of a hole under a book.

    Attributes:
        book: Name of the book.
        stamp: Its stamp.
        scores: Scores that may be chosen among.
        says: The same in words.
        citations: The rules.
    """

    book: str
    stamp: str
    scores: tuple[int, ...]
    says: str
    citations: tuple[Citation, ...]


def finish_hole(books: Sequence[Book], taken: str, distance: str) -> tuple[HoleFinished, ...]:
    """Say which most likely scores a hole may be given, under each book.

    Args:
        books: Books of handicapping.
        taken: Strokes made, and penalty strokes.
        distance: How far the ball lay from the hole, with its unit: yd, ft, m or in.

    Raises:
        HandicapError: Something cannot be as it is written; every fault is told.
    """
    written = Written()
    strokes = written.whole(Field.TAKEN, taken, 1, _MOST_TAKEN)
    found = _DISTANCE.fullmatch(distance.strip())
    distance_yd = None if found is None else Fraction(found[1]) * _YARDS[found[2]]
    if distance_yd is None:
        written.fault(Field.DISTANCE, f"{distance!r} is no distance; expected a number with yd, ft, m or in, such as 15yd.")
    elif distance_yd > _FARTHEST_YD:
        written.fault(Field.DISTANCE, f"{distance} cannot be; no hole is so long.")
    written.refuse()
    assert strokes is not None and distance_yd is not None
    return tuple(_under(book, strokes, distance_yd) for book in books)


def _under(book: Book, strokes: int, distance_yd: Fraction) -> HoleFinished:
    cited = most_likely_rules(book)
    scores = most_likely_scores(strokes, distance_yd, cited.value)
    told = " or ".join(map(str, scores))
    says = f"Most likely score {told}; the lower of it and net double bogey is recorded."
    return HoleFinished(book=book.name, stamp=book.stamp, scores=scores, says=says, citations=cited.citations)
