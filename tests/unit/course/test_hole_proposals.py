"""Which green, tee and line make up a hole: small maps laid out by hand, and real ones without their numbers."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise, permutations
from pathlib import Path

import pytest
from shapely.geometry import LineString, Point, box

from marram.core.errors import SurveyError
from marram.core.terms import FeatureKind
from marram.course.check.faults import FaultKind
from marram.course.check.whole import check_course
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Frame
from marram.course.numbering.matching import Matched, match_holes
from marram.course.numbering.numbers import number_holes
from marram.course.numbering.order import order_holes, walks_m
from marram.course.numbering.proposals import HoleEntry, Proposals, Sure, propose_holes
from marram.interchange.courses.course_geojson import parse_course, read_course, write_course
from marram.interchange.maps.map_import import MapOptions, import_map
from tests.support.ground import feature

ROOT = Path(__file__).resolve().parents[3]
KIND = FeatureKind


def ground(*features: Feature) -> Course:
    edge = feature("boundary", KIND.BOUNDARY, box(-500, -500, 1500, 1500))
    return Course(name="Hand", frame=Frame(-2.0, 55.0), sigma_m=0.05, features=(edge, *features), extra='{"course": {}}')


def tee(name: str, x: float, y: float, *, holes: tuple[int, ...] = ()) -> Feature:
    return feature(f"tee-{name}", KIND.TEEING_AREA, box(x - 4, y - 4, x + 4, y + 4), holes=holes)


def green(name: str, x: float, y: float, *, holes: tuple[int, ...] = ()) -> Feature:
    return feature(f"green-{name}", KIND.PUTTING_GREEN, Point(x, y).buffer(11), holes=holes)


def fairway(name: str, x: float, least_y: float, most_y: float) -> Feature:
    return feature(f"fairway-{name}", KIND.FAIRWAY, box(x - 14, least_y, x + 14, most_y))


def loop() -> list[Feature]:
    """Three holes: up for 380 m, 130 m across, and back down for 360 m; each tee some 35 m from the green before."""
    return [
        *(green("a", 0, 380), fairway("a", 0, 80, 360), tee("a", 0, 10), tee("a2", 2, 35)),
        *(tee("b", 40, 385), green("b", 185, 385)),
        *(tee("c", 220, 400), fairway("c", 220, 40, 330), green("c", 220, 20)),
    ]


def found(course: Course, **more: str) -> Proposals:
    return propose_holes(course, **more)


def test_fairways_and_a_par_3_lead_to_the_tees() -> None:
    made = {matched.green.id: [each.id for each in matched.tees] for matched in match_holes(ground(*loop())) if matched.green}
    assert made == {"green-a": ["tee-a2", "tee-a"], "green-b": ["tee-b"], "green-c": ["tee-c"]}


def test_the_walk_makes_the_order_and_the_first_hole_is_stated() -> None:
    proposed = found(ground(*loop()), first="tee-a")
    assert [(each.hole.number, each.hole.green) for each in proposed.holes] == [(1, "green-a"), (2, "green-b"), (3, "green-c")]
    assert {each.number_sure for each in proposed.holes[1:]} == {Sure.LIKELY}
    assert "Walk from the green before" in proposed.holes[1].why
    assert [each.hole.green for each in found(ground(*loop()), first="green-b").holes] == ["green-b", "green-c", "green-a"]


def test_without_a_first_hole_every_number_is_a_guess() -> None:
    assert {each.number_sure for each in found(ground(*loop())).holes} == {Sure.GUESS}


def test_a_line_decides_whatever_lies_nearer_and_may_run_backwards() -> None:
    line = feature("line-x", KIND.LINE_OF_PLAY, LineString([(185, 385), (100, 200), (0, 10)]))
    holes = {each.hole.line: each for each in found(ground(*loop(), line)).holes}
    hole = holes["line-x"]
    assert (hole.hole.green, hole.sure) == ("green-b", Sure.DRAWN)
    assert hole.hole.tees[0] == "tee-a"
    assert "drawn from green to tee" in hole.why


def test_lines_and_hole_locations_alone_make_holes() -> None:
    features = [
        feature("line-p", KIND.LINE_OF_PLAY, LineString([(0, 0), (0, 300)])),
        feature("line-q", KIND.LINE_OF_PLAY, LineString([(60, 0), (60, 310)])),  # drawn towards its tee: the hole is at its start
        feature("pin-p", KIND.HOLE_LOCATION, Point(3, 303)),
        feature("pin-q", KIND.HOLE_LOCATION, Point(62, 2)),
    ]
    proposed = found(ground(*features), first="line-p")
    assert [(each.hole.line, each.hole.location) for each in proposed.holes] == [("line-p", "pin-p"), ("line-q", "pin-q")]
    done = number_holes(ground(*features), [each.hole for each in proposed.holes])
    assert done.remarks == ("line-q ran from green to tee and was turned round.",)
    assert done.course.hole(2).location is not None
    line = done.course.hole(2).line
    assert line is not None
    assert line.coords[-1] == (60, 0)


def test_a_number_in_the_survey_stays_and_the_others_follow_it() -> None:
    features = [replace(each, holes=(7,)) if each.id in {"green-b", "tee-b"} else each for each in loop()]
    numbers = {each.hole.green: each.hole.number for each in found(ground(*features)).holes}
    assert numbers["green-b"] == 7
    assert sorted(numbers.values()) == [1, 2, 7]


def test_a_numbered_green_gets_its_tees_and_keeps_its_number() -> None:
    features = [replace(each, holes=(5,)) if each.id == "green-c" else each for each in loop()]
    five = next(each for each in found(ground(*features)).holes if each.hole.number == 5)
    assert (five.hole.green, five.hole.tees, five.number_sure) == ("green-c", ("tee-c",), Sure.STATED)
    assert five.sure is not Sure.STATED


def test_a_numbered_line_gets_its_green_and_tees() -> None:
    line = feature("line-x", KIND.LINE_OF_PLAY, LineString([(40, 385), (185, 385)]), holes=(6,))
    six = next(each for each in found(ground(*loop(), line)).holes if each.hole.number == 6)
    assert (six.hole.green, six.hole.tees, six.sure, six.number_sure) == ("green-b", ("tee-b",), Sure.DRAWN, Sure.STATED)


def test_what_is_numbered_otherwise_never_goes_together() -> None:
    features = [replace(each, holes={"green-c": (5,), "tee-c": (1,)}.get(each.id, ())) for each in loop()]
    proposed = found(ground(*features)).holes
    five = next(each for each in proposed if each.hole.number == 5)
    assert five.hole.green == "green-c"
    assert "tee-c" not in five.hole.tees
    assert 1 not in {each.hole.number for each in proposed}  # its tee alone makes no hole, and nobody else gets its number


def test_a_line_leaves_a_green_and_a_tee_that_are_numbered_otherwise() -> None:
    line = feature("line-x", KIND.LINE_OF_PLAY, LineString([(40, 385), (185, 385)]), holes=(6,))
    features = [replace(each, holes={"green-b": (5,), "tee-b": (4,)}.get(each.id, ())) for each in loop()]
    six = next(each for each in found(ground(*features, line)).holes if each.hole.number == 6)
    assert (six.hole.green, six.hole.tees) == ("", ())


def test_a_practice_green_is_left() -> None:
    nine = [entry for n in range(9) for entry in (green(str(n), 90 * n, 330), fairway(str(n), 90 * n, 60, 310), tee(str(n), 90 * n, 0))]
    proposed = found(ground(*nine, green("practice", 900, -300)))
    assert len(proposed.holes) == 9
    assert proposed.left == ("green-practice",)


def test_a_green_of_two_fairways_is_a_double_green() -> None:
    features = [
        *(green("d", 0, 0), fairway("n", 0, 20, 260), tee("n", 0, 320)),
        *(feature("fairway-s", KIND.FAIRWAY, box(-14, -260, 14, -20)), tee("s", 0, -320)),
    ]
    holes = found(ground(*features)).holes
    assert sorted((each.hole.green, each.hole.tees) for each in holes) == [("green-d", ("tee-n",)), ("green-d", ("tee-s",))]
    done = number_holes(ground(*features), [each.hole for each in holes]).course
    assert next(each for each in done.features if each.id == "green-d").holes == (1, 2)


def test_nothing_to_make_a_hole_of() -> None:
    assert found(ground()) == Proposals(holes=(), left=())
    assert found(ground(tee("a", 0, 0))) == Proposals(holes=(), left=("tee-a",))


def test_a_first_hole_that_is_not_there() -> None:
    with pytest.raises(SurveyError, match="goes with no hole"):
        found(ground(*loop()), first="green-z")


@pytest.mark.parametrize("seed", range(12))
def test_the_order_is_the_shortest_round_of_walks(seed: int) -> None:
    """Held against every order of seven holes, one after the other."""
    rng = random.Random(seed)
    places = [(rng.uniform(0, 900), rng.uniform(0, 900)) for _ in range(14)]
    holes = [Matched(green=green(str(n), *places[n]), tees=(tee(str(n), *places[n + 7]),)) for n in range(7)]
    walks = walks_m(holes)

    def round_m(order: Sequence[int]) -> float:
        return float(sum(walks[a, b] for a, b in pairwise([*order, order[0]])))

    shortest_m = min(round_m((0, *rest)) for rest in permutations(range(1, 7)))
    assert sorted(order_holes(holes)) == list(range(7))
    assert round_m(order_holes(holes)) == pytest.approx(shortest_m)


# Real courses ---------------------------------------------------------------------------------------------------------


def without_numbers(course: Course, *, lines: bool) -> Course:
    dropped = {KIND.HOLE_LOCATION} if lines else {KIND.HOLE_LOCATION, KIND.LINE_OF_PLAY}
    return replace(course, features=tuple(replace(each, holes=()) for each in course.features if each.kind not in dropped))


@pytest.fixture(scope="module")
def parkland() -> Course:
    return import_map(ROOT / "tests/data/courses/iom-parkland-18-ponds.osm", MapOptions()).course


def score(course: Course, *, lines: bool) -> tuple[int, int, int]:
    """Holes whose first tee is theirs by the map's own numbers; whose first tee has no number there; numbers right up to rotation."""
    truth = {each.id: set(each.holes) for each in course.features}
    holes = [each for each in match_holes(without_numbers(course, lines=lines)) if each.green is not None and each.tees]
    right = sum(bool(truth[each.tees[0].id] & truth[each.green.id]) for each in holes if each.green)
    unknown = sum(not truth[each.tees[0].id] for each in holes)
    told = [truth[holes[place].green.id] for place in order_holes(holes)]  # type: ignore[union-attr]
    rotated = [[(at + turn) % 18 + 1 for at in range(len(told))] for turn in range(18)]
    return right, unknown, max(sum(number in own for number, own in zip(numbers, told, strict=True)) for numbers in rotated)


def test_a_real_course_without_its_numbers_by_its_lines(parkland: Course) -> None:
    """The map's own numbers are the truth; docs/accuracy.md states these figures."""
    assert score(parkland, lines=True) == (18, 0, 11)


def test_a_real_course_without_its_numbers_and_lines(parkland: Course) -> None:
    assert score(parkland, lines=False) == (16, 2, 11)


def test_the_demo_course_without_its_numbers() -> None:
    demo = read_course(ROOT / "examples/courses/thimble-moor.geojson")
    assert score(demo, lines=True) == (18, 0, 9)
    assert score(demo, lines=False) == (16, 0, 9)


# Putting numbers on ---------------------------------------------------------------------------------------------------


def test_a_numbered_course_is_written_read_and_has_nothing_without_a_number() -> None:
    course = ground(*loop())
    done = number_holes(course, [each.hole for each in found(course, first="green-a").holes], draws_lines=True)
    again = parse_course(write_course(replace(done.course, extra='{"course": {"name": "Hand", "origin": [-2.0, 55.0]}}')), where="a")
    assert list(again.holes) == [1, 2, 3]
    assert {fault.kind for fault in check_course(again)} == {
        FaultKind.MISSING_HOLE,
        FaultKind.PAR,
        FaultKind.STROKE_INDEX,
        FaultKind.LOCATION_ASSUMED,
        FaultKind.WIDTH_ASSUMED,
    }
    assert done.remarks == (
        "Straight lines of play were drawn for holes 1, 2, 3.",
        "Where the hole is cut was assumed on holes 1, 2, 3.",
    )


def test_lines_that_cannot_be_drawn_say_why() -> None:
    course = ground(green("a", 0, 300), tee("b", 300, 0))
    done = number_holes(course, [HoleEntry(number=1, green="green-a"), HoleEntry(number=2, green="", tees=("tee-b",))], draws_lines=True)
    assert done.remarks[0] == "No line of play could be drawn for hole 1 (no tee), hole 2 (no green)."


def test_a_hole_location_that_is_there_is_not_assumed_again() -> None:
    course = ground(green("a", 0, 300), feature("pin", KIND.HOLE_LOCATION, Point(2, 300), holes=(1,)))
    done = number_holes(course, [HoleEntry(number=1, green="green-a")])
    assert done.remarks == ()
    assert [each.id for each in done.course.of_kind(KIND.HOLE_LOCATION)] == ["pin"]


def test_a_line_is_turned_only_where_the_hole_lies_clearly_at_its_start() -> None:
    pin = feature("pin", KIND.HOLE_LOCATION, Point(0, 50.4), holes=(1,))
    course = ground(feature("line-x", KIND.LINE_OF_PLAY, LineString([(0, 0), (0, 100)])), pin)
    assert number_holes(course, [HoleEntry(number=1, green="", line="line-x")]).remarks == ()
    aside = replace(pin, geometry=Point(0, 49.6))  # 0.8 m nearer to the start: it may be either way
    course = ground(feature("line-x", KIND.LINE_OF_PLAY, LineString([(0, 0), (0, 100)])), aside)
    assert number_holes(course, [HoleEntry(number=1, green="", line="line-x")]).remarks == ()


def test_a_named_feature_serves_these_holes_and_no_others() -> None:
    course = ground(green("a", 0, 300, holes=(4,)), green("b", 90, 300, holes=(5,)))
    done = number_holes(course, [HoleEntry(number=6, green="green-a")]).course
    assert {each.id: each.holes for each in done.of_kind(KIND.PUTTING_GREEN)} == {"green-a": (6,), "green-b": (5,)}


@pytest.mark.parametrize(
    ("holes", "said"),
    [
        ([HoleEntry(number=1, green="green-q")], "hole 1: there is no 'green-q' on the course; there are: green-a, green-b, green-c"),
        ([HoleEntry(number=1, green="tee-a")], "'tee-a' is no putting green"),
        ([HoleEntry(number=1, green="", line="tee-a")], "'tee-a' is no line of play; there are: none"),
        ([HoleEntry(number=2, green="green-a"), HoleEntry(number=2, green="green-b")], "hole 2 stands 2 times"),
        ([HoleEntry(number=0, green="green-a")], "a hole has a number from 1 to 99"),
    ],
)
def test_what_cannot_be_numbered_so(holes: list[HoleEntry], said: str) -> None:
    with pytest.raises(SurveyError, match="cannot be numbered") as error:
        number_holes(ground(*loop()), holes)
    assert said in error.value.message


def test_all_faults_of_a_table_are_told_at_once() -> None:
    with pytest.raises(SurveyError) as error:
        number_holes(ground(*loop()), [HoleEntry(number=1, green="x", tees=("y",), line="z")])
    assert error.value.message.count("there is no") == 3
