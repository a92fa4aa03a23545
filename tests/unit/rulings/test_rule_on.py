"""What rulings say on a small course."""

from __future__ import annotations

import pytest
from shapely.geometry import Point

from marram.core.errors import IncidentError
from marram.core.terms import Area, Club, FeatureKind, Form, Hand, Mark
from marram.course.features import Feature
from marram.course.frame import Position
from marram.rulebook import open_book, packaged_catalogue
from marram.rulings import Choice, Incident, Player, PreviousStroke, Ruling, rule_on
from tests.support.ground import course, feature, pond

EDITIONS = tuple(packaged_catalogue().editions)
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
