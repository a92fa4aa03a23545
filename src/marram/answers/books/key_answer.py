"""What books say under a key, as outsiders read it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Literal

from marram.answers.citation_answer import CitationShape, citation_shapes
from marram.answers.shape import Answer, Shape

if TYPE_CHECKING:
    from marram.office.books.show_key import KeyShown, QuestionShown, SideShown

PlainShape = bool | int | float | str | list[Any] | dict[str, Any] | None
"""A value as files write it: yes or no, a number, a word, words or cases, a size or that there is none."""


class KeySideShape(Shape, frozen=True, kw_only=True):
    """What one book says under a key.

    Attributes:
        value: Its value as files write it; null where it has none.
        why_none: Why it has none; empty where it has one.
        citations: Its rules.
    """

    value: PlainShape
    why_none: str
    citations: tuple[CitationShape, ...]


class BookSideShape(KeySideShape, frozen=True, kw_only=True):
    """A book, and what it says under a key.

    Attributes:
        book: The book.
        stamp: Its stamp.
        value: Its value as files write it; null where it has none.
        why_none: Why it has none; empty where it has one.
        citations: Its rules.
    """

    book: str
    stamp: str


class BookKeyAnswer(Answer, frozen=True, kw_only=True):
    """What each book says under a key.

    Attributes:
        schema: Name and version of this shape.
        key: The key.
        row_means: What its row is about.
        means: What the key means.
        type: What kind of value it takes.
        unit: Its unit; empty where it has none.
        words: The words that it takes; empty where it takes others.
        books: One entry for each book asked.
    """

    schema: Literal["marram.book-key/1"] = "marram.book-key/1"
    key: str
    row_means: str
    means: str
    type: str
    unit: str
    words: tuple[str, ...]
    books: tuple[BookSideShape, ...]


class BookAsks(Shape, frozen=True, kw_only=True):
    """How a book asks for a fact.

    Attributes:
        book: The book.
        stamp: Its stamp.
        question: Its question.
    """

    book: str
    stamp: str
    question: str


class BookQuestionAnswer(Answer, frozen=True, kw_only=True):
    """How each book asks for a fact.

    Attributes:
        schema: Name and version of this shape.
        key: The key.
        fact: The fact whose question it names.
        books: One entry for each book asked.
    """

    schema: Literal["marram.book-question/1"] = "marram.book-question/1"
    key: str
    fact: str
    books: tuple[BookAsks, ...]


def key_side_shape(side: SideShown) -> KeySideShape:
    """What one book says, with its rules."""
    return KeySideShape(value=side.value, why_none=side.why_none, citations=citation_shapes(side.citations))


def book_key_answer(shown: KeyShown) -> BookKeyAnswer:
    """What each book says under a key."""
    return BookKeyAnswer(
        key=shown.key,
        row_means=shown.row_means,
        means=shown.means,
        type=shown.type,
        unit=shown.unit,
        words=shown.words,
        books=tuple(
            BookSideShape(
                book=book.name,
                stamp=book.stamp,
                value=side.value,
                why_none=side.why_none,
                citations=citation_shapes(side.citations),
            )
            for book, side in shown.under
        ),
    )


def book_question_answer(shown: QuestionShown) -> BookQuestionAnswer:
    """How each book asks for a fact."""
    asked = (BookAsks(book=book.name, stamp=book.stamp, question=question) for book, question in shown.under)
    return BookQuestionAnswer(key=shown.key, fact=shown.fact, books=tuple(asked))
