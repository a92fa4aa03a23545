"""A handicap, a differential or strokes on holes, under each book, as outsiders read them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from marram.answers.citation_answer import CitationShape, citation_shapes
from marram.answers.shape import UNSET, Answer, Shape, UnsetType

if TYPE_CHECKING:
    from collections.abc import Iterable
    from fractions import Fraction

    from marram.office.handicaps.accept_score import ScoreAccepted
    from marram.office.handicaps.give_playing_handicap import FormatsListed
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
        gross: Strokes played, null where the ball was picked up; left out where no card was given.
        counts: What it counts for handicap; left out where no card was given.
    """

    place: int
    stroke_index: int
    strokes: int
    par: int | UnsetType = UNSET
    most: int | UnsetType = UNSET
    gross: int | None | UnsetType = UNSET
    counts: int | UnsetType = UNSET


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
        value: The figure; below zero for a plus handicap.
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
    value: int | float
    unrounded: float
    exact: str
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


class AcceptedShape(Shape, frozen=True, kw_only=True):
    """Whether a score counts for handicap under one book.

    Attributes:
        book: The book.
        stamp: Its stamp.
        acceptable: Whether it counts.
        counts_as: What it counts as: a score of 18 holes, of nine holes, or no score.
        hangs_on_association: Whether that hangs on the national association, which was not said.
        because: Why it does not count, or on what it hangs.
        holes_made_up: Holes that are made up.
        made_up_by: What stands for them.
        says: The same in words.
        citations: The rules.
    """

    book: str
    stamp: str
    acceptable: bool
    counts_as: str
    hangs_on_association: bool
    because: tuple[str, ...]
    holes_made_up: int
    made_up_by: str
    says: tuple[str, ...]
    citations: tuple[CitationShape, ...]


class HandicapAcceptAnswers(Answer, frozen=True, kw_only=True):
    """Whether a score counts for handicap, under each book.

    Attributes:
        schema: Name and version of this shape.
        books: One entry for each book asked.
    """

    schema: Literal["marram.handicap-accept/1"] = "marram.handicap-accept/1"
    books: tuple[AcceptedShape, ...]


class FormatAllowanceShape(Shape, frozen=True, kw_only=True):
    """A format with its recommended allowance.

    Attributes:
        format: The format.
        means: What it is.
        pct: The share of each player, per cent; of a side one for each of its players, the lowest Course Handicap first.
        of_side: Whether a side has one Playing Handicap.
        off_lowest: Whether the lowest plays off zero and others receive the difference.
    """

    format: str
    means: str
    pct: tuple[int | float, ...]
    of_side: bool
    off_lowest: bool


class FormatsShape(Shape, frozen=True, kw_only=True):
    """The formats of one book.

    Attributes:
        book: The book.
        stamp: Its stamp.
        formats: Each format.
        citations: The rules.
    """

    book: str
    stamp: str
    formats: tuple[FormatAllowanceShape, ...]
    citations: tuple[CitationShape, ...]


class HandicapFormatAnswers(Answer, frozen=True, kw_only=True):
    """The formats for which books recommend an allowance.

    Attributes:
        schema: Name and version of this shape.
        books: One entry for each book asked.
    """

    schema: Literal["marram.handicap-formats/1"] = "marram.handicap-formats/1"
    books: tuple[FormatsShape, ...]


def handicap_answers(found: Iterable[HandicapWorkedOut]) -> HandicapAnswers:
    """A figure under each book."""
    return HandicapAnswers(books=tuple(map(_under, found)))


def accept_answers(found: Iterable[ScoreAccepted]) -> HandicapAcceptAnswers:
    """Whether a score counts under each book."""
    return HandicapAcceptAnswers(books=tuple(map(_accepted, found)))


def format_answers(found: Iterable[FormatsListed]) -> HandicapFormatAnswers:
    """The formats of each book."""
    return HandicapFormatAnswers(books=tuple(map(_formats, found)))


def _formats(found: FormatsListed) -> FormatsShape:
    formats = tuple(
        FormatAllowanceShape(
            format=one.name,
            means=one.means,
            pct=tuple(plain_number(share * 100) for share in one.shares),
            of_side=one.is_of_side,
            off_lowest=one.is_off_lowest,
        )
        for one in found.formats
    )
    return FormatsShape(book=found.book, stamp=found.stamp, formats=formats, citations=citation_shapes(found.citations))


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
        value=plain_number(found.figure.value),
        unrounded=six_decimals(found.figure.unrounded),
        exact=exact_text(found.figure.unrounded),
        shown_as=found.shown,
        says=found.says,
        citations=citation_shapes(found.citations),
        holes=tuple(map(_hole, found.holes)) or UNSET,
        players=tuple(map(_player, found.players)) or UNSET,
    )


def _hole(hole: HoleWorkedOut) -> HoleShape:
    has_card = hole.counts is not None
    return HoleShape(
        place=hole.place,
        stroke_index=hole.stroke_index,
        strokes=hole.strokes,
        par=UNSET if hole.par is None else hole.par,
        most=UNSET if hole.most is None else hole.most,
        gross=hole.gross if has_card else UNSET,
        counts=UNSET if hole.counts is None else hole.counts,
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


def _accepted(found: ScoreAccepted) -> AcceptedShape:
    return AcceptedShape(
        book=found.book,
        stamp=found.stamp,
        acceptable=found.accepted.is_acceptable,
        counts_as=found.accepted.counts_as.value,
        hangs_on_association=found.accepted.hangs_on_association,
        because=found.accepted.because,
        holes_made_up=found.accepted.filled,
        made_up_by=found.accepted.filled_by.value if found.accepted.filled else "",
        says=found.says,
        citations=citation_shapes(found.citations),
    )
