"""One way that the rules allow, as outsiders read it: where exactly, how sure, and what else is in the way."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

import msgspec

from marram.answers.citation_answer import CitationShape, citation_shapes
from marram.answers.place_answer import (
    OutlineShape,
    PlaceShape,
    lonlat_of,
    outline_in_degrees,
    outline_in_metres,
    place_shape,
    rounded,
)
from marram.answers.rules.right_place_answer import RightPlaceShape, right_place_shape
from marram.answers.shape import Shape

if TYPE_CHECKING:  # what measures ground is loaded only where there is some
    from marram.core.terms import Area
    from marram.course.frame import Frame
    from marram.relief.area.area import ReliefArea
    from marram.relief.area.lines import LineBack
    from marram.rulings.case.met import Interference
    from marram.rulings.case.ruling import Doubt, Further, Option, Reference

_MOST_NAMED = 20
"""Of a condition that is made of more things only the nearest is named: paths of a whole course may hang together."""


class BallShape(Shape, frozen=True, kw_only=True):
    """Which ball is put in play, and how.

    Attributes:
        put: How it is put in play.
        which: Which ball may be used.
    """

    put: str
    which: str


class InterferenceShape(Shape, frozen=True, kw_only=True):
    """A condition in the player's way.

    Attributes:
        condition: What to call it.
        features: Names of the things that it is made of; the nearest alone where they are many.
        joined: How many things it is made of.
        depth_m: How far the player, or the ball's path, reaches into it, metres.
        parts: Which of ball, stance, swing and line of play it touches.
    """

    condition: str
    features: tuple[str, ...]
    joined: int
    depth_m: float | None
    parts: tuple[str, ...]


class ReferenceShape(PlaceShape, frozen=True, kw_only=True):
    """A reference point.

    Attributes:
        at: Longitude and latitude, degrees.
        x_m: Metres east in the course frame.
        y_m: Metres north in the course frame.
        kind: What it is, a word of the rule data.
        distance_m: Its distance from the ball's spot; null where the ball has none.
        clearance_m: Gap between player and condition there; null where no condition is involved.
        range_m: How far the point moves with the other clubs' stances; null where the stance plays no part.
    """

    kind: str
    distance_m: float | None
    clearance_m: float | None
    range_m: float | None


class AreaPartShape(Shape, frozen=True, kw_only=True):
    """The part of a relief area that lies in one area of the course.

    Attributes:
        area: The area of the course.
        area_m2: Its size, square metres.
        area_words: What the edition calls that area.
    """

    area: str
    area_m2: float
    area_words: str


class ReliefAreaShape(Shape, frozen=True, kw_only=True):
    """Where the ball is dropped and must come to rest.

    Attributes:
        area_m2: Its size, square metres.
        geometry: Its outline in degrees.
        geometry_m: Its outline in metres of the course frame.
        parts: What of it lies in which area of the course.
    """

    area_m2: float
    geometry: OutlineShape
    geometry_m: OutlineShape
    parts: tuple[AreaPartShape, ...]


class FanShape(Shape, frozen=True, kw_only=True):
    """How far a line back may run beside the one drawn, by the survey's accuracy.

    Attributes:
        back_m: So far back on the line.
        half_width_m: So far to either side.
    """

    back_m: float
    half_width_m: float


class LineShape(Shape, frozen=True, kw_only=True):
    """The line back from a point, straight away from the hole.

    Attributes:
        from: Where it begins.
        bearing_deg: Its bearing.
        intervals_m: Stretches that may be used, as distances from where it begins.
        fan: How far the true line may run beside it.
    """

    from_: PlaceShape = msgspec.field(name="from")
    bearing_deg: float
    intervals_m: tuple[tuple[float, float], ...]
    fan: tuple[FanShape, ...]


class EstimateShape(Shape, frozen=True, kw_only=True):
    """Where the option lies by somebody else's estimate.

    Attributes:
        reference: The reference point by that estimate.
        relief_area: The relief area by that estimate; null where no area is measured.
        overlap_m2: Ground that both areas have in common; null where there are not two areas.
        overlap: Its outline in degrees.
    """

    reference: PlaceShape
    relief_area: ReliefAreaShape | None
    overlap_m2: float | None
    overlap: OutlineShape | None


class FurtherShape(Shape, frozen=True, kw_only=True):
    """Another condition that is in the way once relief has been taken.

    Attributes:
        situation: The situation that gives relief from it.
        condition: What to call it.
        features: Names of the things within 5 m of the point.
        interference: How it is in the way of a ball at the point; null where it only lies under part of the relief area.
        area_on_it_m2: How much of the relief area lies on it, square metres; null where no area is measured.
        next_points: The next points of relief, from it.
        back_in_the_first: Whether the condition that relief was taken from is in the way again at the next point.
        citations: The rules.
    """

    situation: str
    condition: str
    features: tuple[str, ...]
    interference: InterferenceShape | None
    area_on_it_m2: float | None
    next_points: tuple[ReferenceShape, ...]
    back_in_the_first: bool
    citations: tuple[CitationShape, ...]


class OptionShape(Shape, frozen=True, kw_only=True):
    """One way that the rules allow.

    Attributes:
        procedure: The relief.
        carried_out_as: The relief by which it is carried out.
        title: What the edition calls it.
        interference: The condition in the way; null where the option is about none.
        further_interference: Other conditions in the way once relief has been taken.
        mandatory: Whether the ball may not be played as it lies.
        penalty_strokes: Penalty strokes in stroke play.
        ball: Which ball is put in play, and how.
        references: The reference points, all that are equally near; the chosen one first.
        relief_area: Where the ball is dropped; null where no area is measured or none is chosen yet.
        no_nearer_the_hole_than_m: The ball may not be nearer to the hole than this; null where nothing is measured.
        size_m: Size of the area on the ground; null where none is measured.
        size: The size as the rule states it.
        line: The line back; null where there is none.
        other_estimate: Where it lies by somebody else's estimate; null where there is none.
        roll_m: How far a dropped ball may roll, where the edition limits that instead of giving an area; else null.
        steps: What to do, in order.
        margin_m: Least distance by which what was decided holds; null where nothing was measured.
        accuracy_m: Survey accuracy that it is held against; null where unknown.
        measure_on_ground: Whether the survey is too coarse to decide.
        crossing_moved_m: How far the crossing point stated lay off the edge that it was taken to; null where none was stated.
        waiting_for: Facts that could still take the option away.
        played_from_right_place: Whether the ball was played from a right place of it; null where that is not told.
        played_from: Where the ball was played, against this option; null where nobody said, or no place is measured.
        citations: The rules.
    """

    procedure: str
    carried_out_as: str
    title: str
    interference: InterferenceShape | None
    further_interference: tuple[FurtherShape, ...]
    mandatory: bool
    penalty_strokes: int
    ball: BallShape
    references: tuple[ReferenceShape, ...]
    relief_area: ReliefAreaShape | None
    no_nearer_the_hole_than_m: float | None
    size_m: float | None
    size: str
    line: LineShape | None
    other_estimate: EstimateShape | None
    roll_m: float | None
    steps: tuple[str, ...]
    margin_m: float | None
    accuracy_m: float | None
    measure_on_ground: bool
    crossing_moved_m: float | None
    waiting_for: tuple[str, ...]
    played_from_right_place: bool | None
    played_from: RightPlaceShape | None
    citations: tuple[CitationShape, ...]


def option_shape(option: Option, frame: Frame, area_words: Mapping[Area, str]) -> OptionShape:
    """One way that the rules allow."""
    return OptionShape(
        procedure=option.procedure,
        carried_out_as=option.carried_out_as or option.procedure,
        title=option.title,
        interference=None if option.met is None else _interference(option.met),
        further_interference=tuple(_further(further, frame) for further in option.further),
        mandatory=option.is_mandatory,
        penalty_strokes=option.penalty_strokes,
        ball=BallShape(put=option.put, which=option.which),
        references=tuple(_reference(reference, frame) for reference in option.references),
        relief_area=None if option.relief_area is None else _area(option.relief_area, frame, area_words),
        no_nearer_the_hole_than_m=rounded(option.no_nearer_m),
        size_m=rounded(option.size_m, 4),
        size=option.size_words,
        line=None if option.line is None else _line(option.line, option.doubt, frame),
        other_estimate=None if option.doubt is None else _estimate(option.doubt, frame, area_words),
        roll_m=rounded(option.roll_m),
        steps=option.steps,
        margin_m=rounded(option.margin_m),
        accuracy_m=rounded(option.accuracy_m),
        measure_on_ground=option.must_measure_on_ground,
        crossing_moved_m=rounded(option.crossing_moved_m),
        waiting_for=option.waiting_for,
        played_from_right_place=None if option.right_place is None else option.right_place.is_right,
        played_from=None if option.right_place is None else right_place_shape(option.right_place),
        citations=citation_shapes(option.citations),
    )


def _interference(met: Interference) -> InterferenceShape:
    names = met.joined.names
    return InterferenceShape(
        condition=met.condition.noun,
        features=tuple(sorted(names)) if len(names) <= _MOST_NAMED else (met.condition.id,),
        joined=len(names),
        depth_m=rounded(met.depth_m),
        parts=tuple(sorted(met.parts)),
    )


def _further(further: Further, frame: Frame) -> FurtherShape:
    return FurtherShape(
        situation=further.situation,
        condition=further.noun,
        features=further.features,
        interference=None if further.interference is None else _interference(further.interference),
        area_on_it_m2=rounded(further.on_area_m2, 4),
        next_points=tuple(_reference(point, frame) for point in further.points),
        back_in_the_first=further.is_back,
        citations=citation_shapes(further.citations),
    )


def _reference(reference: Reference, frame: Frame) -> ReferenceShape:
    return ReferenceShape(
        at=lonlat_of(frame, reference.position),
        x_m=round(reference.position.x_m, 3),
        y_m=round(reference.position.y_m, 3),
        kind=reference.kind,
        distance_m=rounded(reference.distance_m),
        clearance_m=rounded(reference.clearance_m),
        range_m=rounded(reference.range_m),
    )


def _area(area: ReliefArea, frame: Frame, area_words: Mapping[Area, str]) -> ReliefAreaShape:
    outline = area.outline()
    return ReliefAreaShape(
        area_m2=round(area.area_m2, 4),
        geometry=outline_in_degrees(frame, outline),
        geometry_m=outline_in_metres(outline),
        parts=tuple(
            AreaPartShape(area=part.area.value, area_m2=round(part.area_m2, 4), area_words=area_words[part.area]) for part in area.parts
        ),
    )


def _line(line: LineBack, doubt: Doubt | None, frame: Frame) -> LineShape:
    return LineShape(
        from_=place_shape(frame, line.start),
        bearing_deg=round(line.bearing_deg, 4),
        intervals_m=tuple((round(near_m, 3), round(far_m, 3)) for near_m, far_m in line.intervals_m),
        fan=tuple(
            FanShape(back_m=round(back_m, 3), half_width_m=round(half_m, 3)) for back_m, half_m in (() if doubt is None else doubt.fan_m)
        ),
    )


def _estimate(doubt: Doubt, frame: Frame, area_words: Mapping[Area, str]) -> EstimateShape | None:
    if doubt.other_reference is None:
        return None
    return EstimateShape(
        reference=place_shape(frame, doubt.other_reference),
        relief_area=None if doubt.other_area is None else _area(doubt.other_area, frame, area_words),
        overlap_m2=rounded(doubt.overlap_m2, 4),
        overlap=None if doubt.overlap is None else outline_in_degrees(frame, doubt.overlap),
    )
