"""Plans of paired days, the coin, and the plans that are refused."""

import pytest

from marram.core.errors import RecordError, StudyError
from marram.evidence.plan import Design, Primary, commitment_of, draw_pairs, is_pace, meetings_expected, name_pairs, plan, refusals_of
from marram.records.outcomes import find_outcome
from marram.records.rows import Arm

ROUND = Primary(outcome="round_min", matters=10.0, sd_of_difference=9.0)
SEED = "three gulls on the ninth tee"


def test_a_plan_says_what_it_can_find() -> None:
    made = plan([ROUND], pairs=9, seed=SEED, expected_meetings=200)
    assert made.outcomes[0].pairs_needed == 9
    assert made.outcomes[0].least_effect < 10.0
    assert [pair.pair for pair in made.pairs] == list(name_pairs(9))
    assert made.commitment == commitment_of(SEED)
    assert SEED not in repr(made)


def test_each_pair_has_a_day_under_each_rules() -> None:
    assert all({pair.first, pair.second} == set(Arm) for pair in draw_pairs(name_pairs(20), SEED))


def test_the_coin_falls_the_same_on_every_machine() -> None:
    # golden: the first day of each pair for this seed; a change here would break every commitment already made public
    assert "".join(pair.first.value[0] for pair in draw_pairs(name_pairs(16), SEED)) == "otttotoototttooo"


def test_the_coin_is_fair_and_hangs_on_seed_and_pair_alone() -> None:
    drawn = draw_pairs(name_pairs(4000), SEED)
    trial_first = sum(pair.first is Arm.TRIAL for pair in drawn)
    assert abs(trial_first - 2000) < 3 * (4000 / 4) ** 0.5
    assert draw_pairs(["p03"], SEED)[0] == drawn[2]
    assert [pair.first for pair in draw_pairs(name_pairs(64), SEED + "!")] != [pair.first for pair in drawn[:64]]


def test_pace_of_groups_drawn_inside_a_day_is_refused_and_the_design_to_use_is_named() -> None:
    with pytest.raises(StudyError, match=r"round_min.*waits for the group ahead.*paired days of the whole field"):
        plan([ROUND], pairs=40, seed=SEED, design=Design.GROUPS_IN_A_DAY)


@pytest.mark.parametrize("outcome", ["round_min", "hole_min", "waiting_min"])
def test_times_that_groups_share_are_pace(outcome: str) -> None:
    assert is_pace(find_outcome(outcome))


@pytest.mark.parametrize("outcome", ["ruling_s", "search_s", "green_repair_s", "fair", "strokes", "rulings"])
def test_other_outcomes_are_not(outcome: str) -> None:
    assert not is_pace(find_outcome(outcome))
    assert refusals_of([Primary(outcome=outcome, matters=1, sd_of_difference=1)], pairs=20, design=Design.GROUPS_IN_A_DAY) == ()


def test_a_plan_that_cannot_see_what_matters_is_refused_with_the_pairs_that_would_do() -> None:
    with pytest.raises(StudyError, match=r"6 pairs of days find .* from 12\.8 min up; what matters is 10 min\. 9 pairs would do"):
        plan([ROUND], pairs=6, seed=SEED)
    assert plan([ROUND], pairs=9, seed=SEED).outcomes[0].primary == ROUND


def test_an_effect_out_of_reach_is_told_so() -> None:
    with pytest.raises(StudyError, match="More than 10,000 pairs"):
        plan([Primary(outcome="round_min", matters=0.01, sd_of_difference=9)], pairs=12, seed=SEED)


@pytest.mark.parametrize("pairs", [-1, 0, 1, 5])
def test_fewer_than_six_pairs_are_refused(pairs: int) -> None:
    with pytest.raises(StudyError, match="Plan at least 6 pairs"):
        plan([Primary(outcome="round_min", matters=1000, sd_of_difference=1)], pairs=pairs, seed=SEED)


def test_no_primary_and_more_than_three_are_refused() -> None:
    with pytest.raises(StudyError, match="names no primary"):
        plan([], pairs=12, seed=SEED)
    with pytest.raises(StudyError, match="4 primary outcomes are too many"):
        plan([ROUND] * 4, pairs=12, seed=SEED)
    assert len(plan([ROUND] * 3, pairs=12, seed=SEED).outcomes) == 3


def test_a_change_that_is_hardly_met_goes_to_an_exercise() -> None:
    expected = meetings_expected(per_player_round=0.02, players=80, pairs=12)
    assert expected == pytest.approx(19.2)
    with pytest.raises(StudyError, match=r"about 19 times.*station exercise.*clarity exercise"):
        plan([ROUND], pairs=12, seed=SEED, expected_meetings=expected)
    assert plan([ROUND], pairs=12, seed=SEED, expected_meetings=30).expected_meetings == 30


def test_every_reason_is_given_at_once() -> None:
    reasons = refusals_of([ROUND] * 4, pairs=3, design=Design.GROUPS_IN_A_DAY, expected_meetings=1)
    assert len(reasons) == 4


def test_an_unknown_outcome_is_named() -> None:
    with pytest.raises(RecordError, match="round_mins"):
        plan([Primary(outcome="round_mins", matters=10, sd_of_difference=9)], pairs=5, seed=SEED, design=Design.GROUPS_IN_A_DAY)


@pytest.mark.parametrize("seed", ["", "   "])
def test_the_coin_needs_a_seed(seed: str) -> None:
    with pytest.raises(StudyError, match="no seed"):
        plan([ROUND], pairs=12, seed=seed)


def test_a_pair_named_twice_is_refused() -> None:
    with pytest.raises(StudyError, match="named twice"):
        draw_pairs(["p01", "p01"], SEED)
