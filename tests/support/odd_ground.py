"""Odd things that lie on the ground of a course: water, tees, greens, paths and edges. Each is drawn about (0, 0) and laid at the place."""

from __future__ import annotations

import math
from collections.abc import Callable

import shapely
from shapely.geometry import LineString, MultiPolygon, Point, Polygon, box

from tests.support.odd_survey import HOLES, Survey, blob, ground

NECK_M = 0.45
"""Width of a neck: less than a stance, more than a ball."""


def _island(survey: Survey) -> None:
    """A pond about an island, which is general area or a bunker."""
    survey.water(blob(survey.rng, 18).difference(blob(survey.rng, 6)))
    if survey.rng.random() < 0.5:
        survey.lay("bunker", blob(survey.rng, 3))


def _neck(survey: Survey) -> None:
    """Two ponds that a ditch of 0.45 m joins."""
    parts = [blob(survey.rng, 9, middle=(-14, 0)), blob(survey.rng, 7, middle=(14, 0)), box(-14, -NECK_M / 2, 14, NECK_M / 2)]
    survey.water(ground(shapely.union_all(parts)))


def _causeway(survey: Survey) -> None:
    """Two ponds with 0.45 m of grass between them."""
    mark = survey.mark()
    survey.water(box(-20, NECK_M / 2, 20, 14), mark)
    survey.water(box(-20, -14, 20, -NECK_M / 2), mark if survey.rng.random() < 0.5 else "")


def _shared_corner(survey: Survey) -> None:
    """Two waters that meet at one corner."""
    survey.water(box(0, 0, 14, 10))
    survey.water(box(-12, -9, 0, 0))


def _one_feature_two_parts(survey: Survey) -> None:
    """One water drawn in two parts that lie apart."""
    survey.water(MultiPolygon([blob(survey.rng, 6, middle=(-10, 0)), blob(survey.rng, 6, middle=(10, 0))]))


def _red_meets_yellow(survey: Survey) -> None:
    """A red and a yellow water along one edge with corners in common."""
    edge = [(-15.0, 0.0), (-4.0, 2.0), (5.0, -1.5), (15.0, 0.0)]
    survey.water(Polygon([*edge, (15, 12), (-15, 12)]), "red")
    survey.water(Polygon([*edge, (15, -12), (-15, -12)]), "yellow")


def _chain(survey: Survey) -> None:
    """Three waters of one mark, of which the middle one touches both."""
    mark = survey.mark()
    for left_m in (-18.0, -6.0, 6.0):
        survey.water(box(left_m, -6, left_m + 12, 6), mark)


def _cut_by_water(survey: Survey) -> None:
    """A stream that a pond of the other mark cuts in two."""
    survey.water(box(-4, -8, 4, 8), "yellow")
    survey.water(box(-24, -1.5, 24, 1.5), "red", what="stream")


def _cut_by_boundary(survey: Survey) -> None:
    """A pond that the boundary, with a notch in it, cuts in two."""
    at = HOLES[1][0][1] + survey.rng.uniform(80, 220)
    survey.boundary = survey.boundary.difference(box(-70, at - 4, -30, at + 4))
    survey.add("penalty-area", box(-45, at - 20, -35, at + 20), mark=survey.mark(), what="pond")


def _stream_in_and_out(survey: Survey) -> None:
    """A stream that leaves the course and comes back."""
    y_m = survey.rng.uniform(-60, 60)
    bends = [(-80, y_m), (-50, y_m + 9), (-66, y_m + 25), (-40, y_m + 40), (20, y_m + 50), (250, y_m + 20)]
    stream = LineString(bends).buffer(1.1, quad_segs=4, cap_style="flat")
    survey.add("penalty-area", stream, mark=survey.mark(), what="stream")


def _nested_water(survey: Survey) -> None:
    """Water within water: marked otherwise, or alike."""
    survey.water(blob(survey.rng, 18))
    survey.water(blob(survey.rng, 7))


def _filled_ring(survey: Survey) -> None:
    """Water that fills the hole in another water to the millimetre."""
    inner = blob(survey.rng, 6)
    survey.water(blob(survey.rng, 16).difference(inner), "red")
    survey.water(inner, "yellow")


def _moat(survey: Survey) -> None:
    """Water along the whole boundary."""
    survey.add("penalty-area", survey.boundary.difference(survey.boundary.buffer(-6, join_style="mitre")), mark=survey.mark(), what="ditch")


def _overlapping_tees(survey: Survey) -> None:
    """A tee of the second hole over half of the first hole's."""
    x_m, y_m = HOLES[1][0]
    survey.add("teeing-area", box(x_m - 1, y_m - 7, x_m + 9, y_m + 4), name="tee-2-far", holes=[2])


def _tee_under_green(survey: Survey) -> None:
    """The second hole's tee lies partly on the first hole's green."""
    x_m, y_m = HOLES[1][1]
    survey.add("teeing-area", box(x_m + 5, y_m - 4, x_m + 15, y_m + 4), name="tee-2-near", holes=[2])


def _double_green(survey: Survey) -> None:
    """The greens of two holes lie over each other."""
    x_m, y_m = HOLES[3][1]
    survey.add("putting-green", blob(survey.rng, 14, middle=(x_m - 12, y_m)), name="green-1-too", holes=[1, 2])


def _green_in_water(survey: Survey) -> None:
    """Water all about a green."""
    x_m, y_m = HOLES[2][1]
    green = next(geometry for properties, geometry in survey.features if properties["id"] == "green-2")
    shore = green if survey.rng.random() < 0.5 else green.buffer(NECK_M)
    survey.add("penalty-area", box(x_m - 22, y_m - 22, x_m + 22, y_m + 22).difference(shore), mark=survey.mark(), what="lake")


def _bunker_in_water(survey: Survey) -> None:
    """A bunker in a pond, and one half in it."""
    survey.water(blob(survey.rng, 14))
    survey.lay("bunker", blob(survey.rng, 4))
    survey.lay("bunker", blob(survey.rng, 5, middle=(14, 0)))


def _bunker_on_green(survey: Survey) -> None:
    """A bunker in the middle of a green, and one over its edge."""
    x_m, y_m = HOLES[3][1]
    survey.add("bunker", blob(survey.rng, 1.5, middle=(x_m + 6, y_m - 5)))
    survey.add("bunker", blob(survey.rng, 4, middle=(x_m - 11, y_m)))


def _touching_paths(survey: Survey) -> None:
    """Three paths that meet: one ends at another, one crosses both."""
    survey.lay("immovable-obstruction", box(-20, -1.2, 20, 1.2), what="path")
    survey.lay("immovable-obstruction", box(-1, 1.2, 1.4, 18), what="path")
    survey.lay("immovable-obstruction", LineString([(-15, -9), (14, 11)]).buffer(0.8, cap_style="flat"), what="path")


def _path_meets_repair(survey: Survey) -> None:
    """A path with ground under repair along it, and a sprinkler head at its edge."""
    survey.lay("immovable-obstruction", box(-20, -1.2, 20, 1.2), what="path")
    survey.lay("ground-under-repair", blob(survey.rng, 4, middle=(3, 4)))
    survey.lay("immovable-obstruction", Point(-6, 1.3).buffer(0.15, quad_segs=4), what="sprinkler head")


def _path_ring(survey: Survey) -> None:
    """A path all about a green."""
    ring = Point(HOLES[1][1]).buffer(19).difference(Point(HOLES[1][1]).buffer(16.5))
    survey.add("immovable-obstruction", ring, what="path")


def _path_through_water(survey: Survey) -> None:
    """A path that runs through a pond and a bunker."""
    survey.water(blob(survey.rng, 8, middle=(-10, 0)))
    survey.lay("bunker", blob(survey.rng, 6, middle=(10, 2)))
    survey.lay("immovable-obstruction", box(-24, -1, 24, 1), what="path")


def _sliver(survey: Survey) -> None:
    """Areas with next to no width: of 5 mm, and of 2 mm by 4 m, which is less ground than counts."""
    survey.water(box(-12, -0.0025, 12, 0.0025))
    survey.lay("bunker", box(-2, 3, 2, 3.002))
    survey.lay("immovable-obstruction", box(-10, -3, 10, -2.99), what="rail")


def _needle(survey: Survey) -> None:
    """A water whose outline is a star with points like needles."""
    corners = [((16 if n % 2 else 4) * math.cos(math.pi * n / 9), (16 if n % 2 else 4) * math.sin(math.pi * n / 9)) for n in range(18)]
    survey.water(Polygon(corners))


def _many_corners(survey: Survey) -> None:
    """A pond of 3,000 corners."""
    survey.water(blob(survey.rng, 17, corners=3000))


def _comb(survey: Survey) -> None:
    """A water with inlets of 0.45 m, closer than a ball needs to tell them apart."""
    teeth = [box(-12 + 2 * NECK_M * n, 0, -12 + 2 * NECK_M * n + NECK_M, 8) for n in range(26)]
    survey.water(ground(shapely.union_all([box(-13, -5, 13, 0.001), *teeth])))


def _inner_out_of_bounds(survey: Survey) -> None:
    """Ground within the course that is out of bounds, with water at its edge."""
    hole = survey.here(box(-6, -5, 6, 5))
    survey.boundary = survey.boundary.difference(hole)
    survey.water(box(6, -8, 14, 8))


def _zones(survey: Survey) -> None:
    """A no play zone over the edge of a pond, a dropping zone half in the water."""
    pond = survey.water(box(-14, -8, 14, 8))
    survey.lay("no-play-zone", box(4, 2, 18, 14))
    survey.lay("dropping-zone", box(-18, -3, -12, 3), serves=pond, holes=[1, 2, 3])


def _along_the_boundary(survey: Survey) -> None:
    """A red water that leaves 0.45 m of course between itself and the boundary."""
    survey.add("penalty-area", box(-60 + NECK_M, -40, -48, 40), mark="red", what="ditch")


def _outside(survey: Survey) -> None:
    """A bunker and water that lie wholly beyond the boundary."""
    survey.add("bunker", box(300, 0, 310, 10))
    survey.add("penalty-area", box(260, -50, 290, 50), mark="yellow", what="river")


def _stacked(survey: Survey) -> None:
    """Everything over everything at one place."""
    for kind in ("bunker", "ground-under-repair", "temporary-water", "fairway", "immovable-obstruction", "no-play-zone", "trees"):
        survey.lay(kind, blob(survey.rng, 6, middle=(survey.rng.uniform(-6, 6), survey.rng.uniform(-6, 6))))
    survey.water(blob(survey.rng, 5))


ON_THE_GROUND: dict[str, Callable[[Survey], None]] = {
    "island": _island,
    "neck": _neck,
    "causeway": _causeway,
    "shared-corner": _shared_corner,
    "one-feature-two-parts": _one_feature_two_parts,
    "red-meets-yellow": _red_meets_yellow,
    "chain": _chain,
    "cut-by-water": _cut_by_water,
    "cut-by-boundary": _cut_by_boundary,
    "stream-in-and-out": _stream_in_and_out,
    "nested-water": _nested_water,
    "filled-ring": _filled_ring,
    "moat": _moat,
    "overlapping-tees": _overlapping_tees,
    "tee-under-green": _tee_under_green,
    "double-green": _double_green,
    "green-in-water": _green_in_water,
    "bunker-in-water": _bunker_in_water,
    "bunker-on-green": _bunker_on_green,
    "touching-paths": _touching_paths,
    "path-meets-repair": _path_meets_repair,
    "path-ring": _path_ring,
    "path-through-water": _path_through_water,
    "sliver": _sliver,
    "needle": _needle,
    "many-corners": _many_corners,
    "comb": _comb,
    "inner-out-of-bounds": _inner_out_of_bounds,
    "zones": _zones,
    "along-the-boundary": _along_the_boundary,
    "outside": _outside,
    "stacked": _stacked,
}
