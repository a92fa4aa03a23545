"""Lengths and areas against published figures, closed formulas and the geodesic."""

from __future__ import annotations

import math

import pytest
from pyproj import Geod
from shapely.geometry import box

from marram.core.units import LengthUnit, Size
from marram.course.frame import Frame, Position
from marram.relief.area.arcs import lens_area_m2
from marram.relief.area.shapes import Crescent
from marram.rulebook import open_book, packaged_catalogue


@pytest.mark.parametrize(("inches", "millimetres"), [(20, 508), (80, 2032)])
def test_fixed_distances(inches: float, millimetres: float) -> None:
    """Source: Draft new rules (March 2017), explanation paper on fixed distances; 25.4 mm an inch."""
    assert Size(amount=inches, unit=LengthUnit.INCHES).in_metres(0) * 1000 == pytest.approx(millimetres, abs=1e-9)


def test_draft_holds_the_fixed_distances() -> None:
    """Source: the same paper."""
    book = open_book("draft-2017", [], packaged_catalogue())
    assert book.size("relief.small.size").value.in_metres(0) == pytest.approx(0.508)
    assert book.size("relief.lateral.size").value.in_metres(0) == pytest.approx(2.032)


@pytest.mark.parametrize("to_hole_m", [0.05, 0.5, 1.1685, 2.0, 5.0, 60.0, 500.0])
def test_crescent_is_the_disc_without_the_lens(to_hole_m: float) -> None:
    """Closed formula for two intersecting circles; equal to rounding."""
    shape = Crescent(centre=Position(x_m=0, y_m=0), radius_m=2.337, hole=Position(x_m=to_hole_m, y_m=0), least_m=to_hole_m)
    expected = math.pi * 2.337**2 - lens_area_m2(2.337, to_hole_m, to_hole_m)
    assert shape.area_on_m2(box(-9, -9, 9, 9)) == pytest.approx(expected, abs=1e-7)


def test_far_hole_leaves_half_the_disc() -> None:
    shape = Crescent(centre=Position(x_m=0, y_m=0), radius_m=2, hole=Position(x_m=1e6, y_m=0), least_m=1e6)
    assert shape.area_on_m2(box(-9, -9, 9, 9)) == pytest.approx(2 * math.pi, abs=1e-4)


@pytest.mark.parametrize("latitude_deg", [-30.0, 36.0, 54.0, 65.0])
def test_distances_agree_with_the_geodesic(latitude_deg: float) -> None:
    """Source: geodesic on GRS80 as pyproj computes it; 0.1 parts in a million within 1.5 km."""
    frame = Frame(-2.0, latitude_deg)
    geod = Geod(ellps="GRS80")
    places = [Position(x_m=x, y_m=y) for x, y in ((-1000.0, 200.0), (900.0, -700.0), (50.0, 1200.0), (0.0, 0.0))]
    for first in places:
        for second in places:
            _, _, geodesic_m = geod.inv(*frame.to_lonlat(first), *frame.to_lonlat(second))
            assert first.distance_m(second) == pytest.approx(geodesic_m, rel=1e-7, abs=1e-6)


def crescent_by_formula_m2(radius_m: float, to_hole_m: float) -> float:
    """Disc less the lens of two circles, where the second circle passes through the middle of the first.

    Source: the area of a lens of two circles as r² acos + R² acos - kite, written here with R equal to the distance;
    acos(1 - r²/2d²) is taken as 2 asin(r/2d), which keeps its digits for a far hole.
    """
    if 2 * to_hole_m <= radius_m:
        return math.pi * radius_m**2 - math.pi * to_hole_m**2
    share = radius_m / (2 * to_hole_m)
    kite_m2 = radius_m * math.sqrt((2 * to_hole_m - radius_m) * (2 * to_hole_m + radius_m)) / 2
    lens_m2 = radius_m**2 * math.acos(share) + 2 * to_hole_m**2 * math.asin(share) - kite_m2
    return math.pi * radius_m**2 - lens_m2


@pytest.mark.parametrize("radius_m", [0.508, 1.143, 2.032, 2.286])
@pytest.mark.parametrize("share_of_radius", [None, 0.25, 0.499999, 0.5, 0.500001, 1.0])
def test_crescent_against_a_formula_of_its_own(radius_m: float, share_of_radius: float | None) -> None:
    """From a hole inside the disc (2d up to r, with d = r/2 exactly) to one 500 m away, turned eight ways."""
    distances_m = [0.05, 0.7, 3.0, 20.0, 137.0, 500.0] if share_of_radius is None else [share_of_radius * radius_m]
    for to_hole_m in distances_m:
        for turn in range(8):
            angle = turn * math.pi / 4 + 0.1
            hole = Position(x_m=30 + to_hole_m * math.cos(angle), y_m=-70 + to_hole_m * math.sin(angle))
            shape = Crescent(centre=Position(x_m=30, y_m=-70), radius_m=radius_m, hole=hole, least_m=to_hole_m)
            found_m2 = shape.area_on_m2(box(20, -80, 40, -60))
            assert found_m2 == pytest.approx(crescent_by_formula_m2(radius_m, to_hole_m), abs=1e-8)
