"""The end of a narrow notch that opens towards the hole: a place with nowhere to drop."""

from __future__ import annotations

import pytest
from shapely.geometry import box

from marram.core.terms import FeatureKind, Form, Mark
from marram.course.frame import Position
from marram.course.partition import polygons_of
from marram.rulebook import open_book, packaged_catalogue
from marram.rulings import Incident, Player, rule_on
from tests.support.ground import course, feature


@pytest.mark.parametrize("edition", ["2016", "2023"])
def test_lateral_relief_at_the_end_of_a_notch(edition: str) -> None:
    water = polygons_of(box(-15, -70, 15, -40).difference(box(-0.2, -60, 0.2, -39)))
    pond = feature("pond", FeatureKind.PENALTY_AREA, water, mark=Mark.RED)
    incident = Incident(
        hole=1,
        situation="penalty-area",
        form=Form.STROKE_PLAY,
        ball=Position(x_m=0, y_m=-63),
        player=Player(longest_club_in=45),
        crossed_at=Position(x_m=0, y_m=-60),
    )
    ruling = rule_on(incident, course(pond), open_book(edition, [], packaged_catalogue()))
    lateral = next(option for option in ruling.options if option.procedure == "penalty-area-lateral-red")
    assert lateral.relief_area is not None
    assert lateral.relief_area.area_m2 < 0.05
    assert any("nowhere to drop" in line.text for line in ruling.lines)
    # Across the notch is dry ground, so its two sides are no opposite edges.
    opposite = [option for option in ruling.options if option.procedure == "penalty-area-opposite-side"]
    assert all(abs(reference.position.x_m) > 1 for option in opposite for reference in option.references)
