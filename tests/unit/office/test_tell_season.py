"""A season told: what is one place, and which penalty area a measured place is told of."""

from __future__ import annotations

import pytest
from shapely.geometry import Point

from marram.events.observed.log_entry import Thing
from marram.events.observed.season_tally import CameUp, places_of
from marram.office.event_records.tell_season import SeasonFound, edges_beside
from marram.office.workroom import Workroom
from tests.support.running import ROOT


def drop(hole: int, x_m: float) -> CameUp:
    return CameUp(event="one", thing=Thing.DROP, hole=hole, at=(x_m, 0.0))


def test_places_of_two_holes_are_two_however_near() -> None:
    places = places_of([drop(4, 0.0), drop(5, 1.0), drop(4, 15.0), drop(4, 15.1)])
    assert [(one.hole, len(one.found), one.at) for one in places] == [(4, 2, (7.5, 0.0)), (4, 1, (15.1, 0.0)), (5, 1, (1.0, 0.0))]


@pytest.mark.parametrize(("away_m", "is_told"), [(4.9, True), (5.1, False)])
def test_a_measured_place_is_told_of_the_penalty_area_within_five_metres(away_m: float, is_told: bool) -> None:
    room = Workroom()
    opened = room.course(ROOT / "examples" / "courses" / "thimble-moor.geojson", None)
    pond = next(feature for feature in opened.course.features if feature.id == "pond-12")
    middle = pond.geometry.centroid
    x_m, step_m = middle.x, 0.01
    while pond.geometry.distance(Point(x_m, middle.y)) < away_m:
        x_m -= step_m
    came = CameUp(
        event="one", thing=Thing.RULING, hole=12, at=(x_m - (step_m if not is_told else 0.0) + (step_m if is_told else 0.0), middle.y)
    )
    season = SeasonFound(events=(("one", ""),), found=(came,), tallies={}, places=())
    told = {edge.feature: edge.counts.get(Thing.RULING, 0) for edge in edges_beside(season, opened, room.book("2023"))}
    assert told.get("pond-12", 0) == is_told
