"""Plans of units drawn singly: what they can find, worked by hand, the lots, and the plans that are refused."""

from __future__ import annotations

from collections import Counter

import pytest

from marram.core.errors import StudyError
from marram.evidence.designs.drawn_lots import draw_halves, draw_orders
from marram.evidence.plan import Design
from marram.evidence.planning.rehearsal import RehearsedChange, rehearse
from marram.evidence.planning.units_plan import precision_in_days, precision_in_turn, units_needed
from marram.evidence.verdicts import Overall
from marram.office.trials.designs.design_names import DesignName
from marram.office.trials.designs.known_designs import plan_by_design
from marram.office.trials.designs.trial_design import AskedPlan
from marram.office.trials.planned_trial import PlannedTrial, Spread
from marram.records.rows import Arm
from tests.support.seasons import expecting, trial_of

GROUPS = [f"g{number:02d}" for number in range(1, 12)]
STROKES = trial_of(expecting("strokes", 2))


def planned(name: DesignName, sd: float = 2.5, met: float | None = None, **asked: object) -> PlannedTrial:
    spread = Spread(sd={"strokes": sd}, met={} if met is None else {1: met}, players=60)
    return plan_by_design(STROKES, spread, AskedPlan(seed="moor", **asked), name)  # type: ignore[arg-type]


def test_an_effect_that_groups_of_days_find_by_hand() -> None:
    """Two days of 5 against 5: weights 2.5 each, standard error sd / sqrt(5), freedom 16; t.975 = 2.1199 and t.80 = 0.8647."""
    found = precision_in_days([(5, 5), (5, 5)])
    assert found.error == pytest.approx(1 / 5**0.5)
    assert (found.freedom, found.units, found.fewest) == (16, 20, 10)
    assert found.least_effect(4.0) == pytest.approx((2.1199 + 0.8647) * 4 / 5**0.5, abs=1e-3)
    assert found.sd_of_a_unit == pytest.approx(2.0)  # groups on two sides tell as much as pairs whose differences spread twice as far


def test_an_effect_that_a_cross_over_finds_by_hand() -> None:
    """10 units in each order: standard error sd x sqrt(1/10 + 1/10) / 2 = sd / sqrt(20), freedom 18; t.975 = 2.1009 and t.80 = 0.8620."""
    found = precision_in_turn(10, 10)
    assert found.error == pytest.approx(1 / 20**0.5)
    assert found.least_effect(5.0) == pytest.approx((2.1009 + 0.8620) * 5 / 20**0.5, abs=1e-3)
    assert found.sd_of_a_unit == pytest.approx(1.0)
    assert precision_in_turn(7, 6).freedom == 11


def test_how_many_units_would_do_is_that_of_the_published_table() -> None:
    """Cohen, Statistical Power Analysis for the Behavioral Sciences (1988): lots of 64 for half a standard deviation, of 26 for 0.8."""
    groups, in_turn = precision_in_days([(5, 5)]), precision_in_turn(5, 5)
    assert units_needed(0.5, 1.0, groups) == 128
    assert units_needed(0.8, 1.0, groups) == 52
    # an effect is half of the difference of two orders: each tells as a lot of half the standard deviation
    assert units_needed(0.25, 1.0, in_turn) == 128
    assert units_needed(5.0, 1.0, groups) == 12
    assert units_needed(0.001, 1.0, groups) is None


def test_half_of_the_groups_of_a_day_are_drawn_and_the_odd_one_by_the_coin() -> None:
    sizes = Counter(list(draw_halves(GROUPS, f"d{day}", "moor").values()).count(Arm.TRIAL) for day in range(200))
    assert set(sizes) == {5, 6}
    assert abs(sizes[6] - 100) < 3 * 50**0.5
    each = Counter(group for day in range(200) for group, arm in draw_halves(GROUPS[:10], f"d{day}", "moor").items() if arm is Arm.TRIAL)
    assert all(abs(each[group] - 100) < 4 * 50**0.5 for group in GROUPS[:10])
    assert draw_halves(GROUPS, "d1", "moor") != draw_halves(GROUPS, "d2", "moor")
    assert draw_halves(GROUPS, "d1", "moor") != draw_halves(GROUPS, "d1", "heath")


def test_the_lots_fall_the_same_on_every_machine() -> None:
    # golden: a change here would break every commitment already made public
    drawn = draw_halves(GROUPS, "d01", "three gulls on the ninth tee")
    assert "".join(arm.value[0] for arm in drawn.values()) == "oototottoto"


def test_lots_need_a_seed_and_names() -> None:
    with pytest.raises(StudyError, match="no seed"):
        draw_halves(GROUPS, "d1", " ")
    with pytest.raises(StudyError, match="named twice"):
        draw_halves(["g1", "g1"], "d1", "moor")


def test_of_two_days_of_an_event_one_plays_under_trial_rules_first() -> None:
    assert all(set(order) == set(Arm) for order in draw_orders(["e1", "e2", "e3"], "moor").values())
    drawn = planned(DesignName.CROSS_OVER_BY_HALF, 2.0, days=12).drawn
    assert isinstance(drawn, tuple)
    firsts = [unit.rules[0] for unit in drawn]
    assert all({one, two} == set(Arm) for one, two in zip(firsts[::2], firsts[1::2], strict=True))
    assert all(set(unit.rules) == set(Arm) and not unit.group for unit in drawn)


@pytest.mark.parametrize(
    ("name", "asked", "units"),
    [
        (DesignName.CROSS_OVER, {"days": 2, "groups": 16}, 32),
        (DesignName.GROUPS, {"days": 3, "groups": 24}, 72),
        (DesignName.GROUPS, {"days": 3, "groups": 12, "waves": 2}, 72),
    ],
)
def test_a_plan_draws_every_group_once_and_says_what_must_hold(name: DesignName, asked: dict[str, int], units: int) -> None:
    found = planned(name, **asked)
    assert isinstance(found.drawn, tuple)
    assert len({unit.unit for unit in found.drawn}) == len(found.drawn) == units
    assert isinstance(found.advice, tuple)
    assert any("event that does not count" in line for line in found.advice)
    assert any("cannot be unlearnt" in line for line in found.advice) is (name is DesignName.CROSS_OVER)
    assert any("one full round free" in line for line in found.advice) is (asked.get("waves") == 2)
    (change,) = found.changes
    assert isinstance(change.units_needed, int)
    assert planned(name, **asked).stamp == found.stamp
    assert found.pairs == ()


def test_the_outlook_of_units_is_that_of_as_many_pairs_that_tell_as_much() -> None:
    """24 groups a day on 3 days with a spread of 2.5 tell an effect as precisely as 72 pairs with one of 5: 5 / sqrt(72) = 0.589.

    An effect of twice what matters, 4, lies then 2 / 0.589 = 3.4 standard errors beyond it: it is hardly ever missed.
    """
    (change,) = planned(DesignName.GROUPS, days=3, groups=24).changes
    assert isinstance(change.outlook, tuple)
    assert change.outlook[0].did < 0.01
    assert change.outlook[-1].did > 0.99
    as_change = RehearsedChange(number=1, outcome="strokes", matters=2, sd=5.0, wants_less=True)
    of_pairs = rehearse([as_change], pairs=72)
    assert [told.did for told in change.outlook] == pytest.approx([told.overall[Overall.DID] for told in of_pairs])


@pytest.mark.parametrize(
    ("name", "sd", "asked", "message"),
    [
        (DesignName.CROSS_OVER, 3.0, {"days": 1, "groups": 11}, "5 groups on one side can never show enough: 6 are the fewest"),
        (DesignName.GROUPS, 3.0, {"days": 1, "groups": 10}, "Plan at least 12 groups"),
        (
            DesignName.GROUPS,
            9.0,
            {"days": 2, "groups": 20},
            r"40 groups find an effect on the strokes of a round from .* up; what matters is 2",
        ),
        (DesignName.GROUPS, 3.0, {"days": 3, "groups": 24}, r"from 2\.01 strokes up; what matters is 2 strokes\. 74 groups would do"),
        (DesignName.GROUPS, 900.0, {"days": 2, "groups": 20}, "More than 10,000 groups would be needed"),
        (DesignName.CROSS_OVER, 3.0, {"pairs": 10}, "not planned by pairs"),
        (DesignName.CROSS_OVER, 3.0, {"waves": 2}, "not planned by waves"),
        (DesignName.GROUPS, 3.0, {"adjust": ("wind",)}, "not planned by adjust"),
        (DesignName.CROSS_OVER_BY_HALF, 3.0, {"days": 13}, "no whole events"),
        (DesignName.CROSS_OVER_BY_HALF, 3.0, {"groups": 10}, "not planned by groups"),
    ],
)
def test_a_plan_that_cannot_answer_is_refused_with_what_would_be_right(
    name: DesignName, sd: float, asked: dict[str, object], message: str
) -> None:
    with pytest.raises(StudyError, match=message):
        planned(name, sd, None, **asked)


def test_a_change_that_is_hardly_met_is_refused() -> None:
    """60 players on each of 4 days; half of them play under trial rules: 120 rounds, 0.2 meetings each are 24."""
    with pytest.raises(StudyError, match="about 24 times"):
        planned(DesignName.GROUPS, met=0.2, days=4, groups=20)
    # in a cross-over everyone plays a round under trial rules: 240 rounds
    (change,) = planned(DesignName.CROSS_OVER, met=0.2, days=4, groups=20).changes
    assert change.expected_meetings == pytest.approx(48)
    (half,) = planned(DesignName.CROSS_OVER_BY_HALF, 2.0, met=0.2, days=12).changes
    assert half.expected_meetings == pytest.approx(0.2 * 60 * 6)  # of two days each has half of the field


def test_a_spread_that_nobody_gave_is_asked_for_in_the_words_of_the_design() -> None:
    asked = AskedPlan(seed="moor")
    for name, words in ((DesignName.CROSS_OVER, "two rounds of a group"), (DesignName.GROUPS, "between the groups of one day")):
        with pytest.raises(StudyError, match=words):
            plan_by_design(STROKES, Spread(sd={}, met={}, players=60), asked, name)


@pytest.mark.parametrize("name", [DesignName.CROSS_OVER, DesignName.GROUPS])
def test_pace_is_refused_as_outcome_and_as_guard(name: DesignName) -> None:
    spread = Spread(sd={"strokes": 3.0}, met={}, players=60)
    guarded = expecting("strokes", 2) | {"guards": '[{ outcome = "round_min", margin = 4 }]', "observes": '["strokes", "round_min"]'}
    for trial in (trial_of(expecting("round_min", 5)), trial_of(guarded)):
        with pytest.raises(StudyError, match=r"each group waits for the .*paired days of the whole field"):
            plan_by_design(trial, spread, AskedPlan(seed="moor"), name)


def test_pace_of_halves_on_days_of_their_own_is_planned() -> None:
    spread = Spread(sd={"round_min": 5.0}, met={}, players=60)
    found = plan_by_design(trial_of(expecting("round_min", 5)), spread, AskedPlan(seed="moor"), DesignName.CROSS_OVER_BY_HALF)
    assert found.design == Design.CROSS_OVER_BY_HALF.value
