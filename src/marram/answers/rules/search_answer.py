"""Where a search stands, and what follows from a ball moved in it, as outsiders read them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from marram.answers.citation_answer import CitationShape, citation_shapes
from marram.answers.rules.act_answer import ActShape, act_shape
from marram.answers.shape import UNSET, Answer, Shape, UnsetType

if TYPE_CHECKING:
    from collections.abc import Iterable

    from marram.office.play.time_search import SearchTimed
    from marram.rulings.acts.moved_in_search import MovedInSearch


class MovedShape(Shape, frozen=True, kw_only=True):
    """What follows from a ball moved in a search.

    Attributes:
        by: Who or what moved it.
        acts: The acts that speak of it; none where a situation does.
        situations: The situations to rule on, for what no act speaks of.
        citations: The rules that sort it.
    """

    by: str
    acts: tuple[ActShape, ...]
    situations: tuple[str, ...]
    citations: tuple[CitationShape, ...]


class SearchShape(Shape, frozen=True, kw_only=True):
    """Where a search stands under one book.

    Attributes:
        book: The book.
        stamp: Its stamp.
        state: Where it stands.
        limit_s: Time allowed, seconds.
        searched_s: Time that has counted, seconds.
        left_s: Time left, seconds; zero when it is over.
        other_ball: What the second ball is, where one was played.
        penalty_strokes: Penalty strokes that come with the ball that is in play.
        says: The same in words.
        not_stated: What the book does not state and was counted as search.
        citations: The rules.
        moved: What follows from the ball moved in it; left out where it was not.
        facts_not_read: Facts stated that the book does not read.
    """

    book: str
    stamp: str
    state: str
    limit_s: int
    searched_s: int
    left_s: int
    other_ball: str
    penalty_strokes: int
    says: str
    not_stated: tuple[str, ...]
    citations: tuple[CitationShape, ...]
    moved: MovedShape | UnsetType = UNSET
    facts_not_read: tuple[str, ...]


class SearchAnswers(Answer, frozen=True, kw_only=True):
    """Whether a ball was found in time, under each book.

    Attributes:
        schema: Name and version of this shape.
        books: One entry for each book asked.
    """

    schema: Literal["marram.search/1"] = "marram.search/1"
    books: tuple[SearchShape, ...]


class SearchEvents(Answer, frozen=True, kw_only=True):
    """What may happen in a search.

    Attributes:
        schema: Name and version of this shape.
        events: Names of the events.
    """

    schema: Literal["marram.search-events/1"] = "marram.search-events/1"
    events: tuple[str, ...]


def search_answers(timed: Iterable[SearchTimed]) -> SearchAnswers:
    """Where a search stands under each book."""
    return SearchAnswers(books=tuple(map(_under, timed)))


def search_events(names: tuple[str, ...]) -> SearchEvents:
    """What may happen in a search."""
    return SearchEvents(events=names)


def _under(timed: SearchTimed) -> SearchShape:
    answer = timed.answer
    return SearchShape(
        book=answer.book,
        stamp=answer.stamp,
        state=answer.state.value,
        limit_s=answer.limit_s,
        searched_s=answer.searched_s,
        left_s=answer.left_s,
        other_ball=answer.other_ball.value,
        penalty_strokes=answer.penalty_strokes,
        says=answer.says,
        not_stated=answer.not_stated,
        citations=citation_shapes(answer.citations),
        moved=UNSET if timed.moved is None else _moved(timed.moved),
        facts_not_read=timed.facts_not_read,
    )


def _moved(moved: MovedInSearch) -> MovedShape:
    return MovedShape(
        by=moved.mover.value,
        acts=tuple(map(act_shape, moved.acts)),
        situations=moved.situations,
        citations=citation_shapes(moved.citations),
    )
