"""What rulings say on a small course."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
import shapely
from shapely.geometry import Point, box

from marram.core.errors import IncidentError
from marram.core.terms import Area, Club, FeatureKind, Form, Hand, Mark
from marram.course.features import Feature
from marram.course.frame import Position
from marram.rulebook import open_book, packaged_catalogue
from marram.rulings import Choice, Incident, Player, PreviousStroke, Ruling, rule_on
from tests.support.editions import WRITTEN_FOR
from tests.support.ground import course, feature, pond

EDITIONS = WRITTEN_FOR
NEWER_TERMS = (
    "penalty area", "general area", "relief area", "teeing area", "reference point", "temporary water", "no play zone",
)  # fmt: skip


def ball_in_pond(*, crossed: bool = True, back_m: float | None = None) -> Incident:
    return Incident(
        hole=1,
        situation="penalty-area",
        form=Form.STROKE_PLAY,
        ball=Position(x_m=0, y_m=-55),
        player=Player(hand=Hand.RIGHT, longest_club_in=45),
        crossed_at=Position(x_m=-15, y_m=-60) if crossed else None,
        previous_stroke=PreviousStroke(at=None, area=Area.TEEING_AREA),
        choice=Choice(back_m=back_m),
    )


def ruled(edition: str, incident: Incident, *features: Feature) -> Ruling:
    return rule_on(incident, course(*features), open_book(edition, [], packaged_catalogue()))


@pytest.mark.parametrize("edition", EDITIONS)
def test_red_pond_gives_lateral_relief_and_yellow_does_not(edition: str) -> None:
    red, yellow = (ruled(edition, ball_in_pond(), pond(mark)) for mark in (Mark.RED, Mark.YELLOW))
    assert "penalty-area-lateral-red" in [option.procedure for option in red.options]
    assert "penalty-area-lateral-red" not in [option.procedure for option in yellow.options]
    assert "penalty-area-lateral-red" in [entry.procedure for entry in yellow.not_available]
    assert all(option.penalty_strokes == 1 for option in red.options)


def test_sizes_follow_the_edition() -> None:
    """Two club-lengths of 45 in are 2.286 m; 80 in are 2.032 m (Draft new rules, March 2017)."""
    sizes = {
        edition: next(
            option.size_m for option in ruled(edition, ball_in_pond(), pond()).options if option.procedure == "penalty-area-lateral-red"
        )
        for edition in EDITIONS
    }
    assert sizes == pytest.approx({"2016": 2.286, "draft-2017": 2.032, "2019": 2.286, "2023": 2.286})


def test_back_on_line_has_four_shapes() -> None:
    """Rules of Golf 2016 26-1b (line), draft 17.1c (strip), 2019 and 2023 17.1d(2) (discs with different limits)."""
    found = {}
    for edition in EDITIONS:
        options = ruled(edition, ball_in_pond(back_m=20), pond()).options
        found[edition] = next(option for option in options if option.procedure == "penalty-area-back-on-line")
    assert found["2016"].relief_area is None
    assert found["2016"].roll_m == pytest.approx(2.286)
    areas = {edition: option.relief_area.area_m2 for edition, option in found.items() if option.relief_area}
    assert areas["2023"] == pytest.approx(3.14159265 * 1.143**2, abs=1e-6)
    assert areas["2019"] < areas["2023"] < areas["draft-2017"]


def test_unknown_crossing_is_asked_for() -> None:
    ruling = ruled("2023", ball_in_pond(crossed=False), pond())
    assert [option.procedure for option in ruling.options] == ["penalty-area-stroke-and-distance"]
    assert [question.fact for question in ruling.facts_needed] == ["crossed_at"]


def test_oldest_edition_speaks_in_its_own_terms() -> None:
    ruling = ruled("2016", ball_in_pond(back_m=5), pond())
    texts = [line.text for line in ruling.lines]
    texts += [step for option in ruling.options for step in (*option.steps, option.title)]
    texts += [entry.because for entry in ruling.not_available] + [entry.question for entry in ruling.facts_needed]
    for text in texts:
        assert not any(term in text.lower() for term in NEWER_TERMS), text


def test_ball_out_of_bounds_is_no_ball_in_a_pond() -> None:
    incident = Incident(hole=1, situation="penalty-area", form=Form.STROKE_PLAY, ball=Position(x_m=400, y_m=0))
    with pytest.raises(IncidentError, match="outside the boundary"):
        ruled("2023", incident, pond())


def sprinkler(hand: Hand) -> Ruling:
    """A head 0.3 m across, 2 m off the green, under the ball."""
    head = feature("head", FeatureKind.IMMOVABLE_OBSTRUCTION, Point(0, -14).buffer(0.15, quad_segs=32), what="head")
    incident = Incident(
        hole=1,
        situation="immovable-obstruction",
        form=Form.STROKE_PLAY,
        ball=Position(x_m=0, y_m=-14),
        player=Player(hand=hand, longest_club_in=45, club=Club.WEDGE),
    )
    return ruled("2023", incident, head)


def test_sprinkler_head_gives_each_hand_its_own_point() -> None:
    points = []
    for hand in Hand:
        option = sprinkler(hand).options[0]
        assert option.penalty_strokes == 0
        clearance_m = option.references[0].clearance_m
        assert clearance_m is not None
        assert clearance_m >= -1e-4
        points.append(option.references[0].position)
    assert points[0].distance_m(points[1]) > 0.02


@pytest.mark.parametrize("edition", EDITIONS)
def test_no_free_relief_in_a_pond(edition: str) -> None:
    incident = Incident(
        hole=1,
        situation="immovable-obstruction",
        form=Form.STROKE_PLAY,
        ball=Position(x_m=0, y_m=-55),
        player=Player(hand=Hand.RIGHT, longest_club_in=45),
    )
    ruling = ruled(edition, incident, pond())
    assert not ruling.options
    assert [entry.procedure for entry in ruling.not_available] == ["immovable-obstruction-penalty-area"]


def told(ruling: Ruling) -> list[str]:
    """Every sentence of a ruling that an official reads, but for its titles of documents."""
    texts = [line.text for line in ruling.lines] + [entry.question for entry in ruling.facts_needed]
    texts += [text for option in ruling.options for text in (option.title, *option.steps)]
    texts += [text for entry in ruling.not_available for text in (entry.title, entry.because)]
    return [*texts, *(caution.text for caution in ruling.cautions), *ruling.area_words.values()]


@pytest.mark.parametrize("situation", ["penalty-area", "lost", "unplayable", "immovable-obstruction", "out-of-bounds"])
@pytest.mark.parametrize("is_known", [True, False])
@pytest.mark.parametrize("mark", list(Mark))
def test_no_situation_of_the_oldest_edition_uses_a_newer_term(situation: str, *, is_known: bool, mark: Mark) -> None:
    """Source of the list: terms that the Rules of Golf (January 2019) brought in with its Definitions."""
    path = feature("path", FeatureKind.IMMOVABLE_OBSTRUCTION, box(-60, -125, 60, -115), what="path")
    sand = feature("sand", FeatureKind.BUNKER, Point(60, -60).buffer(8))
    spots = [(0, -55), (60, -60), (0, -120), (0, -6), (0, -380), (340, -100)]
    balls = [None, *(Position(x_m=x, y_m=y) for x, y in spots)]
    for ball in balls if situation == "out-of-bounds" else balls[:-1]:
        incident = Incident(
            hole=1,
            situation=situation,
            form=Form.STROKE_PLAY,
            ball=ball,
            player=Player(hand=Hand.RIGHT, longest_club_in=45) if is_known else Player(),
            facts={"known_in_penalty_area": True} if is_known else {},
            crossed_at=Position(x_m=-15, y_m=-60) if is_known else None,
            previous_stroke=PreviousStroke(at=Position(x_m=30, y_m=-250), area=None) if is_known else None,
            choice=Choice(back_m=8 if is_known else None),
        )
        for text in told(ruled("2016", incident, pond(mark), path, sand)):
            assert not any(term in text.lower() for term in NEWER_TERMS), text


@pytest.mark.parametrize("edition", EDITIONS)
def test_what_a_yellow_pond_does_not_give_has_a_reason_and_a_rule(edition: str) -> None:
    ruling = ruled(edition, ball_in_pond(), pond(Mark.YELLOW))
    (entry,) = [entry for entry in ruling.not_available if entry.procedure == "penalty-area-lateral-red"]
    assert "marked yellow" in entry.because
    assert entry.citations[0].edition == edition
    (line,) = [line for line in ruling.lines if line.text.startswith(f"{entry.title}: not available.")]
    assert entry.because in line.text


@pytest.mark.parametrize("edition", EDITIONS)
def test_lateral_relief_is_never_nearer_and_never_in_the_pond(edition: str) -> None:
    ruling = ruled(edition, ball_in_pond(), pond())
    (option,) = [option for option in ruling.options if option.procedure == "penalty-area-lateral-red"]
    assert option.relief_area is not None
    assert option.no_nearer_m == pytest.approx(math.hypot(15, 60))
    assert option.size_m is not None
    outline = option.relief_area.outline()
    assert option.relief_area.area_m2 > 1
    assert outline.intersection(pond().geometry).area < 1e-6
    assert all(math.hypot(x, y) >= math.hypot(15, 60) - 0.002 for x, y in shapely.get_coordinates(outline))
    assert all(math.hypot(x + 15, y + 60) <= option.size_m + 1e-9 for x, y in shapely.get_coordinates(outline))


@pytest.mark.parametrize("edition", EDITIONS)
def test_an_area_on_the_line_waits_until_a_place_on_it_is_chosen(edition: str) -> None:
    """Rules of Golf 2019 and 2023, 17.1d(2): the area hangs on the chosen place; draft: the strip does not; 2016: no area."""
    found = {}
    for back_m in (None, 20.0, 30.0):
        options = ruled(edition, ball_in_pond(back_m=back_m), pond()).options
        (found[back_m],) = [option for option in options if option.procedure == "penalty-area-back-on-line"]
    assert len({option.line.intervals_m for option in found.values() if option.line}) == 1
    has_area = {back_m: option.relief_area is not None for back_m, option in found.items()}
    expected = {"2016": (False, False), "draft-2017": (True, True), "2019": (False, True), "2023": (False, True)}[edition]
    assert has_area == {None: expected[0], 20.0: expected[1], 30.0: expected[1]}


@pytest.mark.parametrize("edition", ["2019", "2023"])
def test_the_area_moves_with_the_chosen_place(edition: str) -> None:
    middles = []
    for back_m in (20.0, 30.0):
        options = ruled(edition, ball_in_pond(back_m=back_m), pond()).options
        (area,) = [option.relief_area for option in options if option.procedure == "penalty-area-back-on-line"]
        assert area is not None
        middles.append(area.outline().centroid)
    assert middles[0].distance(middles[1]) == pytest.approx(10, abs=0.01)


@pytest.mark.parametrize("edition", ["2019", "2023"])
def test_a_choice_off_the_usable_line_is_told(edition: str) -> None:
    ruling = ruled(edition, ball_in_pond(back_m=900), pond())
    (option,) = [option for option in ruling.options if option.procedure == "penalty-area-back-on-line"]
    assert option.relief_area is None
    assert any("900.00 m back is no place for a drop" in line.text for line in ruling.lines)


def test_an_unknown_situation_lists_the_known() -> None:
    incident = Incident(hole=1, situation="swamp", form=Form.STROKE_PLAY, ball=Position(x_m=0, y_m=-55))
    with pytest.raises(IncidentError, match="Known: penalty-area, lost"):
        ruled("2023", incident, pond())


@pytest.mark.parametrize("situation", ["penalty-area", "lost", "unplayable", "immovable-obstruction"])
@pytest.mark.parametrize("edition", EDITIONS)
def test_only_its_own_situation_takes_a_ball_out_of_bounds(edition: str, situation: str) -> None:
    incident = Incident(hole=1, situation=situation, form=Form.STROKE_PLAY, ball=Position(x_m=340, y_m=-100))
    with pytest.raises(IncidentError, match="40.0 m outside the boundary"):
        ruled(edition, incident, pond())


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_crossing_far_from_any_edge_is_refused(edition: str) -> None:
    incident = replace(ball_in_pond(), crossed_at=Position(x_m=-45, y_m=-60))
    with pytest.raises(IncidentError, match="30.0 m from the edge"):
        ruled(edition, incident, pond())


@pytest.mark.parametrize("edition", EDITIONS)
def test_every_line_rests_on_a_rule_of_its_own_edition(edition: str) -> None:
    ruling = ruled(edition, ball_in_pond(back_m=20), pond())
    citations = [citation for line in ruling.lines for citation in line.citations]
    citations += [citation for option in ruling.options for citation in option.citations]
    assert {citation.edition for citation in citations} == {edition}


def _left(edition: str, situation: str, x_m: float, y_m: float, **facts: bool) -> list[str]:
    incident = replace(ball_in_pond(), situation=situation, ball=Position(x_m=x_m, y_m=y_m), facts=facts, crossed_at=None)
    drain = feature("drain", FeatureKind.IMMOVABLE_OBSTRUCTION, Point(0, -55).buffer(0.5), what="drain")
    return [line.text for line in ruled(edition, incident, pond(), drain).lines if line.text.startswith("What is left")]


@pytest.mark.parametrize("edition", EDITIONS)
def test_where_nothing_gives_relief_what_is_left_is_told(edition: str) -> None:
    """Source: Rules 26-1 and 28 (2016); Rules 17.1 and 19.1 (2019, 2023): unplayable anywhere but in a penalty area."""
    (outside,) = _left(edition, "embedded", -100, -100, embedded=False)
    (inside,) = _left(edition, "immovable-obstruction", 0, -55)
    assert "as it lies" in outside and "unplayable" in outside
    assert "as it lies" in inside and "costs a stroke" in inside and "unplayable" not in inside
    assert not _left(edition, "unplayable", -100, -100)
    assert not _left(edition, "embedded", -100, -100), "a question is open"


@pytest.mark.parametrize("edition", EDITIONS)
def test_where_one_relief_is_closed_and_another_open_nothing_is_left_over(edition: str) -> None:
    clear = {"another_reason_makes_stroke_unreasonable": False, "interference_only_by_unreasonable_stroke": False}
    incident = replace(ball_in_pond(), situation="temporary-immovable-obstruction", ball=Position(x_m=-230, y_m=-150), facts=clear)
    stand = feature("stand", FeatureKind.TEMPORARY_IMMOVABLE_OBSTRUCTION, box(-240, -160, -220, -140), what="stand")
    ruling = ruled(edition, replace(incident, crossed_at=None), stand)
    assert ruling.options and ruling.not_available
    assert not [line for line in ruling.lines if line.text.startswith("What is left")]
