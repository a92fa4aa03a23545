"""Conditions that touch are one, and what is in the way at a point of relief is told with the next point."""

from __future__ import annotations

import pytest
from shapely.geometry import Polygon, box

from marram.answers.rules.ruling_answer import ruling_shape
from marram.core.terms import Club, FeatureKind, Form, Hand
from marram.course.features import Feature
from marram.course.frame import Position
from marram.relief.clear.stance import STANCES, clearance_m, footprint
from marram.rulebook import Book, open_book, packaged_catalogue, read_overlay
from marram.rulings import Incident, Option, Player, Ruling, rule_on
from tests.support.ground import FRAME, HOLE, course, feature

EDITIONS = packaged_catalogue().editions
BOOKS = {edition: open_book(edition, [], packaged_catalogue()) for edition in EDITIONS}
PATH, REPAIR = FeatureKind.IMMOVABLE_OBSTRUCTION, FeatureKind.GROUND_UNDER_REPAIR
NO_REASON = {"another_reason_makes_stroke_unreasonable": False, "interference_only_by_unreasonable_stroke": False}
MAIN = feature("main", PATH, box(-1.5, -140, 1.5, -60), what="path")


def ruled(
    features: tuple[Feature, ...],
    at: tuple[float, float],
    edition: str = "2023",
    situation: str = "immovable-obstruction",
    book: Book | None = None,
) -> Ruling:
    stated = Incident(
        hole=1,
        situation=situation,
        form=Form.STROKE_PLAY,
        ball=Position(x_m=at[0], y_m=at[1]),
        player=Player(hand=Hand.RIGHT, longest_club_in=45, club=Club.IRON),
        facts=NO_REASON,
    )
    return rule_on(stated, course(*features), book or BOOKS[edition])


def the_option(ruling: Ruling) -> Option:
    (option,) = ruling.options
    return option


def branch(gap_m: float = 0.0, sigma_m: float | None = 0.05, what: str = "path") -> Feature:
    return feature("branch", PATH, box(1.5 + gap_m, -104, 40, -97), what=what, sigma_m=sigma_m)


def on_m2(option: Option, outline: Polygon) -> float:
    assert option.relief_area is not None
    return float(option.relief_area.outline().intersection(outline).area)


@pytest.mark.parametrize("edition", EDITIONS)
def test_relief_from_a_path_does_not_lead_onto_one_that_joins_it(edition: str) -> None:
    """East of the main path lies the branch: alone the point is 1.44 m east, on it; together it is west, clear of both.

    A right-hander plays north with the feet to the west, up to 0.94 m away, the clubhead reaching 0.04 m east and 0.10 m west of the ball.
    East of the main path the ball lies at 1.5 + 0.94 m; west of it, with the ball clear by 0.04 m, at -1.5 - 0.04 m.
    """
    alone, both = the_option(ruled((MAIN,), (1.0, -100), edition)), the_option(ruled((MAIN, branch()), (1.0, -100), edition))
    assert alone.references[0].position.x_m == pytest.approx(2.44, abs=0.005)
    assert both.references[0].position.x_m == pytest.approx(-1.54, abs=0.005)
    assert on_m2(alone, Polygon(branch().geometry.exterior)) > 0.1  # type: ignore[union-attr]
    assert on_m2(both, Polygon(branch().geometry.exterior)) == 0  # type: ignore[union-attr]
    assert both.further == ()


def test_that_they_are_one_is_told() -> None:
    told = [line.text for line in ruled((MAIN, branch()), (1.0, -100)).lines]
    assert "path (branch) and path (main) touch: relief is from all as one." in told
    assert not any("as one" in line.text for line in ruled((MAIN,), (1.0, -100)).lines)


@pytest.mark.parametrize(("gap_m", "sigma_m", "is_one"), [(0.04, 0.05, True), (0.04, None, True), (0.04, 0.01, False), (0.06, None, False)])
def test_a_gap_that_the_survey_cannot_tell_is_none(gap_m: float, sigma_m: float | None, is_one: bool) -> None:  # noqa: FBT001
    main = feature("main", PATH, MAIN.geometry, what="path", sigma_m=sigma_m)
    ruling = ruled((main, branch(gap_m, sigma_m)), (1.0, -100))
    told = [line.text for line in ruling.lines if "as one" in line.text]
    assert told == (
        ["path (branch) and path (main) lie apart by less than the survey can tell: relief is from all as one."] if is_one else []
    )
    assert (the_option(ruling).references[0].position.x_m < 0) is is_one


def test_another_path_in_the_way_is_told_with_the_next_point() -> None:
    """The branch lies 0.5 m off: not one with the main path, but the point 1.44 m east is on it, and from there one goes on."""
    option = the_option(ruled((MAIN, branch(0.5)), (1.0, -100)))
    (further,) = option.further
    assert (further.situation, further.features) == ("immovable-obstruction", ("branch",))
    assert further.interference is not None
    assert further.interference.parts >= {"lie", "swing"}
    assert further.on_area_m2 == pytest.approx(on_m2(option, box(2, -104, 40, -97)), abs=1e-6)
    # Out of the branch, 2 m east, back to the west of it: 0.04 m clear at x = 1.96, 0.48 m from the point, and over the main path again;
    # the line of play leans by 0.02 here, and the clubhead comes from 0.3 m behind the ball: 6 mm more.
    assert further.points[0].position.x_m == pytest.approx(1.954, abs=0.002)
    assert further.points[0].distance_m == pytest.approx(0.48, abs=0.01)
    assert further.is_back


@pytest.mark.parametrize("edition", EDITIONS)
def test_ground_under_repair_at_the_point_is_told(edition: str) -> None:
    """Decisions on the Rules of Golf (2016), Decision 1-4/8: relief from one, and then from the other where it is in the way."""
    repair = feature("repair", REPAIR, box(1.5, -105, 10, -95), what="seeded ground")
    ruling = ruled((MAIN, repair), (1.0, -100), edition)
    option = the_option(ruling)
    assert option.references[0].position.x_m == pytest.approx(2.44, abs=0.005)
    (further,) = option.further
    assert further.situation == "ground-under-repair"
    assert further.is_back
    assert further.points[0].position.x_m == pytest.approx(1.46, abs=0.005)
    (line,) = [line for line in ruling.lines if "seeded ground interferes" in line.text]
    assert f"{further.on_area_m2:.2f} m² of the area lie on it" in line.text
    assert "1-4/8" in line.citations[0].rule if edition == "2016" else "16.1" in line.citations[0].rule
    (told,) = ruling_shape(ruling, FRAME).options[0].further_interference
    assert (told.situation, told.back_in_the_first, told.features) == ("ground-under-repair", True, ("repair",))


def test_what_only_lies_under_the_area_is_told_too() -> None:
    """West of the path the point is at -1.54 m; the area reaches 1.143 m farther, and the ground under repair begins at -2.6 m."""
    repair = feature("repair", REPAIR, box(-9, -105, -2.6, -95), what="seeded ground")
    option = the_option(ruled((MAIN, repair), (-1.0, -100)))
    (further,) = option.further
    assert further.interference is None
    assert further.on_area_m2 == pytest.approx(on_m2(option, box(-9, -105, -2.6, -95)), abs=1e-6)
    assert further.on_area_m2
    assert further.points == ()


def test_nothing_is_told_where_nothing_else_is() -> None:
    repair = feature("repair", REPAIR, box(-30, -105, -20, -95))
    assert the_option(ruled((MAIN, repair), (1.0, -100))).further == ()


def test_a_shed_at_a_path_meets_the_shaft_and_the_path_does_not() -> None:
    """The ball lies between feet and path edge: of what joins the path only the shed stands in the shaft's way.

    A shed whose wall begins 0.30 m west of the ball lies between ball and feet (0.65 m): its roof is above ground that no foot touches.
    """
    post = feature("post", PATH, box(2.0, -100.05, 2.2, -99.95), what="post")
    kerb = feature("kerb", PATH, box(1.5, -100.05, 2.0, -99.95), what="kerb")
    flat = feature("flat", PATH, post.geometry, what="drain cover")
    ruling = ruled((MAIN, kerb, post), (2.5, -100.0))
    assert the_option(ruling).met is not None
    assert "swing" in the_option(ruling).met.parts  # type: ignore[union-attr]
    assert not ruled((kerb, flat), (2.5, -100.0)).options


def test_relief_from_a_path_is_clear_of_the_post_at_its_edge_too() -> None:
    """A post on the path's east edge, 0.40 m long and 0.10 m wide, passes between the feet of a ball 1.44 m east, under the shaft.

    The front foot stands 0.15 m ahead of the ball and is 0.10 m wide: only 0.25 m farther back it has passed the post, and the shaft too.
    """
    post = feature("post", PATH, box(1.5, -100.05, 1.9, -99.95), what="post")
    point = the_option(ruled((MAIN, post), (1.0, -100))).references[0].position
    samples = footprint(STANCES[Club.IRON], Hand.RIGHT, frozenset({"lie", "stance", "swing"}), with_shaft=True)
    assert clearance_m(point, HOLE, samples, post.geometry) > -0.001
    assert point.distance_m(Position(x_m=1.0, y_m=-100.0)) == pytest.approx((1.44**2 + 0.25**2) ** 0.5, abs=0.01)


WIDER = """title = "Wider relief from paths"
dated = 2026-02-01
on = ["2023"]
[[change]]
key = "relief.immovable-obstruction-general-area.size"
was = { club_lengths = 1 }
now = { club_lengths = 2 }
because = "To see how much more ground there is to drop on."
"""


def test_a_trial_that_moved_the_area_is_named_where_the_other_condition_is_told() -> None:
    """How much of the area lies on other ground follows from the trial's two club-lengths, so that line cites the trial."""
    repair = feature("repair", REPAIR, box(1.5, -105, 10, -95), what="seeded ground")
    wider = open_book("2023", [read_overlay(WIDER, name="wider", catalogue=packaged_catalogue())], packaged_catalogue())
    for book, named in ((wider, {"Wider relief from paths"}), (BOOKS["2023"], set())):
        (line,) = [line for line in ruled((MAIN, repair), (1.0, -100), book=book).lines if "seeded ground interferes" in line.text]
        assert {citation.overlay for citation in line.citations} - {None} == named


def test_at_a_point_of_most_relief_the_same_water_is_not_told_as_another() -> None:
    """The bunker is under water altogether, and a puddle 1 m outside is in nobody's way."""
    sand = feature("sand", FeatureKind.BUNKER, box(-3, -103, 3, -97))
    flood = feature("flood", FeatureKind.TEMPORARY_WATER, box(-3.5, -103.5, 3.5, -96.5))
    puddle = feature("puddle", FeatureKind.TEMPORARY_WATER, box(-5.5, -101, -4.5, -99))
    given = [each for each in ruled((sand, flood, puddle), (2.0, -100), "2023", situation="temporary-water").options if each.met]
    assert "point-of-maximum-available-relief" in {reference.kind for each in given for reference in each.references}
    assert all(each.further == () for each in given)


def test_where_the_first_thing_interferes_more_no_point_after_that_is_told() -> None:
    """The flood covers the bunker: 0.66 m of it lie west of the point, and the feet stand 0.23 m in a puddle beyond.

    The point is at -2.84; the feet reach 0.95 m west of it, to -3.78, and the puddle begins at -3.55. Relief from there would be from the
    flood again, from which there is none: a next point would be that of another thing.
    """
    sand = feature("sand", FeatureKind.BUNKER, box(-3, -103, 3, -97))
    flood = feature("flood", FeatureKind.TEMPORARY_WATER, box(-3.5, -103.5, 3.5, -96.5))
    puddle = feature("puddle", FeatureKind.TEMPORARY_WATER, box(-5.55, -110, -3.55, -90))
    given = ruled((sand, flood, puddle), (2.0, -100), "2023", situation="temporary-water").options
    (further,) = [further for option in given for further in option.further]
    assert further.features == ("puddle",)
    assert further.interference is not None
    assert further.interference.depth_m == pytest.approx(0.23, abs=0.01)
    assert further.points == ()
    assert not further.is_back


def test_a_wrong_green_is_not_the_green_of_the_hole() -> None:
    """The green of hole 2 is drawn over the east half of that of hole 1: a ball there is on its own green."""
    other = feature("green-2", FeatureKind.PUTTING_GREEN, box(0, -12, 30, 12), holes=(2,))
    assert not ruled((other,), (5, -1), situation="wrong-green").options
    assert ruled((other,), (20, -5), situation="wrong-green").options
