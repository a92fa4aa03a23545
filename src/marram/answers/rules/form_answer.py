"""What is so in a form of play, as outsiders read it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from marram.answers.citation_answer import CitationShape, citation_shapes
from marram.answers.shape import Answer, Shape

if TYPE_CHECKING:
    from collections.abc import Iterable

    from marram.office.play.tell_form import FormsListed
    from marram.rulings.acts.form_of_play import FormAnswer, FormLine


class FormLineShape(Shape, frozen=True, kw_only=True):
    """One thing that is so in a form of play.

    Attributes:
        happens: What it is about.
        says: What is so, in words.
        values: The values of the rule data behind it, by part.
        citations: The rules.
    """

    happens: str
    says: str
    values: dict[str, str | bool | int | float | tuple[str, ...]]
    citations: tuple[CitationShape, ...]


class FormShape(Shape, frozen=True, kw_only=True):
    """What a book says of a form of play.

    Attributes:
        book: The book.
        stamp: Its stamp.
        form: The form.
        means: What the form is.
        why_none: Why the book has no such form; empty where it has.
        lines: What is so in it.
        not_stated: What was asked and the book does not state.
    """

    book: str
    stamp: str
    form: str
    means: str
    why_none: str
    lines: tuple[FormLineShape, ...]
    not_stated: tuple[str, ...]


class FormAnswers(Answer, frozen=True, kw_only=True):
    """What is so in a form of play, under each book.

    Attributes:
        schema: Name and version of this shape.
        books: One entry for each book asked.
    """

    schema: Literal["marram.form/1"] = "marram.form/1"
    books: tuple[FormShape, ...]


class Forms(Answer, frozen=True, kw_only=True):
    """The forms of play, and what may be asked of them.

    Attributes:
        schema: Name and version of this shape.
        forms: Names of the forms.
        happens: What may be asked.
    """

    schema: Literal["marram.forms/1"] = "marram.forms/1"
    forms: tuple[str, ...]
    happens: tuple[str, ...]


def form_answers(answers: Iterable[FormAnswer]) -> FormAnswers:
    """What is so in the form under each book."""
    return FormAnswers(books=tuple(map(form_shape, answers)))


def form_list(listed: FormsListed) -> Forms:
    """The forms of play, and what may be asked of them."""
    return Forms(forms=listed.forms, happens=listed.happens)


def form_shape(answer: FormAnswer) -> FormShape:
    """What one book says of a form of play."""
    return FormShape(
        book=answer.book,
        stamp=answer.stamp,
        form=answer.form.value,
        means=answer.means,
        why_none=answer.why_none,
        lines=tuple(map(_line, answer.lines)),
        not_stated=tuple(happening.value for happening in answer.not_stated),
    )


def _line(line: FormLine) -> FormLineShape:
    return FormLineShape(happens=line.happening.value, says=line.says, values=dict(line.values), citations=citation_shapes(line.citations))
