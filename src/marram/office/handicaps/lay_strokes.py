"""Lay strokes on holes: where they are received or given, and the most that each hole counts for handicap."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from marram.core.citations import merged
from marram.core.errors import HandicapError
from marram.core.field_names import Field
from marram.core.words import counted
from marram.handicaps.adjusted_score import HoleCard, adjusted_gross, hole_limits
from marram.handicaps.rounding import Figure
from marram.handicaps.rules.playing_rules import plus_gives_from
from marram.handicaps.rules.score_rules import hole_limit_rules
from marram.handicaps.strokes_on_holes import FULL_ROUND, HALF_ROUND, places_in_order, strokes_by_hole
from marram.office.handicaps.worked_figures import HandicapWorkedOut, HoleWorkedOut, worked_out
from marram.office.handicaps.written_figures import Written, all_known
from marram.rulebook.book import Book
from marram.rulebook.handicap_words import PlusGivesFrom

NO_INDEX = "none"
"""What is written for the Course Handicap of a player who has no Index yet."""
_MOST_ON_A_HOLE = 30


def lay_strokes(books: Sequence[Book], handicap: str, stroke_index: str) -> tuple[HandicapWorkedOut, ...]:
    """Say where the strokes of a handicap fall, under each book.

    Args:
        books: Books of handicapping.
        handicap: Course or Playing Handicap for the holes, such as ``14`` or ``+2``.
        stroke_index: Stroke index of each hole, apart by commas: 18, or those of nine.

    Raises:
        HandicapError: Something cannot be as it is written; every fault is told.
    """
    written = Written()
    strokes = written.whole_handicap(Field.HANDICAP, handicap)
    indexes = _indexes(written, stroke_index)
    written.refuse()
    assert strokes is not None
    return tuple(_strokes_under(book, strokes, indexes) for book in books)


def limit_holes(books: Sequence[Book], handicap: str, stroke_index: str, par: str, gross: str = "") -> tuple[HandicapWorkedOut, ...]:
    """Say the most that each hole counts for handicap, and what a card comes to, under each book.

    Args:
        books: Books of handicapping.
        handicap: The full Course Handicap for the holes; ``none`` where the player has no Index yet.
        stroke_index: Stroke index of each hole, apart by commas: 18, or those of nine.
        par: Par of each hole, apart by commas.
        gross: Strokes on each hole, apart by commas, ``-`` where the ball was picked up; empty where no card is looked at.

    Raises:
        HandicapError: Something cannot be as it is written; every fault is told.
    """
    written = Written()
    has_index = handicap.strip().casefold() != NO_INDEX
    strokes = written.whole_handicap(Field.HANDICAP, handicap) if has_index else None
    indexes = _indexes(written, stroke_index)
    pars = written.wholes(Field.PAR, par, 3, 7)
    scores = written.wholes(Field.GROSS, gross, 1, _MOST_ON_A_HOLE, may_lack=True) if gross else []
    for field, given in ((Field.PAR, pars), (Field.GROSS, scores)):
        if given and indexes and len(given) != len(indexes):
            written.fault(field, f"it holds {counted(len(given), 'number')} for {len(indexes)} holes.")
    written.refuse()
    holes = [HoleCard(par=one, stroke_index=index) for one, index in zip(all_known(pars), indexes, strict=True)]
    return tuple(_limits_under(book, strokes, holes, scores) for book in books)


def _indexes(written: Written, stroke_index: str) -> list[int]:
    found = written.wholes(Field.STROKE_INDEX, stroke_index, 1, FULL_ROUND)
    if len(found) not in {HALF_ROUND, FULL_ROUND}:
        written.fault(Field.STROKE_INDEX, f"it holds {counted(len(found), 'number')}; expected {HALF_ROUND} or {FULL_ROUND}.")
    known = all_known(found)
    try:
        places_in_order(known)
    except HandicapError as problem:
        written.fault(Field.STROKE_INDEX, f"{problem.message} {problem.hint}")
    return known


def _strokes_under(book: Book, handicap: int, indexes: Sequence[int]) -> HandicapWorkedOut:
    plus_from = plus_gives_from(book)
    received = strokes_by_hole(handicap, indexes, plus_from.value)
    holes = tuple(
        HoleWorkedOut(place=place, stroke_index=index, strokes=strokes)
        for place, (index, strokes) in enumerate(zip(indexes, received, strict=True), start=1)
    )
    whole = Figure(value=Fraction(sum(received)), unrounded=Fraction(handicap))
    found = worked_out(book, "Strokes", whole, 0, (_fall(handicap, len(indexes), plus_from.value),), plus_from.citations)
    return replace(found, holes=holes)


def _fall(handicap: int, holes: int, plus_from: PlusGivesFrom) -> str:
    if handicap < 0:
        end = "highest" if plus_from is PlusGivesFrom.HIGHEST_INDEX else "lowest"
        return f"A plus handicap gives strokes to the course, from the {end} stroke index on."
    round_, rest = divmod(handicap, holes)
    return f"{counted(round_, 'stroke')} on every hole and one more on the {rest} with the lowest stroke index."


def _limits_under(book: Book, handicap: int | None, holes: Sequence[HoleCard], scores: Sequence[int | None]) -> HandicapWorkedOut:
    cited, plus_from = hole_limit_rules(book), plus_gives_from(book)
    limits = hole_limits(holes, handicap, cited.value, plus_from.value)
    received = strokes_by_hole(handicap or 0, [hole.stroke_index for hole in holes], plus_from.value)
    told = []
    for place, (hole, strokes, most) in enumerate(zip(holes, received, limits, strict=True), start=1):
        gross = scores[place - 1] if scores else None
        counts = None if not scores else most if gross is None else min(gross, most)
        told.append(
            HoleWorkedOut(place=place, stroke_index=hole.stroke_index, strokes=strokes, par=hole.par, most=most, gross=gross, counts=counts)
        )
    total = Fraction(adjusted_gross(scores, limits) if scores else sum(limits))
    called = "Adjusted gross score" if scores else "Net double bogey, all holes together"
    citations = merged(cited.citations, plus_from.citations)
    found = worked_out(book, called, Figure(value=total, unrounded=total), 0, tuple(_limit_words(handicap, scores)), citations)
    return replace(found, holes=tuple(told), is_handicap=False)


def _limit_words(handicap: int | None, scores: Sequence[int | None]) -> list[str]:
    told = ["A player without an Index counts par and five on a hole at most."] if handicap is None else []
    picked_up = [str(place) for place, score in enumerate(scores, start=1) if score is None]
    if picked_up:
        holes = ", ".join(picked_up)
        told.append(f"Picked up on {holes}: the most is counted; a most likely score that is lower would stand instead.")
    return told
