"""How large a trial has to be."""

import pytest

from marram.core.errors import StudyError
from marram.evidence.sizes import effective_groups, least_effect, pairs_needed, sd_of_paired_days, with_loss


def test_groups_held_up_by_each_other_are_worth_little() -> None:
    assert effective_groups(25, 0.9) == pytest.approx(25 * 0.1 / 1.9)
    assert effective_groups(25, 0) == 25


def test_the_smallest_effect_is_that_of_the_t_tables() -> None:
    # 7 degrees of freedom: t.975 = 2.3646, t.80 = 0.8960 (tables, four decimals)
    assert least_effect(8, 12.0) == pytest.approx((2.3646 + 0.8960) * 12 / 8**0.5, abs=1e-3)


def test_two_pairs_are_the_fewest_and_are_enough_for_a_huge_effect() -> None:
    # 1 degree of freedom: t.975 = 12.7062, t.80 = 1.3764 (tables, four decimals): (12.7062 + 1.3764) x 5 / sqrt(2) = 49.79
    assert least_effect(2, 5.0) == pytest.approx(49.79, abs=0.01)
    assert pairs_needed(49.9, 5.0) == 2
    assert pairs_needed(49.7, 5.0) == 3


@pytest.mark.parametrize("sd", [5.0, 9.0, 25.0])
@pytest.mark.parametrize("effect", [2.0, 5.0, 10.0])
def test_the_pairs_needed_find_the_effect_and_one_fewer_do_not(sd: float, effect: float) -> None:
    needed = pairs_needed(effect, sd)
    assert needed is not None
    assert least_effect(needed, sd) <= effect
    assert needed == 2 or least_effect(needed - 1, sd) > effect


def test_more_pairs_than_ten_thousand_are_not_named() -> None:
    assert pairs_needed(0.01, 10.0) is None


def test_a_wider_spread_or_more_power_needs_more_pairs() -> None:
    assert (pairs_needed(5, 9) or 0) < (pairs_needed(5, 12) or 0)
    assert (pairs_needed(5, 9) or 0) < (pairs_needed(5, 9, power=0.9) or 0)


def test_pairs_are_added_for_those_that_weather_takes() -> None:
    assert [with_loss(8, share) for share in (0.0, 0.1, 0.2)] == [8, 9, 10]


def test_the_spread_of_a_pair_comes_from_days_and_groups() -> None:
    assert sd_of_paired_days(between_days=6, between_groups=0, groups=25, lag_correlation=0.5) == pytest.approx(6 * 2**0.5)
    assert sd_of_paired_days(between_days=0, between_groups=10, groups=25, lag_correlation=0) == pytest.approx(2 * 2**0.5)


def test_what_cannot_be_planned_with_is_refused() -> None:
    with pytest.raises(StudyError, match="no spread"):
        least_effect(1, 5)
    with pytest.raises(StudyError, match="standard deviation of 0"):
        least_effect(8, 0)
    with pytest.raises(StudyError, match="power of 1"):
        least_effect(8, 5, power=1.0)
    with pytest.raises(StudyError, match="effect of 0"):
        pairs_needed(0, 5)
    with pytest.raises(StudyError, match="correlation of 1"):
        effective_groups(25, 1.0)
    with pytest.raises(StudyError, match="loss of 1"):
        with_loss(8, 1.0)
