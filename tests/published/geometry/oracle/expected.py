"""What the oracle answers: the procedures that are open, with where each of them lets the ball be dropped."""

from __future__ import annotations

from dataclasses import dataclass

from shapely.geometry.base import BaseGeometry

from tests.published.geometry.oracle.ground import XY
from tests.published.geometry.oracle.nearest import Nearest, Relief


@dataclass(frozen=True, kw_only=True)
class Expected:
    """One procedure that is open.

    Attributes:
        procedure: Its name.
        strokes: Penalty strokes.
        points: Reference points; none where there is none or the search below tells.
        maybe_points: Points that the outline's own rounding may add or take away, each with how far it may move.
        area: Where the ball may be dropped; None where no area is measured.
        line: Stretches of the line back that may be used; None where there is no line.
        relief: The search for the nearest point of complete relief; None where the procedure is about no condition.
        found: What the search found.
        reach_m: Size of the relief area about that point.
        hole_and_ground: The hole, and the ground that the procedure allows, for lines and for areas about one of several points.
        most_relief: Whether there is no clear place, so that a point of most relief takes its place.
        is_sure: Whether the procedure is surely open.
    """

    procedure: str
    strokes: int
    points: tuple[XY, ...] = ()
    maybe_points: tuple[tuple[XY, float], ...] = ()
    area: BaseGeometry | None = None
    line: tuple[tuple[float, float], ...] | None = None
    relief: Relief | None = None
    found: Nearest | None = None
    reach_m: float = 0.0
    hole_and_ground: tuple[XY, BaseGeometry] | None = None
    most_relief: bool = False
    is_sure: bool = True


@dataclass(frozen=True, kw_only=True)
class Answer:
    """All that is open.

    Attributes:
        options: The procedures.
        unsure: Why nothing should be held against anybody.
        must_ask: Whether the mark that was crossed has to be asked about first.
        may_ask: Whether it may be.
    """

    options: tuple[Expected, ...] = ()
    unsure: str = ""
    must_ask: bool = False
    may_ask: bool = False
