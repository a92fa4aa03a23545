"""Where a drop stands, as outsiders read it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from marram.answers.citation_answer import CitationShape, citation_shapes
from marram.answers.rules.consequence_answer import in_form_object
from marram.answers.shape import Answer, Shape
from marram.rulings.drop.dropping import DropAnswer
from marram.rulings.drop.states import DropEvent


class DropMatchPlay(Shape, frozen=True, kw_only=True):
    """What the drop has cost in match play.

    Attributes:
        strokes: Penalty strokes.
        hole: `lost`, or empty.
    """

    strokes: int
    hole: str


class DropCost(Shape, frozen=True, kw_only=True):
    """What playing the ball from where it is now would cost.

    Attributes:
        stroke_play: In stroke play; null where it cannot happen there.
        match_play: In match play; null where it cannot happen there.
    """

    stroke_play: dict[str, int | str | bool | None] | None
    match_play: dict[str, int | str | bool | None] | None


class DropShape(Shape, frozen=True, kw_only=True):
    """A drop under one book.

    Attributes:
        book: The book.
        stamp: Its stamp.
        procedure: The relief that is dropped for; empty where none was named.
        state: How far the drop has come.
        instruction: What to do next.
        drops_counted: Drops made so far that count.
        penalty_strokes: Penalty strokes of the drop so far, in stroke play.
        match_play: The same in match play.
        if_played: What playing now would cost; null where the ball is not to be played.
        can_follow: Events that may come next.
        citations: The rules.
    """

    book: str
    stamp: str
    procedure: str
    state: str
    instruction: str
    drops_counted: int
    penalty_strokes: int
    match_play: DropMatchPlay
    if_played: DropCost | None
    can_follow: tuple[str, ...]
    citations: tuple[CitationShape, ...]


class DropAnswers(Answer, frozen=True, kw_only=True):
    """Where a drop stands and what to do next, under each book.

    Attributes:
        schema: Name and version of this shape.
        books: One entry for each book asked.
    """

    schema: Literal["marram.drop/1"] = "marram.drop/1"
    books: tuple[DropShape, ...]


class DropEvents(Answer, frozen=True, kw_only=True):
    """The events of a drop.

    Attributes:
        schema: Name and version of this shape.
        events: Names of the events.
    """

    schema: Literal["marram.drop-events/1"] = "marram.drop-events/1"
    events: tuple[str, ...]


def drop_answers(answers: Iterable[DropAnswer]) -> DropAnswers:
    """Where a drop stands under each book."""
    return DropAnswers(books=tuple(map(_under, answers)))


def drop_events() -> DropEvents:
    """The events of a drop."""
    return DropEvents(events=tuple(event.value for event in DropEvent))


def _under(answer: DropAnswer) -> DropShape:
    drop, cost = answer.drop, answer.if_played
    return DropShape(
        book=answer.book,
        stamp=answer.stamp,
        procedure=answer.procedure,
        state=drop.stage.value,
        instruction=answer.instruction,
        drops_counted=drop.counted,
        penalty_strokes=drop.penalty_strokes,
        match_play=DropMatchPlay(strokes=drop.match_strokes, hole="lost" if drop.loses_hole else ""),
        if_played=None
        if cost is None
        else DropCost(stroke_play=in_form_object(cost.in_stroke_play), match_play=in_form_object(cost.in_match_play)),
        can_follow=answer.can_follow,
        citations=citation_shapes(answer.citations),
    )
