"""Effects from pairs of days: estimate, intervals, and the exact test by turning the coins."""

from itertools import product
from math import inf

import pytest

from marram.core.errors import StudyError
from marram.evidence.effects import Interval, paired_days

MINUTES = [("a", 241.0, 249.0), ("b", 238.0, 240.0), ("c", 255.0, 252.0), ("d", 229.0, 238.0), ("e", 247.0, 250.5), ("f", 236.0, 245.0)]


def sign_flip_p_by_counting(differences: list[float]) -> float:
    seen = abs(sum(differences))
    sums = [
        abs(sum(sign * value for sign, value in zip(signs, differences, strict=True)))
        for signs in product((1, -1), repeat=len(differences))
    ]
    return sum(total >= seen - 1e-9 for total in sums) / len(sums)


def test_the_estimate_is_the_mean_of_trial_less_ordinary() -> None:
    found = paired_days(MINUTES)
    assert found.estimate == pytest.approx((-8 - 2 + 3 - 9 - 3.5 - 9) / 6)
    assert found.estimate == pytest.approx(found.trial_mean - found.ordinary_mean)
    assert found.differences[2] == ("c", 3.0)
    assert found.pairs == 6


def test_the_intervals_are_those_of_student_with_five_degrees_of_freedom() -> None:
    found = paired_days(MINUTES)
    error = found.sd / 6**0.5
    # t tables: 2.5706 and 2.0150 for 5 degrees of freedom, to four decimals
    for interval, quantile in ((found.interval95, 2.5706), (found.interval90, 2.0150)):
        assert (interval.low, interval.high) == pytest.approx(
            (found.estimate - quantile * error, found.estimate + quantile * error), abs=1e-3
        )


def test_the_p_of_t_is_below_5_pct_just_where_the_interval_leaves_out_nothing() -> None:
    for shift in (-4, -2, 0, 2, 4, 5, 6, 8, 12):
        found = paired_days([(name, trial + shift, ordinary) for name, trial, ordinary in MINUTES])
        assert (found.p_t < 0.05) == (not found.interval95.low <= 0 <= found.interval95.high)


@pytest.mark.parametrize(
    "differences", [[1.0, 2.0, -3.0], [5, 4, 3, 2, 1, -1], [0, 0, 1, 2, -1, 4, 4], [2.5, -0.5, 1, 1, 1, 3, -2, 0.5, 7]]
)
def test_the_exact_p_goes_through_every_way_the_coins_could_fall(differences: list[float]) -> None:
    found = paired_days([(str(number), value, 0.0) for number, value in enumerate(differences)])
    assert found.is_exact
    assert found.p_sign_flip == pytest.approx(sign_flip_p_by_counting(differences), abs=1e-12)


@pytest.mark.parametrize(("pairs", "least_p"), [(4, 0.125), (5, 0.0625), (6, 0.03125), (8, 0.0078125), (10, 0.001953125)])
def test_the_smallest_exact_p_is_two_ways_out_of_all(pairs: int, least_p: float) -> None:
    found = paired_days([(str(number), 1.0 + number, 0.0) for number in range(pairs)])
    assert found.p_sign_flip == pytest.approx(least_p, abs=1e-12)


def test_above_sixteen_pairs_the_ways_are_drawn_from_a_fixed_seed() -> None:
    values = [(str(number), float(number % 5) - 1.4, 0.0) for number in range(18)]
    found, again, exact = (
        paired_days(values, seed=3),
        paired_days(values, seed=3),
        sign_flip_p_by_counting([value for _, value, _ in values]),
    )
    assert not found.is_exact
    assert found == again
    assert found.p_sign_flip != paired_days(values, seed=4).p_sign_flip
    assert found.p_sign_flip == pytest.approx(exact, abs=4 * (exact * (1 - exact) / 99_999) ** 0.5)


def test_a_single_pair_has_an_estimate_and_no_bounds() -> None:
    found = paired_days([("a", 3.0, 1.0)])
    assert (found.estimate, found.interval95, found.p_t, found.p_sign_flip) == (2.0, Interval(low=-inf, high=inf), 1.0, 1.0)
    assert not found.has_spread


def test_equal_differences_bound_nothing() -> None:
    found = paired_days([("a", 250.3, 240.2), ("b", 231.1, 221.0), ("c", 0.1 + 0.2 + 10.1, 0.3)])
    assert not found.has_spread
    assert not found.interval95.is_bounded


@pytest.mark.parametrize(
    ("pairs", "words"),
    [
        ([], "no whole pair"),
        ([("a", 1.0, 2.0), ("a", 2.0, 3.0)], "named twice"),
        ([("a", 1.0, 2.0), ("b", float("nan"), 3.0)], "pair b"),
        ([("a", 1.0, inf)], "pair a"),
    ],
)
def test_what_cannot_be_weighed_is_refused(pairs: list[tuple[str, float, float]], words: str) -> None:
    with pytest.raises(StudyError, match=words):
        paired_days(pairs)


def test_an_interval_turns_round() -> None:
    assert Interval(low=-1, high=3).turned() == Interval(low=-3, high=1)
