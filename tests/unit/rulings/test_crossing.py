"""Which penalty area is meant where an outline is cut into parts, several touch, or red meets yellow."""

from __future__ import annotations

from dataclasses import replace

import pytest
from shapely.geometry import Polygon, box

from marram.answers.rules.ruling_answer import ruling_shape
from marram.core.errors import IncidentError
from marram.core.terms import Area, FeatureKind, Form, Hand, Mark
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Position
from marram.course.locate import locate
from marram.interchange.field.incident_file import parse_incident
from marram.interchange.field.incident_writing import incident_toml
from marram.rulebook import open_book, packaged_catalogue
from marram.rulings import Incident, Option, Player, PreviousStroke, Ruling, rule_on
from tests.support.ground import course, feature, pond

EDITIONS = packaged_catalogue().editions
BOOKS = {edition: open_book(edition, [], packaged_catalogue()) for edition in EDITIONS}
TWO_CLUBS_M = 2 * 45 * 0.0254
RED, YELLOW = Mark.RED, Mark.YELLOW
LATERAL, ON_LINE = "penalty-area-lateral-red", "penalty-area-back-on-line"


def water(name: str, outline: Polygon, mark: Mark = RED, sigma_m: float | None = 0.05) -> Feature:
    return feature(name, FeatureKind.PENALTY_AREA, outline, mark=mark, what="pond", sigma_m=sigma_m)


def at(x_m: float, y_m: float) -> Position:
    return Position(x_m=x_m, y_m=y_m)


def ball_in_water(ball: Position | None, crossed: Position | None) -> Incident:
    return Incident(
        hole=1,
        situation="penalty-area",
        form=Form.STROKE_PLAY,
        ball=ball,
        player=Player(hand=Hand.RIGHT, longest_club_in=45),
        facts={"known_in_penalty_area": True},
        crossed_at=crossed,
        previous_stroke=PreviousStroke(at=at(0, -200), area=None),
    )


def ruled(stated: Incident, ground: Course, edition: str = "2023") -> Ruling:
    return rule_on(stated, ground, BOOKS[edition])


def option(ruling: Ruling, procedure: str) -> Option | None:
    return next((each for each in ruling.options if each.procedure == procedure), None)


def asked(ruling: Ruling) -> dict[str, tuple[str, ...]]:
    return {entry.fact: entry.answers for entry in ruling.facts_needed}


# An outline cut into parts -------------------------------------------------------------------------------------------

# The boundary has a bay from the east between y = -60 and y = -50: it cuts the stream, one outline, into a north and a south part.
BAY = Polygon([(-300, -450), (300, -450), (300, -60), (-20, -60), (-20, -50), (300, -50), (300, 150), (-300, 150)])
STREAM = water("stream", box(0, -80, 6, -30))


@pytest.mark.parametrize(("ball", "crossed"), [((3, -45), (0, -45)), ((3, -65), (0, -65))])
@pytest.mark.parametrize("edition", EDITIONS)
def test_the_part_that_holds_the_ball_is_left(ball: tuple[float, float], crossed: tuple[float, float], edition: str) -> None:
    """A stream cut in two by the boundary: from either part relief is found beside that part."""
    ground = course(STREAM, boundary=BAY)
    assert len(ground.penalty_areas) == 2
    ruling = ruled(ball_in_water(at(*ball), at(*crossed)), ground, edition)
    lateral = option(ruling, LATERAL)
    assert lateral is not None
    assert lateral.relief_area is not None
    assert lateral.references[0].position.distance_m(at(*crossed)) < 1e-9
    assert lateral.crossing_moved_m == pytest.approx(0, abs=1e-9)
    assert lateral.relief_area.area_m2 > 0.5 * TWO_CLUBS_M**2 or edition == "draft-2017"
    place = locate(ground, 1, at(*ball))
    assert place.ground is not None
    assert place.ground.area == pytest.approx(6 * 20, abs=0.01)


def test_stroke_and_distance_stays_in_the_part_that_the_stroke_was_made_from() -> None:
    """One club-length about a stroke from the middle of the south part, all of it water: most of a half disc of 1.143 m."""
    stated = replace(ball_in_water(at(3, -45), at(0, -45)), previous_stroke=PreviousStroke(at=at(3, -70), area=None))
    again = option(ruled(stated, course(STREAM, boundary=BAY)), "penalty-area-stroke-and-distance")
    assert again is not None
    assert again.relief_area is not None
    half_m2 = 3.14159265 * (45 * 0.0254) ** 2 / 2
    assert half_m2 * 0.97 < again.relief_area.area_m2 < half_m2 * 1.03
    assert [part.area for part in again.relief_area.parts] == [Area.PENALTY_AREA]


def test_water_of_another_mark_above_cuts_an_outline_too() -> None:
    """A yellow ditch crosses a red pond: red is two penalty areas, and a ball in the east one has its own edge."""
    ground = course(water("pond", box(-20, -60, 20, -40)), water("ditch", box(-2, -70, 2, -30), YELLOW))
    assert sorted(area.mark for area in ground.penalty_areas) == [RED, RED, YELLOW]
    ruling = ruled(ball_in_water(at(10, -50), at(20, -50)), ground)
    found = option(ruling, LATERAL)
    assert found is not None
    assert asked(ruling) == {}
    with pytest.raises(IncidentError, match="from the edge"):
        ruled(ball_in_water(at(10, -50), at(-20, -50)), ground)


def test_two_that_touch_in_a_point_are_one() -> None:
    """Squares of 10 m that meet in (0, -50): the line back from the south edge of one runs through both, and both are left."""
    ground = course(water("west", box(-10, -60, 0, -50)), water("east", box(0, -50, 10, -40)))
    (area,) = ground.penalty_areas
    assert {each.id for each in area.features} == {"west", "east"}
    ruling = ruled(ball_in_water(at(-5, -55), at(5, -40)), ground)
    back = option(ruling, ON_LINE)
    assert back is not None
    assert back.line is not None
    # From (5, -40) away from the hole x = -y / 8: out of the east square at its east edge never, at y = -50 to dry ground.
    (first, _), *_ = back.line.intervals_m
    assert first == pytest.approx(((6.25 - 5) ** 2 + 10**2) ** 0.5, abs=1e-6)


def test_after_a_stroke_from_water_the_edge_is_that_of_the_water_it_was_made_from() -> None:
    """Lost out of bounds after a stroke from the west pond: a crossing on the edge of another pond 40 m off is a mistake."""
    ponds = course(water("west", box(-30, -60, -20, -50)), water("east", box(20, -60, 30, -50)))
    stated = replace(
        ball_in_water(None, at(-20, -55)),
        situation="lost",
        facts={},
        previous_stroke=PreviousStroke(at=at(-25, -55), area=None),
        last_stroke_outside=PreviousStroke(at=at(0, -200), area=None),
    )
    assert any(each.crossing_moved_m is not None for each in ruled(stated, ponds).options)
    with pytest.raises(IncidentError, match=r"40\.0 m from the edge"):
        ruled(replace(stated, crossed_at=at(20, -55)), ponds)


@pytest.mark.parametrize(("gap_m", "count"), [(0.001, 1), (0.003, 2)])
def test_water_a_millimetre_apart_is_one(gap_m: float, count: int) -> None:
    """Edges that were one may be read 1.4 mm apart, each corner being held to whole millimetres."""
    assert len(course(water("west", box(-10, -60, 0, -50)), water("east", box(gap_m, -60, 10, -50))).penalty_areas) == count


# A crossing point off the edge ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("off_m", [0.0, 0.3, 1.9])
def test_a_crossing_point_that_is_moved_is_told_with_the_distance(off_m: float) -> None:
    ruling = ruled(ball_in_water(at(0, -55), at(15 + off_m, -55)), course(pond()))
    lateral = option(ruling, LATERAL)
    assert lateral is not None
    assert lateral.crossing_moved_m == pytest.approx(off_m, abs=1e-9)
    told = [line.text for line in ruling.lines if "off the edge" in line.text]
    assert told == (
        [f"The crossing point stated lies {off_m:.2f} m off the edge; the nearest point of the edge is taken."] if off_m else []
    )


def test_a_crossing_point_of_a_condition_that_is_moved_is_told_too() -> None:
    path = feature("path", FeatureKind.IMMOVABLE_OBSTRUCTION, box(-2, -80, 2, -40), what="path")
    stated = replace(ball_in_water(None, at(2.4, -60)), situation="immovable-obstruction", facts={"known_in_condition": True})
    found = [each for each in ruled(stated, course(path)).options if each.crossing_moved_m is not None]
    assert found
    assert all(each.crossing_moved_m == pytest.approx(0.4, abs=1e-6) for each in found)


# Red meets yellow ----------------------------------------------------------------------------------------------------

TWO_MARKS = course(water("west", box(-20, -60, 0, -40)), water("east", box(0, -60, 20, -40), YELLOW))


@pytest.mark.parametrize("ball", [(-5, -50), (5, -50), None])
@pytest.mark.parametrize("edition", EDITIONS)
def test_where_marks_meet_the_official_is_asked(ball: tuple[float, float] | None, edition: str) -> None:
    """Lateral relief hangs on the edge that was crossed last. Rules of Golf (January 2016), Rule 26-1c; (January 2019), 17.1d(3)."""
    stated = ball_in_water(None if ball is None else at(*ball), at(0, -60))
    ruling = ruled(stated, TWO_MARKS, edition)
    assert set(asked(ruling)["crossed_mark"]) == {"red", "yellow"}
    assert option(ruling, LATERAL) is None
    by_red, by_yellow = (ruled(replace(stated, crossed_mark=mark), TWO_MARKS, edition) for mark in (RED, YELLOW))
    assert "crossed_mark" not in asked(by_red) | asked(by_yellow)
    assert option(by_red, LATERAL) is not None
    assert option(by_yellow, LATERAL) is None
    assert option(by_yellow, ON_LINE) is not None


@pytest.mark.parametrize("ball", [(-5, -50), (5, -50)])
def test_elsewhere_the_edge_that_was_crossed_decides(ball: tuple[float, float]) -> None:
    """The ball may lie in the part of the other mark: what counts is the edge that it crossed last."""
    red, yellow = (ruled(ball_in_water(at(*ball), at(*edge)), TWO_MARKS) for edge in ((-20, -50), (20, -50)))
    assert "crossed_mark" not in asked(red) | asked(yellow)
    assert option(red, LATERAL) is not None
    assert option(yellow, LATERAL) is None


def test_relief_leads_out_of_both_where_the_edge_is_of_the_other_mark() -> None:
    """Red from y = -40 to -50 and yellow behind it to -60: over red's near edge into yellow, the line back is dry from 20 m on."""
    behind = course(water("near", box(-10, -50, 10, -40)), water("far", box(-10, -60, 10, -50), YELLOW))
    back = option(ruled(ball_in_water(at(0, -55), at(0, -40)), behind), ON_LINE)
    assert back is not None
    assert back.line is not None
    assert back.line.intervals_m[0][0] == pytest.approx(20, abs=1e-6)


@pytest.mark.parametrize(("mark", "entered"), [(RED, (0.0, -170 / 3)), (YELLOW, (5.0, -60.0))])
def test_a_flight_over_one_mark_into_the_other(mark: Mark, entered: tuple[float, float]) -> None:
    """From (20, -70) to (-10, -50): into yellow at (5, -60), over the seam at x = 0, y = -56.67."""
    stated = replace(ball_in_water(at(-10, -50), None), flight=(at(20, -70), at(-10, -50)))
    assert "crossed_mark" in asked(ruled(stated, TWO_MARKS))
    back = option(ruled(replace(stated, crossed_mark=mark), TWO_MARKS), ON_LINE)
    assert back is not None
    assert back.references[0].position.distance_m(at(*entered)) < 1e-6


def test_somebody_elses_estimate_on_the_seam_is_measured_by_the_same_mark() -> None:
    stated = replace(ball_in_water(at(-5, -50), at(-1, -60)), other_crossed_at=at(0, -60))
    lateral = option(ruled(stated, TWO_MARKS), LATERAL)
    assert lateral is not None
    assert lateral.doubt is not None
    assert lateral.doubt.other_area is not None


def test_a_mark_that_is_not_there_is_refused() -> None:
    with pytest.raises(IncidentError, match="unmarked"):
        ruled(replace(ball_in_water(at(-5, -50), at(0, -60)), crossed_mark=Mark.UNMARKED), TWO_MARKS)


def test_a_flight_that_leaves_the_water_again_counts_where_it_came_in() -> None:
    """Over the pond, 30 m by 30 m, and back on dry land: the last place where it came in, not where it went out."""
    stated = replace(ball_in_water(at(0, -55), None), flight=(at(-30, -55), at(30, -55)))
    lateral = option(ruled(stated, course(pond())), LATERAL)
    assert lateral is not None
    assert lateral.references[0].position.distance_m(at(-15, -55)) < 1e-9


def test_a_flight_over_an_arm_of_the_water_counts_where_it_came_in_last() -> None:
    """A pond like a U, its arms 10 m wide: over the west arm, over dry ground, and into the east arm at x = 10."""
    horseshoe = water("pond", Polygon([(-20, -80), (20, -80), (20, -40), (10, -40), (10, -70), (-10, -70), (-10, -40), (-20, -40)]))
    for start in (-30, -15):  # a ball struck from within the west arm has come in again too
        stated = replace(ball_in_water(at(15, -50), None), flight=(at(start, -50), at(15, -50)))
        lateral = option(ruled(stated, course(horseshoe)), LATERAL)
        assert lateral is not None
        assert lateral.references[0].position.distance_m(at(10, -50)) < 1e-9


def test_a_flight_that_begins_in_the_water_and_never_leaves_it_comes_in_nowhere() -> None:
    stated = replace(ball_in_water(at(0, -55), None), flight=(at(-10, -55), at(0, -55)))
    with pytest.raises(IncidentError, match="from outside"):
        ruled(stated, course(pond()))


@pytest.mark.parametrize(("x_m", "mark"), [(-0.01, RED), (0.01, YELLOW)])
def test_a_ball_that_touches_both_marks_is_in_the_nearer(x_m: float, mark: Mark) -> None:
    assert locate(TWO_MARKS, 1, at(x_m, -50)).mark is mark


def test_the_mark_is_stated_in_a_file_and_written_again() -> None:
    text = """
hole = 1
situation = "penalty-area"
ball = { x_m = -5.0, y_m = -50.0 }
[facts]
crossed_at = { x_m = 0.0, y_m = -60.0 }
crossed_mark = "yellow"
"""
    stated = parse_incident(text, TWO_MARKS, where="a.toml", known_facts=frozenset())
    assert stated.crossed_mark is YELLOW
    assert parse_incident(incident_toml(stated, title=""), TWO_MARKS, where="b.toml", known_facts=frozenset()) == stated
    for wrong in ('"blue"', "true"):
        with pytest.raises(IncidentError, match="no mark"):
            parse_incident(text.replace('"yellow"', wrong), TWO_MARKS, where="a.toml", known_facts=frozenset())


def test_the_question_is_told_with_its_answers() -> None:
    told = ruling_shape(ruled(ball_in_water(at(-5, -50), at(0, -60)), TWO_MARKS), TWO_MARKS.frame)
    assert told.facts_needed[0].fact == "crossed_mark"
    assert told.facts_needed[0].answers == ("red", "yellow")


# Tees and greens -----------------------------------------------------------------------------------------------------


def test_a_teeing_area_under_another_holes_stays_whole() -> None:
    """The tee of hole 1 is 10 m by 10 m; that of hole 2 covers half of it, and lies on top as the smaller."""
    forward = feature("forward", FeatureKind.TEEING_AREA, box(-3, -340, 3, -336), holes=(1,))
    ground = course(feature("tee-2", FeatureKind.TEEING_AREA, box(0, -384, 9, -376), holes=(2,)), forward)
    for spot in ((-3, -380), (3, -380)):
        stated = replace(ball_in_water(None, None), situation="lost", previous_stroke=PreviousStroke(at=at(*spot), area=None))
        (again,) = [each for each in ruled(stated, ground).options if each.relief_area is not None]
        assert again.relief_area is not None
        assert again.relief_area.area_m2 == pytest.approx(100, abs=0.01)
        place = locate(ground, 1, at(*spot))
        assert place.area is Area.TEEING_AREA
        assert place.margin_m == pytest.approx(2, abs=0.01)


def test_a_green_in_two_outlines_is_one_green() -> None:
    """The front of a green of two halves is where the line of play meets the first of them, 12 m short of the hole."""
    bare = course()
    kept = tuple(each for each in bare.features if each.id != "green-1")
    halves = (
        feature("green-1b", FeatureKind.PUTTING_GREEN, box(-12, 0, 12, 12), holes=(1,)),
        feature("green-1a", FeatureKind.PUTTING_GREEN, box(-12, -12, 12, 0), holes=(1,)),
    )
    for features in (halves, halves[::-1]):
        ground = replace(bare, features=(*kept, *features))
        spot = ground.hole(1).before_green(5.0, 0.0)
        assert spot is not None
        assert spot.distance_m(at(0, -17)) < 1e-9
        green = ground.hole(1).green
        assert green is not None
        assert green.geometry.area == pytest.approx(24 * 24)
        assert locate(ground, 1, at(0, -0.1)).margin_m == pytest.approx(11.9, abs=1e-6)


def test_greens_that_lie_apart_are_not_joined() -> None:
    """Of two greens the one counts that holds the hole."""
    bare = course(feature("green-0", FeatureKind.PUTTING_GREEN, box(-12, -60, 12, -50), holes=(1,)))
    green = bare.hole(1).green
    assert green is not None
    assert green.id == "green-1"
