"""How many each arm needs where groups, players or answers are drawn singly."""

from collections.abc import Callable

import pytest
from statsmodels.stats.power import TTestIndPower

from marram.core.errors import StudyError
from marram.evidence.arm_sizes import (
    answers_needed,
    design_effect,
    players_for_equal_means,
    players_per_arm,
    power_of_equal_rates,
    rounds_per_arm,
    units_per_arm,
)


def test_singles_have_no_design_effect() -> None:
    assert design_effect(1, 0.3) == 1
    assert design_effect(3, 0.1, spread=0.25) == pytest.approx(1 + (1.0625 * 3 - 1) * 0.1)


@pytest.mark.parametrize("effect", [0.3, 0.6, 1.2])
def test_the_units_find_the_effect_and_one_fewer_do_not(effect: float) -> None:
    needed = units_per_arm(2 * effect, 2.0)
    power = TTestIndPower().power
    assert power(effect, needed, 0.05) >= 0.8 > power(effect, needed - 1, 0.05)


def test_half_against_three_in_five_asks_for_388_players_in_each_arm() -> None:
    assert players_per_arm(0.50, 0.60) == 388
    assert players_per_arm(0.60, 0.50) == 388


def test_a_shift_the_other_way_needs_as_many_answers() -> None:
    shares = [0.1, 0.2, 0.4, 0.2, 0.1]
    up, down = answers_needed(shares, 2.0), answers_needed(shares, 0.5)
    assert up.answers == down.answers
    assert up.other_shares == pytest.approx(down.other_shares[::-1])
    assert sum(up.other_shares) == pytest.approx(1)


def test_a_shift_multiplies_the_odds_at_every_step() -> None:
    shares = [0.2, 0.5, 0.2, 0.1]
    found = answers_needed(shares, 3.0)
    for place in range(1, 4):
        below, shifted = sum(shares[:place]), sum(found.other_shares[:place])
        assert shifted / (1 - shifted) == pytest.approx(3 * below / (1 - below))


def test_answers_by_hand() -> None:
    """Odds times 3 move halves to quarters; the mean shares are 5/8 and 3/8, and the sum of their cubes 0.296875.

    z = 1.95996 + 0.84162: 12 x 7.84888 / (1.09861^2 x 0.703125) = 110.99 (Whitehead, Sample size calculations for ordered categorical
    data, 1993, for both arms together).
    """
    assert answers_needed([0.5, 0.5], 3.0).answers == 111


def test_rounds_by_hand() -> None:
    """Rates 2 and 1.6, dispersion 0.5: 7.84888 (1 / 2 + 1 / 1.6 + 2 x 0.5) / ln(0.8)^2 = 334.96 (Zhu and Lakkis, 2014)."""
    assert rounds_per_arm(2, 0.8, 0.5) == 335


def test_players_for_equal_means_by_hand() -> None:
    """z.95 = 1.64485, z.90 = 1.28155: 2 x 4^2 x 2.92640^2 / 1^2 = 274.04."""
    assert players_for_equal_means(4, 1) == 275


def test_rarer_events_and_smaller_ratios_need_more_rounds() -> None:
    assert (rounds_per_arm(2, 0.7, 0.5) or 0) < (rounds_per_arm(2, 0.8, 0.5) or 0) < (rounds_per_arm(0.5, 0.8, 0.5) or 0)
    assert rounds_per_arm(0.001, 0.999, 0.5) is None


def test_a_wider_margin_is_easier_to_show() -> None:
    assert power_of_equal_rates(2, 300, 1.1, dispersion=0.5) < power_of_equal_rates(2, 300, 1.3, dispersion=0.5) < 1


def test_half_the_margin_asks_for_four_times_the_players() -> None:
    assert players_for_equal_means(4, 0.5) == pytest.approx(4 * players_for_equal_means(4, 1), abs=4)


@pytest.mark.parametrize(
    "ask",
    [
        lambda: units_per_arm(0, 1),
        lambda: players_per_arm(0.5, 0.5),
        lambda: players_per_arm(0.5, 1.5),
        lambda: answers_needed([0.5, 0.5], 1.0),
        lambda: rounds_per_arm(0, 0.5, 0.5),
        lambda: rounds_per_arm(2, 1, 0.5),
        lambda: power_of_equal_rates(2, 300, 0.9, dispersion=0.5),
        lambda: power_of_equal_rates(2, 300, 1.0, dispersion=0.5),
        lambda: power_of_equal_rates(2, 0, 1.1, dispersion=0.5),
        lambda: power_of_equal_rates(0, 300, 1.1, dispersion=0.5),
        lambda: players_for_equal_means(0, 1),
        lambda: players_for_equal_means(4, 0),
    ],
)
def test_what_cannot_be_planned_with_is_refused(ask: Callable[[], object]) -> None:
    with pytest.raises(StudyError, match="cannot be planned with"):
        ask()


def test_shares_add_up_to_one() -> None:
    with pytest.raises(StudyError, match="no shares of one whole"):
        answers_needed([0.5, 0.4], 2.0)
