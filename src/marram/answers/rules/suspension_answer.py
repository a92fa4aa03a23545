"""What to do when play is stopped, as outsiders read it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from marram.answers.citation_answer import CitationShape, citation_shapes
from marram.answers.rules.act_answer import ActShape, act_shape
from marram.answers.shape import Answer, Shape

if TYPE_CHECKING:
    from collections.abc import Iterable

    from marram.rulings.acts.suspension import SuspensionAnswer


class SuspensionShape(Shape, frozen=True, kw_only=True):
    """What a book says of play that is stopped.

    Attributes:
        book: The book.
        stamp: Its stamp.
        signal: Why play stops.
        may_finish_hole: Whether a hole begun may be played out.
        cautions: What comes before anything else.
        now: What everybody does now, in order.
        then: What holds while play is stopped and when it goes on.
        acts: What it costs to break it.
        citations: The rules.
    """

    book: str
    stamp: str
    signal: str
    may_finish_hole: bool
    cautions: tuple[str, ...]
    now: tuple[str, ...]
    then: tuple[str, ...]
    acts: tuple[ActShape, ...]
    citations: tuple[CitationShape, ...]


class SuspensionAnswers(Answer, frozen=True, kw_only=True):
    """What to do when play is stopped, and how it goes on, under each book.

    Attributes:
        schema: Name and version of this shape.
        books: One entry for each book asked.
    """

    schema: Literal["marram.suspension/1"] = "marram.suspension/1"
    books: tuple[SuspensionShape, ...]


def suspension_answers(answers: Iterable[SuspensionAnswer]) -> SuspensionAnswers:
    """What to do when play is stopped, under each book."""
    return SuspensionAnswers(books=tuple(map(_under, answers)))


def _under(answer: SuspensionAnswer) -> SuspensionShape:
    return SuspensionShape(
        book=answer.book,
        stamp=answer.stamp,
        signal=answer.signal.value,
        may_finish_hole=answer.may_finish_hole,
        cautions=tuple(caution.text for caution in answer.cautions),
        now=answer.now,
        then=answer.then,
        acts=tuple(map(act_shape, answer.acts)),
        citations=citation_shapes(answer.citations),
    )
