"""Penalty areas: ponds, burns and ditches, with the dropping zones that go with them."""

from collections.abc import Sequence

import numpy as np
from shapely.geometry import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from builders.demo_course.features import Sheet
from builders.demo_course.holes import approach_deg, from_green, green_of
from builders.demo_course.shapes import (
    Place,
    Points,
    along,
    blob,
    chance,
    closed_curve,
    divided,
    eased,
    even,
    exact,
    kidney,
    largest,
    left_of,
    open_curve,
    rectangle,
    resample,
    ribbon,
    softened,
    wander,
    with_vertices,
)

_MOUTH_M = 7.0
POND_SIGMA_M = 0.10
FAR_SIGMA_M = 0.5
_STEP_M = 0.8

POND_7: tuple[Place, ...] = (
    (-391, 120), (-385, 109), (-373, 103), (-361, 106), (-353, 114), (-351, 124), (-356, 131), (-363, 135),
    (-364, 141), (-357, 147), (-350, 153), (-348, 162), (-355, 170), (-368, 173), (-380, 169), (-387, 159), (-390, 139),
)  # fmt: skip
POND_9: tuple[Place, ...] = (
    (-151, -60), (-142, -70), (-140, -86), (-145, -102), (-142, -117), (-147, -130), (-157, -132), (-164, -120),
    (-163, -106), (-159, -92), (-164, -76), (-160, -63),
)  # fmt: skip
BURN_EAST: tuple[Place, ...] = (
    (231, 357), (219, 300), (214, 250), (203, 190), (199, 150), (197, 120), (206, 80), (221, 30),
    (229, -15), (222, -58), (222, -75),
)  # fmt: skip
BURN_SOUTH: tuple[Place, ...] = (
    (228, -118), (227, -140), (220, -168), (232, -208), (226, -252), (229, -304), (222, -357),
)  # fmt: skip
BURN_WEST: tuple[Place, ...] = (
    (-324, 86), (-320, 30), (-312, -30), (-318, -100), (-311, -155), (-317, -215), (-320, -266), (-329, -319),
)  # fmt: skip


def add_water(sheet: Sheet) -> None:
    _add_ponds(sheet)
    _add_twin_ponds(sheet)
    _add_burns(sheet)
    _add_along_boundary(sheet)
    _add_dropping_zones(sheet)


def _add_ponds(sheet: Sheet) -> None:
    by_green = closed_curve(POND_7, 0.6).difference(green_of(sheet, 7).buffer(2.0))
    pond = even(eased(largest(by_green), 2.0), 0.7)
    sheet.add("penalty-area", "pond-7", pond, mark="red", what="pond", sigma_m=POND_SIGMA_M)

    tongue = open_curve([(-143.0, -137.0), (-146.0, -130.0), (-149.4, -123.0), (-151.6, -117.4)], 0.3)
    half = np.linspace(1.5, 0.14, len(tongue))
    notched = closed_curve(POND_9, 0.5).difference(ribbon(tongue, half, half).buffer(0.04))
    pond = exact(largest(notched.buffer(-0.5).buffer(0.5)), _STEP_M)
    sheet.add("penalty-area", "pond-9", pond, mark="red", what="pond", sigma_m=POND_SIGMA_M)

    shape = blob("pond-12", from_green(12, -25.0, -1.0), 640.0, stretch=2.0, angle_deg=approach_deg(12) + 84, rough=0.1)
    pond = even(largest(softened(shape.difference(green_of(sheet, 12).buffer(3.5)), 1.5)), 0.7)
    sheet.add("penalty-area", "pond-12", pond, mark="yellow", what="pond", sigma_m=POND_SIGMA_M)


def _add_twin_ponds(sheet: Sheet) -> None:
    """Two ponds with a bank no wider than a plank between them, and a bunker tight against the upper one."""
    upper = even(blob("pond-upper", (223, -76), 860.0, stretch=1.25, angle_deg=105, rough=0.12), _STEP_M)
    below = blob("pond-lower", (229, -113), 1150.0, stretch=1.3, angle_deg=80, rough=0.12)
    lower = exact(largest(softened(below.difference(upper.buffer(0.2)), 0.7)), _STEP_M)
    sand = kidney("bunker-18-k", (207.0, -63.5), 98.0, angle_deg=58, bend=-0.3)
    bunker = exact(largest(softened(even(sand, 0.6).difference(upper), 0.25).difference(upper)), 0.8)
    upper = with_vertices(upper, bunker)
    sheet.add("penalty-area", "pond-upper", upper, mark="red", what="pond", sigma_m=POND_SIGMA_M)
    sheet.add("penalty-area", "pond-lower", lower, mark="red", what="pond", sigma_m=POND_SIGMA_M)
    sheet.add("bunker", "bunker-18-k", bunker)


def _course_of(name: str, controls: Sequence[Place], *, sway_m: float, half_m: float) -> tuple[Points, Points, Points]:
    """The middle of a burn with its meanders, and how far the banks are on either hand."""
    rng = chance(name)
    line = open_curve(controls, _STEP_M)
    at = along(line)
    line = resample(line + left_of(line) * (sway_m * wander(rng, at, 38, 96))[:, None], _STEP_M, closed=False)
    left, right = (half_m + 0.32 * wander(rng, along(line), 9, 30) for _ in range(2))
    return line, left, right


def _parted(line: Points, left: Points, right: Points, at_y: float) -> tuple[Polygon, Polygon]:
    """A burn as two polygons that meet in one edge, the first upstream."""
    cut = int(np.argmax(line[:, 1] < at_y))
    side = left_of(line)
    a, b = line - side * right[:, None], line + side * left[:, None]
    upstream = Polygon(np.vstack([a[: cut + 1], b[: cut + 1][::-1]]))
    downstream = Polygon(np.vstack([a[cut:], b[cut:][::-1]]))
    return divided(upstream, 1.0), divided(downstream, 1.0)


def _flows_into(sheet: Sheet, burn: Polygon, pond: str) -> Polygon:
    """The burn up to the edge of the pond, which opens towards it; the pond gets the burn's corners, so that the edge is shared."""
    water = sheet.polygon(pond)
    joined = water.union(burn)
    mouth = joined.buffer(_MOUTH_M).buffer(-_MOUTH_M).difference(joined).intersection(burn.intersection(water).buffer(2 * _MOUTH_M))
    water = exact(largest(water.union(mouth.buffer(0.02)).buffer(-0.5).buffer(0.5)), _STEP_M)
    outside = largest(burn.difference(water))
    sheet.replace(pond, with_vertices(water, outside))
    return outside


def _add_burns(sheet: Sheet) -> None:
    yellow, red = _parted(*_course_of("burn-east", BURN_EAST, sway_m=3.2, half_m=1.45), 92.0)
    sheet.add("penalty-area", "burn-east", yellow, mark="yellow", what="stream")
    sheet.add("penalty-area", "burn-east-lower", _flows_into(sheet, red, "pond-upper"), mark="red", what="stream")

    red, yellow = _parted(*_course_of("burn-south", BURN_SOUTH, sway_m=2.8, half_m=1.5), -232.0)
    sheet.add("penalty-area", "burn-south", _flows_into(sheet, red, "pond-lower"), mark="red", what="stream")
    sheet.add("penalty-area", "burn-10", yellow, mark="yellow", what="stream")

    red, yellow = _parted(*_course_of("burn-west", BURN_WEST, sway_m=1.7, half_m=1.4), -182.0)
    sheet.add("penalty-area", "ditch-6", red, mark="red", what="ditch")
    sheet.add("penalty-area", "burn-4", yellow, mark="yellow", what="stream")


def stretch_of_boundary(sheet: Sheet, start: Place, end: Place) -> Points:
    """The vertices of the boundary, counter-clockwise, between the two that are nearest to the given places."""
    ring = np.array(sheet.polygon("boundary").exterior.coords)[:-1]
    first, last = (int(np.argmin(np.hypot(*(ring - np.array(place)).T))) for place in (start, end))
    return np.roll(ring, -first, axis=0)[: (last - first) % len(ring) + 1]


def _add_along_boundary(sheet: Sheet) -> None:
    edge = stretch_of_boundary(sheet, (385, 380), (285, 380))
    half = 1.4 * np.sqrt(np.clip(np.minimum(along(edge), along(edge)[::-1]) / 8.0, 0.03, 1.0))
    ditch = ribbon(edge + left_of(edge) * 2.0, half, half)
    sheet.add("penalty-area", "ditch-13", exact(ditch, _STEP_M), mark="red", what="ditch")

    ring = LineString(sheet.polygon("boundary").exterior.coords)
    middle = ring.interpolate(ring.project(Point(560, -95)))
    pond = even(blob("pond-11", (middle.x, middle.y), 620.0, stretch=1.7, angle_deg=88, rough=0.12), 0.8)
    sheet.add("penalty-area", "pond-11", pond, mark="red", what="pond", sigma_m=POND_SIGMA_M)
    edge = stretch_of_boundary(sheet, (560, -88), (560, 270))
    rng, at = chance("stream-11"), along(edge)
    line = edge + left_of(edge) * (2.0 * wander(rng, at, 50, 110) + 5.0)[:, None]
    stream = ribbon(line, 1.3 + 0.3 * wander(rng, at, 9, 30), 1.3 + 0.3 * wander(rng, at, 9, 30))
    # The Committee takes the far bank into the penalty area: beyond it the ground is out of bounds.
    bank = Polygon(np.vstack([edge - left_of(edge) * 2.0, line[::-1]])).buffer(0)
    stream = largest(stream.union(bank))
    end = Point(edge[-1]).buffer(14.0)
    red = largest(stream.difference(end))
    sheet.add("penalty-area", "stream-11", _flows_into(sheet, exact(red, 1.0), "pond-11"), mark="red", what="stream")
    sheet.add("penalty-area", "stream-12", exact(largest(stream.intersection(end)), 1.0), mark="yellow", what="stream")

    line, left, right = _course_of("ditch-3", ((-510, 262), (-522, 210), (-526, 150), (-529, 96)), sway_m=1.2, half_m=1.0)
    sheet.add("penalty-area", "ditch-3", divided(ribbon(line, left, right), 1.0), mark="red", what="ditch", sigma_m=FAR_SIGMA_M)


def _add_dropping_zones(sheet: Sheet) -> None:
    for hole, place in ((7, from_green(7, -62.0, -7.0)), (12, from_green(12, -62.0, 9.0))):
        zone = rectangle(place, 4.0, 3.0, approach_deg(hole)).buffer(1.0, quad_segs=6)
        sheet.add("dropping-zone", f"dropping-zone-{hole}", zone, holes=[hole], serves=f"pond-{hole}")


def all_water(sheet: Sheet) -> BaseGeometry:
    return unary_union([feature.shape for feature in sheet.of_kind("penalty-area")])
