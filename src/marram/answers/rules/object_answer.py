"""What a thing met on the course is, as outsiders read it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from marram.answers.citation_answer import CitationShape, citation_shapes
from marram.answers.rules.act_answer import ActShape, act_shape
from marram.answers.shape import Answer, Shape

if TYPE_CHECKING:
    from collections.abc import Iterable

    from marram.office.play.name_thing import ThingRuled
    from marram.rulings.acts.acts import ActAnswer
    from marram.rulings.acts.objects import OtherKind


class KindShape(Shape, frozen=True, kw_only=True):
    """What a thing is.

    Attributes:
        kind: What it is in the terms of the rule data.
        term: What the edition calls that.
        may_be_moved: Whether it may be moved: `yes`, `no` or `not-in-question`.
    """

    kind: str
    term: str
    may_be_moved: str


class OtherKindShape(Shape, frozen=True, kw_only=True):
    """What a thing is instead, if the answer to a question is yes.

    Attributes:
        fact: The fact that is not settled yet.
        question: The question that settles it.
        then: What the thing then is.
    """

    fact: str
    question: str
    then: KindShape


class ObjectShape(Shape, frozen=True, kw_only=True):
    """What a book says of a thing.

    Attributes:
        book: The book.
        stamp: Its stamp.
        object: Name of the thing.
        means: What the thing is.
        kind: What it is in the terms of the rule data.
        term: What the edition calls that.
        may_be_moved: Whether it may be moved here and now: `yes`, `no` or `not-in-question`.
        if_moved: What moving it leads to; null where that costs nothing and no act speaks of it.
        if_ball_moves: What follows where the ball moves with it.
        if_put_back: What follows where it is put back before the stroke.
        if_moved_before_replacing: What follows from moving it before a ball is put back.
        if_ball_in_motion: What follows from moving it to affect a ball in motion.
        relief_situations: Situations to rule on where it stays in the way.
        advice: What the official tells besides; it decides nothing.
        holds_unless: Facts not stated that would make it something else.
        depends_on: What each of these would make of it.
        cautions: What comes before anything else.
        citations: The rules on what it is and on moving it.
        facts_not_read: Facts stated that the book does not read.
    """

    book: str
    stamp: str
    object: str
    means: str
    kind: str
    term: str
    may_be_moved: str
    if_moved: ActShape | None
    if_ball_moves: ActShape | None
    if_put_back: ActShape | None
    if_moved_before_replacing: ActShape | None
    if_ball_in_motion: ActShape | None
    relief_situations: tuple[str, ...]
    advice: str
    holds_unless: tuple[str, ...]
    depends_on: tuple[OtherKindShape, ...]
    cautions: tuple[str, ...]
    citations: tuple[CitationShape, ...]
    facts_not_read: tuple[str, ...]


class ObjectAnswers(Answer, frozen=True, kw_only=True):
    """What a thing is, whether it may be moved, and what follows, under each book.

    Attributes:
        schema: Name and version of this shape.
        books: One entry for each book asked.
    """

    schema: Literal["marram.object/1"] = "marram.object/1"
    books: tuple[ObjectShape, ...]


class FoundObjectShape(Shape, frozen=True, kw_only=True):
    """A thing that speaks of the words.

    Attributes:
        object: Its name.
        means: What it is.
    """

    object: str
    means: str


class ObjectsFound(Answer, frozen=True, kw_only=True):
    """Things that speak of some words, those that fit best first.

    Attributes:
        schema: Name and version of this shape.
        objects: The things.
    """

    schema: Literal["marram.objects-found/1"] = "marram.objects-found/1"
    objects: tuple[FoundObjectShape, ...]


def object_answers(ruled: Iterable[ThingRuled]) -> ObjectAnswers:
    """What a thing is under each book."""
    return ObjectAnswers(books=tuple(map(_under, ruled)))


def objects_found(found: Iterable[tuple[str, str]]) -> ObjectsFound:
    """Things that were found, with what they mean."""
    return ObjectsFound(objects=tuple(FoundObjectShape(object=thing, means=means) for thing, means in found))


def _under(ruled: ThingRuled) -> ObjectShape:
    answer = ruled.answer
    return ObjectShape(
        book=answer.book,
        stamp=answer.stamp,
        object=answer.thing,
        means=answer.means,
        kind=answer.kind,
        term=answer.term,
        may_be_moved=answer.may_be_moved.value,
        if_moved=_act(answer.moved),
        if_ball_moves=_act(answer.ball_moves),
        if_put_back=_act(answer.put_back),
        if_moved_before_replacing=_act(answer.before_replacing),
        if_ball_in_motion=_act(answer.ball_in_motion),
        relief_situations=answer.relief,
        advice=answer.advice,
        holds_unless=answer.holds_unless,
        depends_on=tuple(map(_other, answer.others)),
        cautions=tuple(caution.text for caution in answer.cautions),
        citations=citation_shapes(answer.citations),
        facts_not_read=ruled.facts_not_read,
    )


def _act(answer: ActAnswer | None) -> ActShape | None:
    return None if answer is None else act_shape(answer)


def _other(other: OtherKind) -> OtherKindShape:
    then = KindShape(kind=other.kind, term=other.term, may_be_moved=other.may_be_moved.value)
    return OtherKindShape(fact=other.fact, question=other.question, then=then)
