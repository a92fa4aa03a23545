"""Degrees and metres, by the lengths of a minute on the ellipsoid."""

from __future__ import annotations

import pytest

from marram.course.check.fault_places import listed
from marram.course.frame import Frame, Position

FRAME = Frame(-2.0, 55.0)


def test_a_minute_is_as_long_as_the_ellipsoid_says() -> None:
    """GRS80, a = 6378137 m, e^2 = 0.00669438; sin^2 55 deg = 0.671010.

    North: a (1 - e^2) / (1 - e^2 sin^2)^1.5 = 6378368 m for a radian, 1855.42 m for a minute. East: a cos / sqrt(1 - e^2 sin^2)
    = 3666592 m, 1066.57 m. (Moritz, Geodetic Reference System 1980, 2000.)
    """
    north, east = FRAME.to_position(-2.0, 55.0 + 1 / 60), FRAME.to_position(-2.0 + 1 / 60, 55.0)
    assert north.xy == pytest.approx((0, 1855.42), abs=0.1)
    assert east.xy == pytest.approx((1066.57, 0), abs=0.2)


def test_there_and_back_is_the_same_place() -> None:
    lon_deg, lat_deg = FRAME.to_lonlat(Position(x_m=300.0, y_m=-200.0))
    assert FRAME.to_position(lon_deg, lat_deg).distance_m(Position(x_m=300.0, y_m=-200.0)) < 1e-6
    assert [*FRAME.to_metres([lon_deg], [lat_deg])[0], *FRAME.to_metres([lon_deg], [lat_deg])[1]] == pytest.approx([300, -200])
    assert [*FRAME.to_degrees([300.0], [-200.0])[0], *FRAME.to_degrees([300.0], [-200.0])[1]] == pytest.approx([lon_deg, lat_deg])


def test_the_first_eight_names_are_told() -> None:
    names = [f"pond-{number}" for number in range(1, 10)]
    assert listed(names[:8]) == "pond-1, pond-2, pond-3, pond-4, pond-5, pond-6, pond-7, pond-8"
    assert listed(names) == f"{listed(names[:8])} and 1 more"
