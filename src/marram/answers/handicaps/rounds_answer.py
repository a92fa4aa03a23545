"""Which scores count for handicap, holes not finished, stroke indexes and formats, as outsiders read them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from marram.answers.citation_answer import CitationShape, citation_shapes
from marram.answers.handicaps.handicap_answer import plain_number
from marram.answers.shape import Answer, Shape

if TYPE_CHECKING:
    from collections.abc import Iterable

    from marram.handicaps.stroke_index_check import IndexCheck
    from marram.office.handicaps.accept_score import ScoreAccepted
    from marram.office.handicaps.finish_hole import HoleFinished
    from marram.office.handicaps.give_playing_handicap import FormatsListed


class AcceptedShape(Shape, frozen=True, kw_only=True):
    """Whether a score counts for handicap under one book.

    Attributes:
        book: The book.
        stamp: Its stamp.
        acceptable: Whether it counts.
        counts_as: What it counts as: a score of 18 holes, of nine holes, or no score.
        hangs_on_association: Whether that hangs on the national association, which was not said.
        hangs_on_committee: Whether that hangs on the Committee.
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
    hangs_on_committee: bool
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


class LikelyShape(Shape, frozen=True, kw_only=True):
    """The most likely scores of a hole not finished, under one book.

    Attributes:
        book: The book.
        stamp: Its stamp.
        scores: Scores that may be chosen among; the lower of the one chosen and net double bogey is recorded.
        says: The same in words.
        citations: The rules.
    """

    book: str
    stamp: str
    scores: tuple[int, ...]
    says: str
    citations: tuple[CitationShape, ...]


class HandicapMostLikelyAnswers(Answer, frozen=True, kw_only=True):
    """The most likely scores of a hole not finished, under each book.

    Attributes:
        schema: Name and version of this shape.
        books: One entry for each book asked.
    """

    schema: Literal["marram.handicap-most-likely/1"] = "marram.handicap-most-likely/1"
    books: tuple[LikelyShape, ...]


class IndexCheckShape(Shape, frozen=True, kw_only=True):
    """One recommendation for stroke indexes.

    Attributes:
        id: Its short name.
        asks: What it asks.
        source: Where it stands.
        holds: Whether it is kept.
    """

    id: str
    asks: str
    source: str
    holds: bool


class StrokeIndexAnswer(Answer, frozen=True, kw_only=True):
    """How well the stroke indexes of 18 holes are spread.

    Attributes:
        schema: Name and version of this shape.
        checks: Each recommendation; the first, that every number stands once, is a fault where it is not kept.
    """

    schema: Literal["marram.stroke-index/1"] = "marram.stroke-index/1"
    checks: tuple[IndexCheckShape, ...]


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


def accept_answers(found: Iterable[ScoreAccepted]) -> HandicapAcceptAnswers:
    """Whether a score counts under each book."""
    return HandicapAcceptAnswers(books=tuple(map(_accepted, found)))


def likely_answers(found: Iterable[HoleFinished]) -> HandicapMostLikelyAnswers:
    """The most likely scores of a hole under each book."""
    shapes = (
        LikelyShape(book=one.book, stamp=one.stamp, scores=one.scores, says=one.says, citations=citation_shapes(one.citations))
        for one in found
    )
    return HandicapMostLikelyAnswers(books=tuple(shapes))


def index_check_answer(checks: Iterable[IndexCheck]) -> StrokeIndexAnswer:
    """How well stroke indexes are spread."""
    return StrokeIndexAnswer(
        checks=tuple(IndexCheckShape(id=check.id, asks=check.asks, source=check.source, holds=check.holds) for check in checks)
    )


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


def _accepted(found: ScoreAccepted) -> AcceptedShape:
    return AcceptedShape(
        book=found.book,
        stamp=found.stamp,
        acceptable=found.accepted.is_acceptable,
        counts_as=found.accepted.counts_as.value,
        hangs_on_association=found.accepted.hangs_on_association,
        hangs_on_committee=found.accepted.hangs_on_committee,
        because=found.accepted.because,
        holes_made_up=found.accepted.filled,
        made_up_by=found.accepted.filled_by.value if found.accepted.filled else "",
        says=found.says,
        citations=citation_shapes(found.citations),
    )
