"""Lay strokes on holes: where they are received or given, and the most that each hole counts for handicap."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from marram.core.citations import Citation, merged
from marram.core.errors import HandicapError
from marram.core.field_names import Field
from marram.core.words import counted
from marram.handicaps.adjusted_score import (
    HoleCard,
    ScoreOf,
    adjusted_gross,
    entered_for_holes_not_played,
    hole_limits,
    holes_to_fill,
    score_of,
)
from marram.handicaps.rounding import Figure
from marram.handicaps.rules.playing_rules import plus_gives_from
from marram.handicaps.rules.score_rules import hole_limit_rules, holes_not_played_rules
from marram.handicaps.strokes_on_holes import FULL_ROUND, HALF_ROUND, places_in_order, strokes_by_hole
from marram.office.handicaps.worked_figures import HandicapWorkedOut, HoleWorkedOut, worked_out
from marram.office.handicaps.written_figures import NOT_PLAYED, Written, all_known
from marram.rulebook.book import Book
from marram.rulebook.handicap_words import FilledBy, PlusGivesFrom

NO_INDEX = "none"
"""What is written for the Course Handicap of a player who has no Index yet."""
_MOST_ON_A_HOLE = 30


@dataclass(frozen=True, slots=True, kw_only=True)
class _Card:
    holes: Sequence[HoleCard]
    scores: Sequence[int | None]
    left_out: Sequence[int]


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
        gross: Strokes on each hole, apart by commas, ``-`` where the ball was picked up, ``n`` where the hole was not played for a
            valid reason; empty where no card is looked at.

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
    left_out = [place for place, one in enumerate(gross.split(","), start=1) if one.strip().casefold() == NOT_PLAYED]
    card = _Card(holes=holes, scores=scores, left_out=left_out)
    return tuple(_limits_under(book, strokes, card) for book in books)


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


def _limits_under(book: Book, handicap: int | None, card: _Card) -> HandicapWorkedOut:
    cited, plus_from = hole_limit_rules(book), plus_gives_from(book)
    limits = hole_limits(card.holes, handicap, cited.value, plus_from.value)
    received = strokes_by_hole(handicap or 0, [hole.stroke_index for hole in card.holes], plus_from.value)
    entered, said, of_holes = _holes_left_out(book, handicap, card)
    told = [_hole(place, card, received[place - 1], limits[place - 1], entered) for place in range(1, len(card.holes) + 1)]
    total = Fraction(sum(hole.counts or 0 for hole in told) if card.scores else sum(limits))
    called = "Adjusted gross score" if card.scores else "Net double bogey, all holes together"
    says = (*_limit_words(handicap, card), *said)
    citations = merged(cited.citations, plus_from.citations, of_holes)
    found = worked_out(book, called, Figure(value=total, unrounded=total), 0, says, citations)
    return replace(found, holes=tuple(told), is_handicap=False, is_none=_makes_no_score(book, card))


def _makes_no_score(book: Book, card: _Card) -> bool:
    played = len(card.holes) - len(card.left_out)
    return bool(card.left_out) and score_of(played, len(card.holes), holes_not_played_rules(book).value) is ScoreOf.NOTHING


def _hole(place: int, card: _Card, strokes: int, most: int, entered: Mapping[int, int]) -> HoleWorkedOut:
    hole, gross = card.holes[place - 1], card.scores[place - 1] if card.scores else None
    is_played = place not in card.left_out
    counts = entered.get(place) if not is_played else adjusted_gross([gross], [most]) if card.scores else None
    return HoleWorkedOut(
        place=place,
        stroke_index=hole.stroke_index,
        strokes=strokes,
        par=hole.par,
        most=most,
        gross=gross,
        counts=counts,
        is_played=is_played,
    )


def _holes_left_out(book: Book, handicap: int | None, card: _Card) -> tuple[Mapping[int, int], list[str], tuple[Citation, ...]]:
    """What is entered for holes not played, what is said of them, and the rules; nothing where all were played."""
    if not card.left_out:
        return {}, [], ()
    cited = holes_not_played_rules(book)
    played, holes = len(card.holes) - len(card.left_out), len(card.holes)
    made = score_of(played, holes, cited.value)
    said = [f"{counted(played, 'hole')} played of {holes}, for a valid reason: {made.value}."]
    fills = holes_to_fill(played, made)
    if not fills or cited.value.filled_by is not FilledBy.NET_PAR:
        if fills:
            said.append("The holes not played take an expected differential; how the two are joined is not published.")
        alone = [] if made is ScoreOf.NOTHING else ["The holes played alone are added."]
        return {}, [*said, *alone], cited.citations
    by_number = dict(enumerate(card.holes, start=1))
    entered = entered_for_holes_not_played(by_number, card.left_out, handicap or 0, cited.value)
    one_more = " and one for the first of them" if played < cited.value.first_one_more_below else ""
    return entered, [*said, f"For those not played net par is entered{one_more}."], cited.citations


def _limit_words(handicap: int | None, card: _Card) -> list[str]:
    told = ["A player without an Index counts par and five on a hole at most."] if handicap is None else []
    empty = [place for place, score in enumerate(card.scores, start=1) if score is None]
    picked_up = [str(place) for place in empty if place not in card.left_out]
    if picked_up:
        holes = ", ".join(picked_up)
        told.append(f"Picked up on {holes}: the most is counted; a most likely score that is lower would stand instead.")
    return told
