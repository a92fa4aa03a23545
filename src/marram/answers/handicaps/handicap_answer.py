"""A handicap, a differential or strokes on holes, under each book, as outsiders read them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from marram.answers.citation_answer import CitationShape, citation_shapes
from marram.answers.shape import UNSET, Answer, Shape, UnsetType

if TYPE_CHECKING:
    from collections.abc import Iterable
    from fractions import Fraction

    from marram.office.handicaps.worked_figures import HandicapWorkedOut, HoleWorkedOut, PlayerWorkedOut

_DECIMALS = 6
"""A figure before rounding is told as a number to so many decimals, and exactly as a fraction beside it."""


class HoleShape(Shape, frozen=True, kw_only=True):
    """A hole with its strokes.

    Attributes:
        place: Its place in the list that was given, from 1.
        stroke_index: Its stroke index.
        strokes: Strokes received; below zero where one is given.
        par: Its par; left out where it was not asked for.
        most: The most that it counts for handicap; left out where it was not asked for.
        gross: Strokes played, null where the ball was picked up or the hole not played; left out where no card was given.
        counts: What it counts for handicap, null where nothing is entered; left out where no card was given.
        played: Whether it was played; left out where no card was given.
    """

    place: int
    stroke_index: int
    strokes: int
    par: int | UnsetType = UNSET
    most: int | UnsetType = UNSET
    gross: int | None | UnsetType = UNSET
    counts: int | None | UnsetType = UNSET
    played: bool | UnsetType = UNSET


class PlayerShape(Shape, frozen=True, kw_only=True):
    """A player's Playing Handicap among others.

    Attributes:
        course_handicap: Course Handicap as it was given.
        value: Playing Handicap; below zero for a plus handicap.
        unrounded: The same before rounding, to six decimals.
        exact: The same before rounding, as a fraction.
        shown_as: The Playing Handicap as it is written.
        receives: Strokes received; in a match the lowest plays off zero.
    """

    course_handicap: float
    value: int
    unrounded: float
    exact: str
    shown_as: str
    receives: int


class HandicapShape(Shape, frozen=True, kw_only=True):
    """A figure under one book.

    Attributes:
        book: The book.
        stamp: Its stamp.
        called: What the figure is called.
        value: The figure; below zero for a plus handicap; null where what was given makes no score.
        unrounded: The same before rounding, to six decimals.
        exact: The same before rounding, as a fraction.
        shown_as: The figure as it is written, such as `+2`.
        says: How it came about.
        citations: The rules.
        holes: Holes with their strokes; left out where it is not laid on holes.
        players: Players among whom it is shared out; left out where there is one.
    """

    book: str
    stamp: str
    called: str
    value: int | float | None
    unrounded: float | None
    exact: str | None
    shown_as: str
    says: tuple[str, ...]
    citations: tuple[CitationShape, ...]
    holes: tuple[HoleShape, ...] | UnsetType = UNSET
    players: tuple[PlayerShape, ...] | UnsetType = UNSET


class HandicapAnswers(Answer, frozen=True, kw_only=True):
    """A handicap, a differential or strokes on holes, under each book.

    Attributes:
        schema: Name and version of this shape.
        books: One entry for each book asked.
    """

    schema: Literal["marram.handicap/1"] = "marram.handicap/1"
    books: tuple[HandicapShape, ...]


def handicap_answers(found: Iterable[HandicapWorkedOut]) -> HandicapAnswers:
    """A figure under each book."""
    return HandicapAnswers(books=tuple(map(_under, found)))


def exact_text(value: Fraction) -> str:
    """A number as a fraction, such as ``9343/565``, or a whole number."""
    return str(value)


def plain_number(value: Fraction) -> int | float:
    """A rounded figure as JSON writes it: whole, or with the decimals that it has."""
    return int(value) if value.denominator == 1 else float(value)


def six_decimals(value: Fraction) -> float:
    """A figure before rounding as JSON writes it, to six decimals."""
    from marram.handicaps.rounding import round_half_up

    return float(round_half_up(value, _DECIMALS))


def _under(found: HandicapWorkedOut) -> HandicapShape:
    return HandicapShape(
        book=found.book,
        stamp=found.stamp,
        called=found.called,
        value=None if found.is_none else plain_number(found.figure.value),
        unrounded=None if found.is_none else six_decimals(found.figure.unrounded),
        exact=None if found.is_none else exact_text(found.figure.unrounded),
        shown_as=found.shown,
        says=found.says,
        citations=citation_shapes(found.citations),
        holes=tuple(map(_hole, found.holes)) or UNSET,
        players=tuple(map(_player, found.players)) or UNSET,
    )


def _hole(hole: HoleWorkedOut) -> HoleShape:
    has_card = hole.counts is not None or not hole.is_played
    return HoleShape(
        place=hole.place,
        stroke_index=hole.stroke_index,
        strokes=hole.strokes,
        par=UNSET if hole.par is None else hole.par,
        most=UNSET if hole.most is None else hole.most,
        gross=hole.gross if has_card else UNSET,
        counts=hole.counts if has_card else UNSET,
        played=hole.is_played if has_card else UNSET,
    )


def _player(player: PlayerWorkedOut) -> PlayerShape:
    return PlayerShape(
        course_handicap=six_decimals(player.course_handicap),
        value=player.figure.whole,
        unrounded=six_decimals(player.figure.unrounded),
        exact=exact_text(player.figure.unrounded),
        shown_as=player.shown,
        receives=player.receives,
    )
