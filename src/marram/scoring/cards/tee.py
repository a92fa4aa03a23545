"""Tees as a card is played from them: par and stroke index of each hole, and the ratings that handicaps need."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Tee:
    """A set of tee-markers.

    Attributes:
        name: Its name.
        par: Par of each hole, in the order of the holes.
        stroke_index: Stroke index of each hole; empty where none is stated.
        course_rating: Course Rating; None where none is stated.
        slope_rating: Slope Rating; None where none is stated.
    """

    name: str
    par: tuple[int, ...]
    stroke_index: tuple[int, ...] = ()
    course_rating: Fraction | None = None
    slope_rating: int | None = None

    @property
    def holes(self) -> int:
        """How many holes are played."""
        return len(self.par)

    @property
    def total_par(self) -> int:
        """Par of the round."""
        return sum(self.par)

    @property
    def is_rated(self) -> bool:
        """Whether a handicap can be worked out from an Index."""
        return self.course_rating is not None and self.slope_rating is not None
