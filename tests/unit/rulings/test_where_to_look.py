"""Where players look when a procedure is shown: in the area, or at its reference point where the area is too thin to be drawn."""

from __future__ import annotations

from types import SimpleNamespace
from typing import cast

from shapely.geometry import MultiPolygon, Polygon

from marram.core.terms import Area
from marram.course.frame import Position
from marram.relief.area.area import AreaPart, ReliefArea
from marram.rulings.case.ruling import Option
from marram.showing.worth import spot_of

BALL, POINT = Position(x_m=0.0, y_m=0.0), Position(x_m=9.0, y_m=0.0)


def option(outline: Polygon | MultiPolygon, area_m2: float) -> Option:
    part = AreaPart(area=Area.GENERAL_AREA, area_m2=area_m2, outline=outline, ground=outline)
    relief_area = ReliefArea(shape=cast("object", None), parts=(part,))  # type: ignore[arg-type]
    return cast("Option", SimpleNamespace(relief_area=relief_area, references=(SimpleNamespace(position=POINT),)))


def test_players_look_into_the_area() -> None:
    square = Polygon([(4, 4), (6, 4), (6, 6), (4, 6)])
    spot = spot_of(option(square, 4.0), BALL)
    assert spot is not None and 4 < spot.x_m < 6 and 4 < spot.y_m < 6


def test_an_area_too_thin_to_be_drawn_is_looked_for_at_its_reference_point() -> None:
    assert spot_of(option(MultiPolygon(), 0.0004), BALL) == POINT
