"""What differs between two books, as outsiders read it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from marram.answers.books.key_answer import KeySideShape, key_side_shape
from marram.answers.shape import Answer, Shape
from marram.core.terms import ADVICE

if TYPE_CHECKING:
    from marram.office.books.compare_two import Comparison, KeyApart


class BookStamped(Shape, frozen=True, kw_only=True):
    """A book.

    Attributes:
        book: Its name.
        stamp: Its stamp.
    """

    book: str
    stamp: str


class HeadingCount(Shape, frozen=True, kw_only=True):
    """How much differs under a heading.

    Attributes:
        group: The heading.
        count: How many differences stand under it.
    """

    group: str
    count: int


class DifferenceCounts(Shape, frozen=True, kw_only=True):
    """How much differs.

    Attributes:
        all: How many differences there are.
        groups: The same by heading.
    """

    all: int
    groups: tuple[HeadingCount, ...]


class DifferenceShape(Shape, frozen=True, kw_only=True):
    """A key on which the books differ.

    Attributes:
        key: The key.
        situation: The section of the rule data in which it stands.
        means: What it means.
        unit: Its unit; empty where it has none.
        first: What the first book says.
        second: What the second book says.
        group: The heading under which it is told.
        sentence: The sentence that tells it.
        together: Other keys that the same sentence tells.
    """

    key: str
    situation: str
    means: str
    unit: str
    first: KeySideShape
    second: KeySideShape
    group: str
    sentence: str
    together: tuple[str, ...]


class BookComparisonAnswer(Answer, frozen=True, kw_only=True):
    """Every key on which two books differ, with both values and the sentence that tells it.

    Attributes:
        schema: Name and version of this shape.
        advice: Who decides.
        books: The two books.
        counts: How much differs.
        differences: The keys that differ, in the order of the rule data.
    """

    schema: Literal["marram.book-comparison/1"] = "marram.book-comparison/1"
    advice: str
    books: tuple[BookStamped, ...]
    counts: DifferenceCounts
    differences: tuple[DifferenceShape, ...]


def book_comparison_answer(found: Comparison) -> BookComparisonAnswer:
    """Every key that differs, with both values and the sentence that tells it."""
    told = found.told
    groups = tuple(HeadingCount(group=group.title, count=len(group.told)) for group in told.groups)
    return BookComparisonAnswer(
        advice=ADVICE,
        books=tuple(BookStamped(book=book.name, stamp=book.stamp) for book in found.books),
        counts=DifferenceCounts(all=len(told.told), groups=groups),
        differences=tuple(map(_difference, found.keys)),
    )


def _difference(entry: KeyApart) -> DifferenceShape:
    return DifferenceShape(
        key=entry.key,
        situation=entry.situation,
        means=entry.means,
        unit=entry.unit,
        first=key_side_shape(entry.first),
        second=key_side_shape(entry.second),
        group=entry.told.group,
        sentence=entry.told.sentence,
        together=tuple(key for key in entry.told.keys if key != entry.key),
    )
