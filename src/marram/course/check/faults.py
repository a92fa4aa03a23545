"""Faults of a surveyed course: what a check lists, what it means and what would put it right."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from marram.course.frame import Position


class FaultKind(StrEnum):
    """What is wrong with a feature, a hole or the whole survey."""

    NO_BOUNDARY = "no-boundary"
    BOUNDARY_ASSUMED = "boundary-assumed"
    BOUNDARY_IN_PIECES = "boundary-in-pieces"
    OUTSIDE_BOUNDARY = "outside-boundary"
    OPEN_RING = "open-ring"
    SELF_CROSSING = "self-crossing"
    OVERLAP = "overlap"
    NO_WIDTH = "no-width"
    MANY_CORNERS = "many-corners"
    MISSING_HOLE = "missing-hole"
    MISSING_LINE = "missing-line"
    MISSING_GREEN = "missing-green"
    MISSING_TEE = "missing-tee"
    MISSING_LOCATION = "missing-location"
    LOCATION_ASSUMED = "location-assumed"
    LOCATION_OFF_GREEN = "location-off-green"
    LOCATION_IN_WATER = "location-in-water"
    LINE_OFF_GREEN = "line-off-green"
    LINE_OFF_TEE = "line-off-tee"
    SERVES_NO_HOLE = "serves-no-hole"
    SEVERAL_FOR_HOLE = "several-for-hole"
    STROKE_INDEX = "stroke-index"
    STROKE_INDEX_ORDER = "stroke-index-order"
    UNMARKED_WATER = "unmarked-water"
    WIDTH_ASSUMED = "width-assumed"
    ACCURACY_UNKNOWN = "accuracy-unknown"
    PAR = "par"
    LEFT_OUT = "left-out"


_NOTED = frozenset(
    {
        FaultKind.OVERLAP,
        FaultKind.MANY_CORNERS,
        FaultKind.OUTSIDE_BOUNDARY,
        FaultKind.SELF_CROSSING,
        FaultKind.OPEN_RING,
        FaultKind.STROKE_INDEX_ORDER,
        FaultKind.WIDTH_ASSUMED,
        FaultKind.LEFT_OUT,
        FaultKind.BOUNDARY_IN_PIECES,
    }
)


class Weight(StrEnum):
    """How a fault weighs: it stops rulings, it asks for a decision, or it is known and harmless."""

    STOPS = "stops"
    ASKS = "asks"
    NOTES = "notes"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One fault of a course.

    Attributes:
        kind: What is wrong.
        feature: Name of the feature; ``hole 7`` where a hole lacks something, empty where it is the whole survey.
        at: A place to go and look at; None where there is none.
        message: What is wrong, in one sentence with its numbers.
        remedy: What would put it right.
        stops_rulings: Whether rulings cannot be given, or not relied on, where the fault lies.
        holes: Numbers of the holes that it touches; empty where all or none.
    """

    kind: FaultKind
    feature: str
    at: Position | None
    message: str
    remedy: str
    stops_rulings: bool
    holes: tuple[int, ...] = ()

    @property
    def weight(self) -> Weight:
        """How the fault weighs."""
        if self.stops_rulings:
            return Weight.STOPS
        return Weight.NOTES if self.kind in _NOTED else Weight.ASKS


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOut:
    """What a source held and the course does not.

    Attributes:
        what: A plain noun, such as ``building``.
        why: Why it was left out.
        names: The things by their names in the source, all of them.
    """

    what: str
    why: str
    names: tuple[str, ...]
