"""Reads the values of one set of rules from a handicap book and keeps every citation behind them."""

from __future__ import annotations

from fractions import Fraction
from typing import TypeVar

from marram.core.citations import Citation, Cited, merged
from marram.core.errors import RuleDataError
from marram.handicaps.rounding import as_written
from marram.rulebook.book import Book

T = TypeVar("T")
_MOST, _MOST_DECIMALS = 10**9, 6


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

    def whole(self, key: str, *, least: int = 0, most: int = _MOST) -> int:
        """A whole number within limits.

        Raises:
            RuleDataError: An overlay has made it another.
        """
        found = self.exact(key)
        if found.denominator != 1 or not least <= found <= most:
            limits = f"{least} or more" if most == _MOST else f"{least} to {most}"
            raise RuleDataError(f"The book {self.book.name} holds {float(found):g}.", where=key, hint=f"Expected a whole number, {limits}.")
        return int(found)

    def decimals(self, figure: str) -> int:
        """Decimals to which a figure is rounded."""
        return self.whole(f"rounding.{figure}.decimals", most=_MOST_DECIMALS)

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
