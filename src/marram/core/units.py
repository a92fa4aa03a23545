"""Lengths as the rules state them, and the way from inches to metres."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

INCH_M = 0.0254
"""One inch in metres, exact by definition (international yard and pound agreement, 1959)."""

BALL_RADIUS_M = 1.68 * INCH_M / 2
"""Half the least diameter of a ball: 1.68 in (Rules of Golf, Equipment Rules, balls)."""


class LengthUnit(StrEnum):
    """The units in which a rule may state the size of a relief area."""

    CLUB_LENGTHS = "club_lengths"
    INCHES = "inches"
    METRES = "metres"


_WORDS = {
    LengthUnit.CLUB_LENGTHS: ("club-length", "club-lengths"),
    LengthUnit.INCHES: ("inch", "inches"),
    LengthUnit.METRES: ("metre", "metres"),
}
_COUNTS = {1: "one", 2: "two", 3: "three", 4: "four"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """How far a relief area reaches, as a rule states it."""

    amount: float
    unit: LengthUnit

    @property
    def needs_club(self) -> bool:
        """Whether the size is told in club-lengths."""
        return self.unit is LengthUnit.CLUB_LENGTHS

    def in_metres(self, club_length_m: float) -> float:
        """The size on the ground.

        Args:
            club_length_m: Length of the club that measures, metres; unused for a fixed length.
        """
        factor = {LengthUnit.CLUB_LENGTHS: club_length_m, LengthUnit.INCHES: INCH_M, LengthUnit.METRES: 1.0}
        return self.amount * factor[self.unit]

    @property
    def words(self) -> str:
        """The size in words, such as ``two club-lengths`` or ``80 inches``."""
        singular, plural = _WORDS[self.unit]
        count = f"{self.amount:g}"
        if self.unit is LengthUnit.CLUB_LENGTHS:
            count = _COUNTS.get(int(self.amount), count) if self.amount == int(self.amount) else count
        return f"{count} {singular if self.amount == 1 else plural}"
