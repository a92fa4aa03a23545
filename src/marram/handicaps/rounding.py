"""The one rounding of handicaps: to the nearest, and an exact half goes up, for plus handicaps and negative differentials too."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import floor

_HALF = Fraction(1, 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A figure that was worked out, before and after rounding.

    Attributes:
        value: As it is used.
        unrounded: As the formula gives it, exactly.
    """

    value: Fraction
    unrounded: Fraction

    @property
    def whole(self) -> int:
        """The value of a figure that is rounded to a whole number."""
        return int(self.value)


def round_half_up(value: Fraction | Decimal | int, decimals: int = 0) -> Fraction:
    """Round as handicaps are rounded: to the nearest, and an exact half goes up (toward plus), as -0.5 to 0 and -1.55 to -1.5.

    Args:
        value: What is rounded, exactly; a binary fraction has lost its halves already and is not taken.
        decimals: So many decimals are kept.

    Source:
        Rules of Handicapping 2020, Rule 5.1c (negative differentials); Rules of Handicapping 2024, Rules 5.1a, 6.1 and 6.2a.
    """
    scale = 10**decimals
    return Fraction(floor(Fraction(value) * scale + _HALF), scale)


def round_whole(value: Fraction | Decimal | int) -> int:
    """Round to a whole number of strokes, halves upward."""
    return int(round_half_up(value))


def rounded(value: Fraction, decimals: int = 0) -> Figure:
    """A figure with what it was before it was rounded."""
    return Figure(value=round_half_up(value, decimals), unrounded=value)


def as_written(number: float) -> Fraction:
    """A number of the rule data as it is written there: 0.85 is 85/100, and not the binary number beside it."""
    return Fraction(repr(number))


def in_decimals(value: Fraction, decimals: int) -> str:
    """A number with so many decimals, such as ``13.2195``; halves upward as in everything here."""
    scaled = int(round_half_up(value, decimals) * 10**decimals)
    whole, rest = divmod(abs(scaled), 10**decimals)
    sign = "-" if scaled < 0 else ""
    return f"{sign}{whole}.{rest:0{decimals}d}" if decimals else f"{sign}{whole}"
