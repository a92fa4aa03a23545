"""The shapes that a ruling pencils over the ground: areas, lines, arcs, feet and points."""

from __future__ import annotations

import math
from collections.abc import Iterator

import shapely
from shapely.geometry import LineString, Point
from shapely.geometry.base import BaseGeometry

from marram.core.terms import Hand
from marram.course.frame import Position
from marram.relief.area.lines import along_bearing
from marram.relief.area.shapes import Crescent
from marram.relief.clear.stance import STANCES, footprint, sample_position
from marram.rulebook.vocabulary import MeasuredFrom
from marram.rulings.case.incident import Incident
from marram.rulings.case.ruling import Option, Ruling
from marram.rulings.measure.obstructed import USUAL_CLUB
from marram.sheets.scene.scene import Item, Role, Spot, SpotKind, Window

_LONGEST_LINE_M = 2_000.0
_BACK = frozenset({MeasuredFrom.PREVIOUS_STROKE, MeasuredFrom.LAST_STROKE_OUTSIDE})


def main_option(ruling: Ruling, like: Option | None = None) -> Option | None:
    """The option that a drawing is about.

    Args:
        ruling: The ruling.
        like: An option of another book; the same one is taken if the ruling has it, so that drawings of several books show the same.

    Returns:
        The same option, else the last one with a disc measured, else the last with any place at all; one that goes back to where a stroke
        was made only where there is no other.
    """
    alike = [option for option in ruling.options if like is not None and option.procedure == like.procedure]
    alike = [option for option in alike if like is not None and option.carried_out_as == like.carried_out_as] or alike
    if alike:
        return alike[0]
    areas = [option for option in ruling.options if option.relief_area and option.relief_area.parts and option.references]
    discs = [option for option in areas if option.relief_area and isinstance(option.relief_area.shape, Crescent)]
    placed = [option for option in ruling.options if option.references]
    best = [option for option in discs if not goes_back(option)] or discs or placed or list(ruling.options)
    return best[-1] if best else None


def goes_back(option: Option) -> bool:
    """Whether an option goes back to where a stroke was made."""
    return any(reference.kind in _BACK for reference in option.references)


def option_items(option: Option, hole: Position, *, is_main: bool) -> Iterator[Item]:
    """An option's line and area, and for the option that the drawing is about the line to the hole."""
    if option.line is not None:
        yield from line_items(option)
    if option.relief_area is not None and option.relief_area.parts:
        role = Role.RELIEF if is_main else Role.RELIEF_SECOND
        yield Item(role=role, geometry=option.relief_area.outline(), title=option.title)
        if isinstance(option.relief_area.shape, Crescent):
            yield Item(role=Role.HOLE_ARC, geometry=hole_arc(option.relief_area.shape))
    if is_main and option.references and option.references[0].position.distance_m(hole) > 0.5:
        yield Item(role=Role.LINE_TO_HOLE, geometry=LineString([option.references[0].position.xy, hole.xy]))


def line_items(option: Option) -> Iterator[Item]:
    """A line back: the stretches that may be used, and the gaps between them."""
    line = option.line
    if line is None:
        return
    last_m = 0.0
    for near_m, far_m in line.intervals_m:
        if near_m > last_m:
            yield Item(role=Role.LINE_BARRED, geometry=_stretch(option, last_m, near_m))
        yield Item(role=Role.LINE_BACK, geometry=_stretch(option, near_m, min(far_m, _LONGEST_LINE_M)))
        last_m = far_m


def _stretch(option: Option, near_m: float, far_m: float) -> LineString:
    line = option.line
    assert line is not None
    return LineString([line.place_at(near_m).xy, line.place_at(far_m).xy])


def hole_arc(shape: Crescent) -> LineString:
    """The circle about the hole, only a metre past the area at each end."""
    if shape.least_m <= 0:
        return LineString()
    half = math.pi if shape.least_m <= shape.radius_m else math.asin(min(1.0, shape.radius_m / shape.least_m))
    half = min(math.pi, half + 1.0 / shape.least_m)
    middle = math.radians(shape.hole.bearing_deg(shape.centre))
    turns = [middle - half + 2 * half * number / 96 for number in range(97)]
    return LineString([along_bearing(shape.hole, math.degrees(turn), shape.least_m).xy for turn in turns])


def option_spots(option: Option, window: Window) -> Iterator[Spot]:
    """The points that an option is measured from, and the one chosen on a line."""
    for reference in option.references:
        if window.holds(reference.position):
            yield Spot(kind=SpotKind.STATION, position=reference.position)
    shape = option.relief_area.shape if option.relief_area else None
    if option.line is not None and isinstance(shape, Crescent) and window.holds(shape.centre):
        yield Spot(kind=SpotKind.CHOSEN, position=shape.centre)


def incident_items(incident: Incident, main: Option | None) -> Iterator[Item]:
    """The way that the ball came."""
    if incident.flight is not None:
        yield Item(role=Role.FLIGHT, geometry=LineString([place.xy for place in incident.flight]))
    elif incident.ball is not None and main is not None and main.references:
        reference = main.references[0]
        if reference.kind == "crossing-point" and reference.position.distance_m(incident.ball) > 0.1:
            yield Item(role=Role.FLIGHT, geometry=LineString([incident.ball.xy, reference.position.xy]))


def incident_spots(incident: Incident, hole: Position, window: Window) -> Iterator[Spot]:
    """The ball and the hole."""
    if incident.ball is not None and window.holds(incident.ball):
        yield Spot(kind=SpotKind.BALL, position=incident.ball)
    if window.holds(hole):
        yield Spot(kind=SpotKind.HOLE, position=hole)


def foot_items(option: Option, incident: Incident, hole: Position) -> Iterator[Item]:
    """Outlines of the feet at each nearest point, for the hand and club that were used."""
    hand = incident.player.hand
    if hand is None or not option.references or option.references[0].clearance_m is None:
        return
    samples = footprint(STANCES[incident.player.club or USUAL_CLUB], Hand(hand), frozenset({"stance"}))
    for reference in option.references:
        discs = [Point(sample_position(reference.position, hole, sample).xy).buffer(sample.radius_m) for sample in samples]
        yield Item(role=Role.FOOT, geometry=shapely.union_all(discs))


def seen_part(geometry: BaseGeometry, window: Window) -> BaseGeometry:
    """The longest piece of a line that is well within the window."""
    least_x, least_y, most_x, most_y = window.bounds
    inside = shapely.clip_by_rect(geometry, least_x + 0.3, least_y + 0.3, most_x - 0.3, most_y - 0.3)
    merged = shapely.line_merge(inside) if inside.geom_type == "MultiLineString" else inside
    return max(shapely.get_parts(merged), key=lambda part: part.length, default=merged)


def is_drawn_alike(outline: BaseGeometry, same: Option | None) -> bool:
    """Whether the book in force draws the same edge, so that a second line would only thicken it."""
    if same is None or same.relief_area is None or not same.relief_area.parts:
        return False
    return bool(outline.symmetric_difference(same.relief_area.outline()).area < 0.02)
