"""An error as outsiders read it."""

from __future__ import annotations

from typing import Literal

from marram.answers.citation_answer import CitationShape, citation_shapes
from marram.answers.shape import UNSET, Answer, Shape, UnsetType
from marram.core.errors import FactsNeeded, MarramError


class FactNeededShape(Shape, frozen=True, kw_only=True):
    """A fact that nothing can be said without.

    Attributes:
        fact: Name of the fact.
        question: The question that settles it.
    """

    fact: str
    question: str


class ErrorShape(Shape, frozen=True, kw_only=True):
    """What is wrong, where, and what to do.

    Attributes:
        code: Kind of the error.
        message: What is wrong.
        where: The file, key, hole or row.
        field: The field that was filled in wrongly; left out where none was, and where it is told in `where` as it was typed.
        hint: What would be right.
        citations: The rules that the message rests on; left out where it rests on none.
        facts_needed: The facts to be stated first; left out where none are missing.
    """

    code: str
    message: str
    where: str
    field: str | UnsetType = UNSET
    hint: str
    citations: tuple[CitationShape, ...] | UnsetType = UNSET
    facts_needed: tuple[FactNeededShape, ...] | UnsetType = UNSET


class ErrorAnswer(Answer, frozen=True, kw_only=True):
    """An error in the place of an answer.

    Attributes:
        schema: Name and version of this shape.
        error: What is wrong.
    """

    schema: Literal["marram.error/1"] = "marram.error/1"
    error: ErrorShape


def error_answer(error: MarramError) -> ErrorAnswer:
    """An error of Marram's own as outsiders read it."""
    asked = error.questions if isinstance(error, FactsNeeded) else None
    return ErrorAnswer(
        error=ErrorShape(
            code=error.code,
            message=error.message,
            where=error.where,
            field=error.field or UNSET,
            hint=error.hint,
            citations=citation_shapes(error.citations) if error.citations else UNSET,
            facts_needed=UNSET if asked is None else tuple(FactNeededShape(fact=fact, question=question) for fact, question in asked),
        )
    )


def usage_answer(message: str, *, where: str, hint: str) -> ErrorAnswer:
    """What is wrong with a request that cannot be read."""
    return ErrorAnswer(error=ErrorShape(code="usage", message=message, where=where, hint=hint))
