"""Reads the values of one set of rules from a handicap book and keeps every citation behind them."""

from __future__ import annotations

from fractions import Fraction
from typing import TypeVar

from marram.core.citations import Citation, Cited, merged
from marram.handicaps.rounding import as_written
from marram.rulebook.book import Book

T = TypeVar("T")


class RuleReader:
    """Looks up values and gathers the rules that they stand in."""

    def __init__(self, book: Book) -> None:
        """Take the book."""
        self.book = book
        self._cited: list[tuple[Citation, ...]] = []

    @property
    def citations(self) -> tuple[Citation, ...]:
        """The rules behind everything that was looked up, each once."""
        return merged(*self._cited)

    def exact(self, key: str) -> Fraction:
        """A number as it is written."""
        return as_written(self._kept(self.book.number(key)))

    def whole(self, key: str) -> int:
        """A whole number."""
        return int(self.exact(key))

    def share(self, key: str) -> Fraction:
        """A number of per cent as a share of one."""
        return self.exact(key) / 100

    def yes(self, key: str) -> bool:
        """A yes or no."""
        return self._kept(self.book.yes(key))

    def word(self, key: str) -> str:
        """A word of a closed list."""
        return self._kept(self.book.word(key))

    def words(self, key: str) -> tuple[str, ...]:
        """Words of a closed list."""
        return self._kept(self.book.words(key))

    def rows(self, family: str) -> tuple[str, ...]:
        """The rows of a family that the book has."""
        return tuple(row for row in self.book.catalogue.rows_of(family) if self.book.has_row(row))

    def _kept(self, found: Cited[T]) -> T:
        self._cited.append(found.citations)
        return found.value
