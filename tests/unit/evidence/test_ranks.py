"""Comparisons by rank."""

import pytest

from marram.core.errors import StudyError
from marram.evidence.ranks import compare_ranks, rank_changes


def test_the_chance_of_a_better_answer_counts_pairs_and_halves_ties() -> None:
    first, second = [5, 4, 4, 2], [4, 3, 1]
    wins = sum((one > two) + 0.5 * (one == two) for one in first for two in second)
    found = compare_ranks(first, second)
    assert found.chance == pytest.approx(wins / 12)
    assert found.chance + compare_ranks(second, first).chance == pytest.approx(1)


def test_the_exact_p_of_small_lots_counts_orders() -> None:
    # three above two: one order of ten
    found = compare_ranks([7.0, 8.0, 9.0], [1.0, 2.0])
    assert (found.p_higher, found.p) == pytest.approx((1 / 10, 2 / 10))


def test_changes_rated_in_one_order_by_all_are_told_apart() -> None:
    found = rank_changes([[1, 3, 5], [2, 3, 4], [1, 2, 5], [1, 4, 5]])
    assert found.mean_ranks == (1, 2, 3)
    assert found.chi2 == pytest.approx(2 * 4)  # its largest value: players x (changes - 1)
    assert found.degrees_of_freedom == 2
    assert found.p < 0.05


@pytest.mark.parametrize("ratings", [[], [[1, 2, 3]], [[1, 2], [2, 1]], [[1, 2, 3], [1, 2]], [[2, 2, 2], [4, 4, 4]]])
def test_what_cannot_be_ranked_is_refused(ratings: list[list[float]]) -> None:
    with pytest.raises(StudyError):
        rank_changes(ratings)


def test_a_lot_of_nobody_is_refused() -> None:
    with pytest.raises(StudyError, match="nobody"):
        compare_ranks([], [1])
