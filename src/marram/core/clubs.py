"""Lengths told with a player's own clubs, as they are measured on the ground: so many clubs laid down, and some inches."""

from __future__ import annotations

from marram.core.units import INCH_M

USUAL_CLUBS = (("driver", 45.0), ("hybrid", 40.0), ("middle iron", 37.5), ("wedge", 35.5))
"""Names and usual lengths of clubs, inches: common practice; a player measures with the club in hand."""
LONGEST_CLUBS = (("longest club", 46.0), ("longest club", 45.0), ("longest club", 44.0), ("longest club", 43.0))
"""Usual lengths of the longest club other than a putter, inches: common practice."""
_COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_CLOSE_IN = 0.25
_NEARLY = 0.8
"""From here on a length is told as a club less some inches."""


def told_in_clubs(length_m: float, club_in: float) -> str:
    """A length as a number of clubs and what is over, to the half inch.

    Args:
        length_m: The length, metres.
        club_in: Length of the club, inches.

    Returns:
        Words such as ``two of a 39-inch club and 2 in``.

    Raises:
        ValueError: A length is not above zero.
    """
    if length_m <= 0 or club_in <= 0:
        raise ValueError("lengths are above zero")
    length_in = length_m / INCH_M
    count = int((length_in + _CLOSE_IN) // club_in)
    over_in = round(2 * (length_in - count * club_in)) / 2
    if count == 0 and over_in < _NEARLY * club_in:
        return f"{_inches(over_in)} of a {club_in:g}-inch club"
    if over_in > club_in / 2:
        return f"{_number(count + 1)} of a {club_in:g}-inch club less {_inches(club_in - over_in)}"
    over = f" and {_inches(over_in)}" if over_in > 0 else ""
    return f"{_number(count)} of a {club_in:g}-inch club{over}"


def _number(count: int) -> str:
    return _COUNTS[count] if count < len(_COUNTS) else str(count)


def _inches(inches: float) -> str:
    return f"{inches:g} in"
