"""How a tee, a line of play and a green find each other, on ground laid out by hand; the distances are worked from the stated constants."""

from __future__ import annotations

import math

import pytest
from shapely.geometry import LineString, Point, box

from marram.core.terms import FeatureKind
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Frame
from marram.course.numbering.matching import Matched, match_holes
from marram.course.numbering.numbers import number_holes
from marram.course.numbering.order import order_holes
from marram.course.numbering.proposals import HoleEntry, propose_holes, with_features
from marram.course.numbering.ways import Way, off_way_m, ways_to
from tests.support.ground import feature

KIND = FeatureKind
GREEN = feature("green", KIND.PUTTING_GREEN, box(-10, -10, 10, 10))
STRAIGHT = (Way(begins=Point(0, 0), ahead=None, length_m=0.0, is_fairway=False),)
FAIRWAY = Way(begins=Point(0, 300), ahead=(0.0, 1.0), length_m=300.0)


def tee(x: float, y: float, *, holes: tuple[int, ...] = ()) -> Feature:
    """A tee 8 m square about a place."""
    return feature(f"tee-{x:.0f}-{y:.0f}", KIND.TEEING_AREA, box(x - 4, y - 4, x + 4, y + 4), holes=holes)


def ground(*features: Feature) -> Course:
    edge = feature("boundary", KIND.BOUNDARY, box(-2000, -2500, 2000, 2500))
    return Course(name="Hand", frame=Frame(-2.0, 55.0), sigma_m=0.05, features=(edge, *features), extra='{"course": {}}')


@pytest.mark.parametrize(
    ("length_m", "off_m"),
    [
        (130, 50.0),  # the usual par 3
        (180, 70.0),  # 50 m more than usual, 0.4 for each
        (90, 66.0),  # 40 m less
        (240, 94.0),  # the longest par 3: 110 m more than usual
        (250, 118.0),  # 120 m more than usual, and 10 m over the longest par 3 at 2 for each
    ],
)
def test_a_tee_without_a_fairway_fares_by_how_usual_a_par_3_it_makes(length_m: float, off_m: float) -> None:
    assert off_way_m(tee(0, 10 + length_m + 4), GREEN, STRAIGHT) == pytest.approx(off_m)


def test_a_tee_beyond_the_far_end_of_the_fairway_is_as_far_off_as_it_lies_from_it() -> None:
    assert off_way_m(tee(0, 324), GREEN, [FAIRWAY]) == pytest.approx(20.0)


def test_a_tee_square_to_the_fairway_counts_two_and_a_half_times_as_far() -> None:
    """Its middle lies 50 m aside of where the fairway begins, its edge 46 m; what of the way is no fairway comes on top."""
    assert off_way_m(tee(50, 300), GREEN, [FAIRWAY]) == pytest.approx(46 * 2.5)
    gap = Way(begins=Point(0, 300), ahead=(0.0, 1.0), length_m=300.0, gap_m=12.0)
    assert off_way_m(tee(50, 300), GREEN, [gap]) == pytest.approx(46 * 2.5 + 12)
    assert off_way_m(tee(50, 300), GREEN, [gap, FAIRWAY]) == pytest.approx(46 * 2.5)


def test_a_tee_beside_the_fairway_nearer_the_green_than_its_end_fares_worse() -> None:
    """At (50, 200): 46 m and 96 m from where the fairway begins, 36 m and 186 m from the green; 1 + 2/sqrt(5) behind."""
    aside = 1 + 100 / math.hypot(50, 100)
    expected = math.hypot(46, 96) * (1 + 1.5 * aside) + 2 * (300 - 30 - math.hypot(36, 186))
    assert off_way_m(tee(50, 200), GREEN, [FAIRWAY]) == pytest.approx(expected)


@pytest.mark.parametrize(("length_m", "may_be"), [(59, False), (60, True), (620, True), (621, False)])
def test_a_hole_is_60_to_620_m_from_tee_to_green(length_m: float, may_be: bool) -> None:
    assert math.isfinite(off_way_m(tee(0, 10 + length_m + 4), GREEN, [FAIRWAY])) is may_be


def test_what_is_numbered_otherwise_is_no_tee_of_the_green() -> None:
    green = feature("green", KIND.PUTTING_GREEN, box(-10, -10, 10, 10), holes=(3,))
    assert math.isfinite(off_way_m(tee(0, 324, holes=(3, 12)), green, [FAIRWAY]))
    assert math.isinf(off_way_m(tee(0, 324, holes=(4,)), green, [FAIRWAY]))


@pytest.mark.parametrize(("gap_m", "is_fairway"), [(30.0, True), (30.5, False)])
def test_a_fairway_ends_at_a_green_up_to_30_m_away(gap_m: float, is_fairway: bool) -> None:
    ((_, ways),) = ways_to(GREEN, [box(-14, 10 + gap_m, 14, 300)], [GREEN])
    assert [way.is_fairway for way in ways] == [is_fairway]


def test_a_fairway_begins_at_its_far_end_and_points_away_from_the_green_wherever_the_course_lies() -> None:
    """The green about (-1000, -2000), the fairway 40 m to 300 m north of it: its end is a square of 28 m by 40 m at the most."""
    green = feature("green", KIND.PUTTING_GREEN, box(-1010, -2010, -990, -1990))
    ((_, (way,)),) = ways_to(green, [box(-1014, -1960, -986, -1700)], [green])
    assert -1740 < way.begins.y < -1700
    assert -1014 < way.begins.x < -986
    assert way.ahead is not None and way.ahead[1] > 0.9
    assert way.length_m == pytest.approx(math.hypot(way.begins.x + 1000, way.begins.y + 2000))


# Lines and what is at their ends --------------------------------------------------------------------------------------

BENT = feature("line", KIND.LINE_OF_PLAY, LineString([(0, 0), (50, 100), (0, 300)]))


@pytest.mark.parametrize(("turned", "start", "end"), [(False, (0, 0), (0, 300)), (True, (0, 300), (0, 0))])
def test_a_hole_with_a_line_alone_begins_and_ends_with_it(turned: bool, start: tuple[int, int], end: tuple[int, int]) -> None:
    hole = Matched(green=None, line=BENT, turned=turned)
    assert hole.start == Point(start)
    assert hole.end == Point(end)


def lined(*features: Feature, line: Feature = BENT) -> Matched:
    (hole,) = (hole for hole in match_holes(ground(line, *features)) if hole.line is not None)
    return hole


def test_of_two_greens_off_the_ends_of_a_line_the_one_at_its_end_is_meant_though_the_other_is_nearer() -> None:
    """11 m beyond the end, 5 m behind the start: a green is looked for where the line ends, unless one holds its start."""
    ahead = feature("ahead", KIND.PUTTING_GREEN, box(-10, 311, 10, 330))
    behind = feature("behind", KIND.PUTTING_GREEN, box(-10, -25, 10, -5))
    about = feature("about", KIND.PUTTING_GREEN, box(-10, -15, 10, 5))
    assert lined(ahead, behind).green == ahead
    assert not lined(ahead, behind).turned
    assert lined(ahead, about).green == about
    assert lined(ahead, about).turned


@pytest.mark.parametrize(("off_m", "is_found"), [(15, True), (16, False)])
def test_a_line_ends_within_15_m_of_its_green(off_m: float, is_found: bool) -> None:
    green = feature("green", KIND.PUTTING_GREEN, box(-10, 300 + off_m, 10, 330))
    assert (lined(green).green is not None) is is_found


@pytest.mark.parametrize(("x", "count"), [(-34, 1), (-35, 0)])
def test_the_tees_of_a_line_lie_within_30_m_of_its_first_stretch(x: float, count: int) -> None:
    straight = feature("line", KIND.LINE_OF_PLAY, LineString([(0, 0), (0, 300)]))
    assert len(lined(tee(x, 30), line=straight).tees) == count
    assert lined(tee(0, 200), line=straight).tees == ()


def test_a_tee_of_another_number_is_not_taken_by_a_line() -> None:
    line = feature("line", KIND.LINE_OF_PLAY, LineString([(0, 0), (0, 300)]), holes=(6,))
    assert lined(tee(0, 0, holes=(7,)), line=line).tees == ()
    assert len(lined(tee(0, 0), line=line).tees) == 1


@pytest.mark.parametrize(("place", "is_found"), [((5, 305), True), ((5, 325), False)])
def test_a_hole_location_belongs_to_the_green_it_lies_on(place: tuple[float, float], is_found: bool) -> None:
    """5 m beyond the green would do at the end of a line without a green, and does not where there is one."""
    green = feature("green", KIND.PUTTING_GREEN, box(-10, 295, 10, 320))
    pin = feature("pin", KIND.HOLE_LOCATION, Point(place))
    assert (lined(green, pin).location is not None) is is_found


# A green to which no tee leads ----------------------------------------------------------------------------------------


def test_a_green_without_a_tee_begins_at_the_far_end_of_its_fairway() -> None:
    cut = feature("cut", KIND.FAIRWAY, box(-14, 40, 14, 300))
    (hole,) = match_holes(ground(GREEN, cut))
    assert hole.tees == ()
    assert hole.begins is not None and 260 < hole.begins.y < 300
    (bare,) = match_holes(ground(GREEN))
    assert bare.begins is None


def test_a_green_without_a_tee_stays_a_hole_where_a_round_has_room_for_it() -> None:
    """One green of which nothing shows how it is played: with fewer greens than nine it is no practice green."""
    (proposal,) = propose_holes(ground(GREEN)).holes
    assert (proposal.hole.green, proposal.hole.tees) == ("green", ())
    assert proposal.why.startswith("No tee was found for it.")


def test_of_ten_greens_the_one_to_which_nothing_leads_is_left() -> None:
    nine = [feature(f"green-{n}", KIND.PUTTING_GREEN, box(100 * n, 0, 100 * n + 20, 20)) for n in range(9)]
    tees = [tee(100 * n + 10, 154) for n in range(9)]
    proposed = propose_holes(ground(*nine, *tees, feature("practice", KIND.PUTTING_GREEN, box(0, -900, 20, -880))))
    assert len(proposed.holes) == 9
    assert proposed.left == ("practice",)


@pytest.mark.parametrize(("count", "said"), [(1, "on hole 1."), (2, "on holes 1, 2.")])
def test_one_hole_is_told_as_one_and_more_as_more(count: int, said: str) -> None:
    greens = [feature(f"green-{n}", KIND.PUTTING_GREEN, box(100 * n, 0, 100 * n + 20, 20)) for n in range(1, count + 1)]
    done = number_holes(ground(*greens), [HoleEntry(number=n, green=f"green-{n}") for n in range(1, count + 1)])
    assert done.remarks == (f"Where the hole is cut was assumed {said}",)


def test_lines_are_drawn_for_a_hole_with_green_and_tee_and_for_no_other() -> None:
    """From the middle of the tee at (0, 154) to the middle of the green at (0, 0); hole 2 has a green alone."""
    other = feature("other", KIND.PUTTING_GREEN, box(400, 0, 420, 20))
    holes = [HoleEntry(number=1, green="green", tees=("tee-0-154",)), HoleEntry(number=2, green="other")]
    done = number_holes(ground(GREEN, tee(0, 154), other), holes, draws_lines=True)
    assert done.remarks[:2] == (
        "Straight lines of play were drawn for hole 1.",
        "No line of play could be drawn for hole 2 (no tee).",
    )
    line = done.course.hole(1).line
    assert line is not None
    assert line.coords[0] == pytest.approx((0, 154))
    assert line.coords[-1] == pytest.approx((0, 0), abs=0.1)
    assert done.course.hole(2).line is None


def test_features_put_to_a_hole_take_the_place_of_their_own_kind_alone() -> None:
    hole = HoleEntry(number=4, green="old", tees=("one", "two"), line="line", location="pin")
    assert with_features(hole, [GREEN]) == HoleEntry(number=4, green="green", tees=("one", "two"), line="line", location="pin")
    changed = with_features(hole, [tee(0, 154), tee(9, 154)])
    assert changed == HoleEntry(number=4, green="old", tees=("tee-0-154", "tee-9-154"), line="line", location="pin")


# The order ------------------------------------------------------------------------------------------------------------


def on_a_row(places: list[tuple[float, float]]) -> list[Matched]:
    """Holes each with a tee and, 100 m north of it, a green."""
    return [
        Matched(green=feature(f"g{n}", KIND.PUTTING_GREEN, Point(x, y + 100).buffer(5)), tees=(tee(x, y),))
        for n, (x, y) in enumerate(places)
    ]


def test_two_holes_stay_in_their_order_and_three_follow_the_walk() -> None:
    """Each tee lies at the green before it: the first hole of the list ends where the last one begins."""
    assert order_holes(on_a_row([(0, 0), (0, 100)])) == [0, 1]
    order = order_holes(on_a_row([(0, 0), (0, 200), (0, 100)]))
    assert order[order.index(0) :] + order[: order.index(0)] == [0, 2, 1]
