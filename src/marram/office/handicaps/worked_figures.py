"""What every job of handicaps gives: a figure under a book, before and after rounding, how it came about, and the rules."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from marram.core.citations import Citation
from marram.handicaps.rounding import Figure, in_decimals
from marram.handicaps.written_handicaps import tell_handicap
from marram.rulebook.book import Book

SHOWN_DECIMALS = 4
"""Decimals to which a figure before rounding is told in words; it is kept exactly."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleWorkedOut:
    """A hole with its strokes.

    Attributes:
        place: Its place in the list that was given, from 1.
        stroke_index: Its stroke index.
        strokes: Strokes received; below zero where one is given.
        par: Its par; None where it was not asked for.
        most: The most that it counts for handicap; None where it was not asked for.
        gross: Strokes played; None where none are known.
        counts: What it counts for handicap; None where no card was given, or nothing is entered for it.
        is_played: Whether it was played, as far as is known.
    """

    place: int
    stroke_index: int
    strokes: int
    par: int | None = None
    most: int | None = None
    gross: int | None = None
    counts: int | None = None
    is_played: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayerWorkedOut:
    """A player's Playing Handicap among others.

    Attributes:
        course_handicap: His Course Handicap before rounding.
        figure: His Playing Handicap.
        receives: Strokes received in the match.
    """

    course_handicap: Fraction
    figure: Figure
    receives: int

    @property
    def given(self) -> str:
        """His Course Handicap before rounding, as it is written."""
        return number_words(self.course_handicap).replace("-", "+")

    @property
    def shown(self) -> str:
        """His Playing Handicap as it is written."""
        return tell_handicap(self.figure.value)


@dataclass(frozen=True, slots=True, kw_only=True)
class HandicapWorkedOut:
    """A figure under a book.

    Attributes:
        book: Name of the book.
        stamp: Its stamp.
        called: What the figure is called.
        figure: The figure, before and after rounding.
        decimals: Decimals to which it is rounded.
        is_handicap: Whether it is told as handicaps are, with a plus for strokes given.
        says: How it came about.
        citations: The rules.
        holes: Holes with their strokes, where it is laid on holes.
        players: Players among whom it is shared out, where there are several.
        is_none: Whether what was given comes to no figure at all; the figure is then that of the parts.
    """

    book: str
    stamp: str
    called: str
    figure: Figure
    decimals: int
    is_handicap: bool
    says: tuple[str, ...]
    citations: tuple[Citation, ...]
    holes: tuple[HoleWorkedOut, ...] = ()
    players: tuple[PlayerWorkedOut, ...] = ()
    is_none: bool = False

    @property
    def shown(self) -> str:
        """The figure as it is written."""
        return "none" if self.is_none else shown(self.figure.value, self.decimals, is_handicap=self.is_handicap)

    @property
    def shown_unrounded(self) -> str:
        """The figure before rounding, to four decimals, without noughts at the end."""
        return number_words(self.figure.unrounded)


def shown(value: Fraction, decimals: int, *, is_handicap: bool) -> str:
    """A figure as it is written."""
    return tell_handicap(value, decimals) if is_handicap else in_decimals(value, decimals)


def number_words(value: Fraction) -> str:
    """A number to four decimals at most, without noughts at the end, such as ``13.2195`` or ``-0.6``."""
    told = in_decimals(value, SHOWN_DECIMALS)
    return told.rstrip("0").rstrip(".")


def worked_out(
    book: Book, called: str, figure: Figure, decimals: int, says: tuple[str, ...], citations: tuple[Citation, ...]
) -> HandicapWorkedOut:
    """A handicap under a book."""
    return HandicapWorkedOut(
        book=book.name,
        stamp=book.stamp,
        called=called,
        figure=figure,
        decimals=decimals,
        is_handicap=True,
        says=says,
        citations=citations,
    )
