"""Values at the edge of what the bench weighs: the fewest pairs, chances of nought and one, missing days, ratios only of rates."""

from __future__ import annotations

import pytest

from marram.core.errors import StudyError
from marram.evidence.arm_sizes import answers_needed, design_effect, power_of_equal_rates
from marram.evidence.looks import chance_of_alarm
from marram.evidence.planning.rehearsal import RehearsedChange, _Drawn, _Played, rehearse
from marram.evidence.rates import pooled_ratio
from marram.evidence.shares import steps
from marram.evidence.sizes import least_effect, pairs_needed
from marram.evidence.verdicts import Verdict, holm
from marram.evidence.weighing.account import Missing, bounds_for_the_missing
from marram.evidence.weighing.clustered import Answered, clustered_share
from marram.records.outcomes import outcomes
from marram.records.rows import Arm
from tests.support.seasons import days_of, expecting, only, rows_of, steady, trial_of, weigh

ROUNDS = RehearsedChange(number=1, outcome="round_min", matters=5, sd=6, wants_less=True)


def test_two_pairs_are_the_fewest_that_can_be_planned_with() -> None:
    """With one degree of freedom t.975 is 12.7062 and t.80 is 1.3764: 14.0826 / sqrt 2 = 9.958 standard deviations."""
    assert least_effect(2, 1.0) == pytest.approx(9.958, abs=1e-3)
    assert pairs_needed(10, 1.0) == 2
    assert pairs_needed(9.9, 1.0) == 3
    with pytest.raises(StudyError, match="1 pair of days"):
        least_effect(1, 1.0)


def test_chances_of_nought_and_one_are_p_values() -> None:
    """Holm, 1979: the smallest of two is doubled, the other stays at least as large."""
    assert holm([0.0, 1.0]) == (0.0, 1.0)
    assert holm([0.01, 0.04]) == pytest.approx((0.02, 0.04))
    for wrong in ([-0.1], [1.1]):
        with pytest.raises(StudyError, match="not all p values"):
            holm(wrong)


@pytest.mark.parametrize("bounds", [[], [0.0], [2.0, 0.0], [2.0, -1.0]])
def test_a_look_without_a_bound_has_no_chance(bounds: list[float]) -> None:
    with pytest.raises(StudyError, match="not above zero"):
        chance_of_alarm(bounds)


def test_one_look_at_1_96_alarms_falsely_in_five_of_a_hundred() -> None:
    assert chance_of_alarm([1.959964]) == pytest.approx(0.05, abs=1e-6)


@pytest.mark.parametrize("counts", [[], [1, 2, 3, 4], [1, 2, 3, 4, 5, 6], [0, 0, 0, 0, 0], [-1, 2, 3, 4, 5]])
def test_answers_in_five_steps_are_five_counts(counts: list[int]) -> None:
    with pytest.raises(StudyError, match="no answers in five steps"):
        steps(counts)


def test_where_more_than_a_fifth_of_the_pairs_is_lost_nothing_is_said() -> None:
    """Of twenty pairs about ten are kept where half are lost: at least six, and more than a fifth missing but for 6 seasons in 1000."""
    (found,) = rehearse([ROUNDS], pairs=20, lost=0.5, seasons=400, supposed=(2.0,))
    assert found.verdicts[Verdict.TOO_LITTLE] > 0.97
    (whole,) = rehearse([ROUNDS], pairs=20, lost=0.0, seasons=50, supposed=(2.0,))
    assert whole.verdicts[Verdict.TOO_LITTLE] == 0


def test_the_spread_that_is_drawn_is_the_spread_that_was_stated() -> None:
    """The variance of a sample over n - 1 is on average that of what it is drawn from: 6^2 = 36; over n it would be 30."""
    drawn = _Drawn([ROUNDS], _Played(pairs=6, lost=0.0, seasons=6000, seed=1, looks=None), 0.0).seen()
    assert float((drawn.sds["round_min"] ** 2).mean()) == pytest.approx(36, abs=1.5)


def test_a_design_effect_by_hand() -> None:
    """Sedgwick, 2013: 1 + (20 - 1) x 0.05 = 1.95."""
    assert design_effect(20, 0.05) == pytest.approx(1.95)


def test_odds_below_one_can_be_planned_with_and_below_nought_not() -> None:
    assert answers_needed([0.5, 0.5], 1 / 3).answers == 111
    with pytest.raises(StudyError, match="odds ratio"):
        answers_needed([0.5, 0.5], -1.0)


def test_every_number_of_equal_rates_is_looked_at() -> None:
    for rate, rounds, factor, dispersion in ((2, 300, 1.1, -0.5), (0, 300, 1.1, 0.5), (2, 0, 1.1, 0.5), (2, 300, 1.0, 0.5)):
        with pytest.raises(StudyError, match="cannot be planned with"):
            power_of_equal_rates(rate, rounds, factor, dispersion=dispersion)


def test_a_ratio_of_rates_by_hand() -> None:
    """Six in ten against three in ten: 6 / 3; without any event there is no ratio, and a chance of one."""
    found = pooled_ratio(6, 10, 3, 10)
    assert found.estimate == pytest.approx(2)
    nothing = pooled_ratio(0, 10, 0, 10)
    assert (nothing.estimate, nothing.p) == (None, 1.0)


def test_four_players_two_of_whom_say_yes() -> None:
    """Residuals of a half, four clusters: 4 x 0.25 x 4 / 3 / 16 = 1/12, so that 0.25 / (1/12) = 3 answers count.

    The days are as many, each with one player, so that t has three degrees of freedom and a half: (1/12)^2 / (2 x (1/12)^2 / 3) = 1.5.
    t.975 with 1.5 degrees of freedom is 6.0; whatever it is, the limits lie alike about a half.
    """
    found = clustered_share([Answered(value=float(n < 2), player=n, day=n) for n in range(4)])
    assert found.independent == pytest.approx(3)
    assert found.interval95.low + found.interval95.high == pytest.approx(1)
    assert 0 < found.interval95.low < found.interval90.low < 0.5


def test_a_ratio_is_told_of_rates_and_of_nothing_else() -> None:
    """Two penalty strokes for each group on trial days against four on ordinary ones: a half; minutes of a round have no such ratio."""
    days = days_of(8)
    rates = rows_of(days, "penalty_strokes", lambda day, _: 2.0 if day.arm is Arm.TRIAL else 4.0)
    rate = only(weigh(trial_of(expecting("penalty_strokes", 1)), days, rates)).ratio
    assert rate is not None
    assert rate.ratio.estimate == pytest.approx(0.5)
    assert (rate.trial_per_100, rate.ordinary_per_100) == pytest.approx((200, 400))
    minutes = only(weigh(trial_of(expecting("round_min", 5)), days, rows_of(days, "round_min", steady(230, 240))))
    assert minutes.ratio is None
    assert only(weigh(trial_of(expecting("penalty_strokes", 1)), days, [])).ratio is None


def test_of_twenty_values_the_outermost_twentieth_is_the_last() -> None:
    """A round of the trial day is missing: as low as 100 min it leaves the mean at 100, as high as 200 it makes it 1200 / 11.

    The ordinary day has the mean (9 x 120 + 200) / 10 = 128.
    """
    trial, ordinary = days_of(1)
    values = {trial.day: [100.0] * 10, ordinary.day: [120.0] * 9 + [200.0]}
    missing = Missing(
        expected={Arm.TRIAL: 11.0, Arm.ORDINARY: 10.0}, seen={Arm.TRIAL: 10, Arm.ORDINARY: 10}, by_day={trial.day: 1.0, ordinary.day: 0.0}
    )
    found = bounds_for_the_missing(outcomes()["round_min"], [(trial, ordinary)], values, missing)
    assert found == pytest.approx((100 - 128, 1200 / 11 - 128))
