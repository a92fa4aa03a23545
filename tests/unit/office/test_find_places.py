"""Places to show a procedure: whole, certain, near a way and out of range; spread; and a plain reason where there is none."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest
from shapely.geometry import LineString, Point, box

from marram.core.errors import DataError
from marram.core.terms import Club, FeatureKind, Hand, Mark
from marram.course.features import Feature
from marram.course.frame import Position
from marram.interchange.courses.course_geojson import write_course
from marram.interchange.field.incident_file import read_incident
from marram.interchange.field.incident_writing import incident_toml
from marram.office.courses.find_places import APART_M, PlacesFound, find_places
from marram.office.workroom import Workroom
from marram.rulebook.reading.files import packaged_catalogue
from marram.rulings.case.facts_of_situation import known_facts
from marram.rulings.case.incident import Player
from marram.showing.standing import see_ground
from tests.support.ground import course, feature, pond

DEMO = Path(__file__).resolve().parents[3] / "examples/courses/thimble-moor.geojson"
PLAYER = Player(hand=Hand.RIGHT, longest_club_in=45.0, club=Club.IRON)
ROOM = Workroom()
CLUB_M = 45 * 0.0254


def found_on(tmp_path: Path, procedure: str, *features: Feature, books: tuple[str, ...] = ("2023",), count: int = 5) -> PlacesFound:
    path = tmp_path / "ground.geojson"
    path.write_text(write_course(course(*features)), encoding="utf-8")
    return find_places(ROOM.course(path), procedure, ROOM.books(books), player=PLAYER, count=count)


def test_lateral_relief_is_shown_best_behind_the_pond(tmp_path: Path) -> None:
    best = found_on(tmp_path, "penalty-area-lateral-red", pond()).places[0]
    crossed = best.incident.crossed_at
    assert crossed is not None
    assert crossed.y_m == pytest.approx(-70, abs=0.001)
    # The share, counted on a grid of 1 cm about the crossing point: no nearer the hole than that point, and outside the pond.
    radius_m, steps = 2 * CLUB_M, [number / 100 for number in range(-230, 231)]
    disc = [(crossed.x_m + east, crossed.y_m + north) for east in steps for north in steps if math.hypot(east, north) <= radius_m]
    no_nearer = [(x, y) for x, y in disc if math.hypot(x, y) >= math.hypot(*crossed.xy)]
    outside = [(x, y) for x, y in no_nearer if not (-15 < x < 15 and -70 < y < -40)]
    assert best.least.share == pytest.approx(len(outside) / len(no_nearer), abs=0.003)
    assert best.least.share > 0.9


def test_every_place_lies_in_the_pond_with_the_crossing_on_its_edge(tmp_path: Path) -> None:
    found = found_on(tmp_path, "penalty-area-back-on-line", pond(Mark.YELLOW))
    assert found.places
    ground = pond().geometry
    for place in found.places:
        assert place.incident.ball is not None and place.incident.crossed_at is not None
        assert ground.contains(Point(place.incident.ball.xy))
        assert ground.boundary.distance(Point(place.incident.crossed_at.xy)) < 0.002
        assert place.incident.choice.back_m is not None
        assert place.least.share > 0.99


def test_on_a_coarse_survey_the_ball_lies_deeper_so_that_it_is_certain(tmp_path: Path) -> None:
    coarse = feature("pond", FeatureKind.PENALTY_AREA, box(-15, -70, 15, -40), mark=Mark.RED, what="pond", sigma_m=0.8)
    found = found_on(tmp_path, "penalty-area-lateral-red", coarse)
    assert found.places
    for place in found.places:
        assert place.incident.ball is not None
        assert coarse.geometry.boundary.distance(Point(place.incident.ball.xy)) >= 1.6
        assert place.is_certain
        assert not any("too coarse" in text for text in place.watch)


def test_where_nothing_is_certain_the_places_say_to_measure_first(tmp_path: Path) -> None:
    unknown = feature("pond", FeatureKind.PENALTY_AREA, box(-15, -70, 15, -40), mark=Mark.RED, what="pond", sigma_m=20.0)
    found = found_on(tmp_path, "penalty-area-lateral-red", unknown)
    assert found.places
    for place in found.places:
        assert not place.is_certain
        assert any("measure on the ground" in text for text in place.watch)
        assert not any("certain" in text for text in place.reasons)


def test_the_procedure_must_be_an_option_in_every_book(tmp_path: Path) -> None:
    alone = found_on(tmp_path, "penalty-area-opposite-side", pond(), books=("2016",))
    both = found_on(tmp_path, "penalty-area-opposite-side", pond(), books=("2016", "2023"))
    assert alone.places
    assert both.places == ()
    assert "2023 does not allow it anywhere" in both.why_none


def test_places_are_spread() -> None:
    found = find_places(ROOM.course(DEMO), "penalty-area-lateral-red", ROOM.books(["2023"]), player=PLAYER, count=9)
    assert len(found.places) == 9
    features = [place.spot.feature for place in found.places]
    assert max(features.count(name) for name in features) <= 2
    assert len(set(features)) >= 7
    for number, place in enumerate(found.places):
        assert all(place.at.distance_m(other.at) >= APART_M for other in found.places[:number])
    scores = [place.score for place in found.places]
    assert scores == sorted(scores, reverse=True)


def test_a_ball_lies_on_or_beside_the_obstruction(tmp_path: Path) -> None:
    path = feature("path", FeatureKind.IMMOVABLE_OBSTRUCTION, box(40, -200, 43, -20), what="path")
    found = found_on(tmp_path, "immovable-obstruction-general-area", path)
    assert found.places
    for place in found.places:
        assert place.incident.ball is not None
        assert path.geometry.distance(Point(place.incident.ball.xy)) <= 0.3
        assert place.standing.reach_m is not None and place.standing.reach_m < 5


def test_in_a_bunker_only_a_condition_that_lies_there_serves(tmp_path: Path) -> None:
    bunker = feature("sand", FeatureKind.BUNKER, box(30, -100, 50, -80))
    inside = feature("wet", FeatureKind.TEMPORARY_WATER, box(34, -94, 42, -88), what="rain water")
    outside = feature("puddle", FeatureKind.TEMPORARY_WATER, box(80, -94, 88, -88), what="rain water")
    found = found_on(tmp_path, "ground-condition-bunker-free", bunker, inside, outside)
    assert {place.spot.feature for place in found.places} == {"wet"}
    dry = found_on(tmp_path, "ground-condition-bunker-free", bunker, outside)
    assert dry.places == ()


def test_open_ground_keeps_clear_of_paths_and_trees(tmp_path: Path) -> None:
    path = feature("path", FeatureKind.IMMOVABLE_OBSTRUCTION, box(18, -380, 22, -20), what="path")
    wood = feature("wood", FeatureKind.TREES, box(-60, -380, -25, 0))
    found = found_on(tmp_path, "unplayable-lateral", path, wood, count=8)
    assert found.places
    for place in found.places:
        assert place.incident.ball is not None
        spot = Point(place.incident.ball.xy)
        assert path.geometry.distance(spot) >= 4 and wood.geometry.distance(spot) >= 4


def test_a_wrong_green_is_never_the_green_of_the_hole(tmp_path: Path) -> None:
    # The second hole is played straight over its own green, so its line is nearer to it than the first hole's.
    second = (
        feature("green-2", FeatureKind.PUTTING_GREEN, Point(40, -100).buffer(10), holes=(2,)),
        feature("line-2", FeatureKind.LINE_OF_PLAY, LineString([(40, -300), (40, -100)]), holes=(2,)),
        feature("hole-2", FeatureKind.HOLE_LOCATION, Point(40, -100), holes=(2,)),
    )
    found = found_on(tmp_path, "wrong-green-relief", *second)
    assert {(place.incident.hole, place.spot.feature) for place in found.places} == {(1, "green-2")}


def test_another_procedure_that_is_carried_out_alike_does_not_serve() -> None:
    # The zone in the ground under repair gives the same measuring under another rule; no zone lies out of bounds here.
    assert find_places(ROOM.course(DEMO), "no-play-zone-in-condition", ROOM.books(["2023"]), player=PLAYER, count=3).places
    assert find_places(ROOM.course(DEMO), "no-play-zone-elsewhere", ROOM.books(["2023"]), player=PLAYER, count=3).places == ()


@pytest.mark.parametrize(
    "procedure",
    [
        "penalty-area-back-on-line",
        "played-from-penalty-area-into-same",
        "deliberate-deflection-place",
        "movable-obstruction-ball-not-found",
        "ball-lost-in-condition",
    ],
)
def test_the_file_of_a_place_holds_the_whole_incident(tmp_path: Path, procedure: str) -> None:
    path = feature("path", FeatureKind.IMMOVABLE_OBSTRUCTION, box(40, -200, 43, -20), what="path")
    found = found_on(tmp_path, procedure, pond(Mark.YELLOW), path, count=1)
    (place,) = found.places
    file = tmp_path / "place.toml"
    file.write_text(incident_toml(place.incident, title='A "place"\nof two lines'), encoding="utf-8")
    assert read_incident(file, found.course, known_facts=known_facts(packaged_catalogue())) == place.incident


@pytest.mark.parametrize(
    ("x_m", "y_m", "safe", "danger"),
    [
        (0.0, -200.0, 0.3, "landing zone"),  # 180 m from the tee, on the line
        (60.0, -200.0, 1.0, ""),  # as far, 60 m to the side
        (0.0, -340.0, 0.7, "Ahead of the tee"),  # 40 m ahead of the tee
        (0.0, -390.0, 1.0, ""),  # behind it
        (295.0, -390.0, 0.8, "boundary"),
        (-20.0, 40.0, 0.5, "trees"),
    ],
)
def test_danger_is_told_and_counts(x_m: float, y_m: float, safe: float, danger: str) -> None:
    ground = see_ground(course(feature("wood", FeatureKind.TREES, box(-30, 30, -10, 50))))
    standing = ground.at(Position(x_m=x_m, y_m=y_m))
    assert standing.safe == pytest.approx(safe)
    assert (danger in " ".join(standing.dangers)) if danger else standing.dangers == ()


def test_reach_is_measured_to_the_nearest_way() -> None:
    path = feature("walk", FeatureKind.IMMOVABLE_OBSTRUCTION, box(100, -100, 103, 0), what="path")
    shed = feature("shed", FeatureKind.IMMOVABLE_OBSTRUCTION, box(60, -60, 64, -56), what="shed")
    standing = see_ground(course(path, shed)).at(Position(x_m=70.0, y_m=-50.0))
    assert standing.reach_m == pytest.approx(30.0)  # to the path; a shed leads nobody anywhere
    assert standing.reach == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("procedure", "words"),
    [
        ("penalty-area-lateral-red", "no penalty area marked red or unmarked"),
        ("no-play-zone-in-penalty-area", "Test Ground has none of these: no play zone or young tree."),
        ("preferred-lies", "local rule"),
        ("ground-condition-bunker-free", "has none of these: immovable obstruction, ground under repair"),
        ("wrong-green-relief", "has none of these: wrong green"),
    ],
)
def test_where_there_is_no_place_the_reason_is_plain(tmp_path: Path, procedure: str, words: str) -> None:
    found = found_on(tmp_path, procedure)
    assert found.places == ()
    assert words in found.why_none


def test_a_course_without_lines_of_play_says_so(tmp_path: Path) -> None:
    ground = course(pond())
    path = tmp_path / "ground.geojson"
    kept = tuple(feature for feature in ground.features if feature.kind is not FeatureKind.LINE_OF_PLAY)
    path.write_text(write_course(replace(ground, features=kept)), encoding="utf-8")
    found = find_places(ROOM.course(path), "penalty-area-lateral-red", ROOM.books(["2023"]), player=PLAYER, count=1)
    assert found.places == () and "line of play" in found.why_none


def test_an_adopted_local_rule_is_shown() -> None:
    found = find_places(ROOM.course(DEMO), "preferred-lies", ROOM.books(["2023+preferred-lies"]), player=PLAYER, count=3)
    fairways = [fairway.geometry for fairway in found.course.of_kind(FeatureKind.FAIRWAY)]
    assert len(found.places) == 3
    for place in found.places:
        assert place.incident.ball is not None
        assert any(fairway.distance(Point(place.incident.ball.xy)) < 0.03 for fairway in fairways)


def test_an_unknown_procedure_names_the_nearest_three() -> None:
    with pytest.raises(DataError) as caught:
        find_places(ROOM.course(DEMO), "penalty-area-lateral-rd", ROOM.books(["2023"]), player=PLAYER, count=3)
    assert caught.value.exit_code == 2
    assert "penalty-area-lateral-red" in caught.value.hint
    assert caught.value.hint.count(",") == 2


@pytest.mark.parametrize(("count", "club_in"), [(0, 45.0), (3, 400.0)])
def test_what_cannot_be_is_refused(count: int, club_in: float) -> None:
    with pytest.raises(DataError):
        find_places(
            ROOM.course(DEMO), "penalty-area-lateral-red", ROOM.books(["2023"]), player=Player(longest_club_in=club_in), count=count
        )
