"""Models of rows that hang together, where the arithmetic can be done by hand: days of equal size, clusters of equal size."""

from math import log, sqrt
from statistics import fmean, stdev, variance

import numpy as np
import pytest

from marram.core.errors import StudyError
from marram.evidence.models.fitted import find
from marram.evidence.models.mixed_model import fit_mixed
from marram.evidence.models.yes_no_model import fit_yes_no


def test_equal_days_in_pairs_give_the_mean_difference_and_the_error_of_the_days() -> None:
    """With as many rows on each day, rows say no more than the means of the days do."""
    chance = np.random.default_rng(2)
    day = np.repeat(np.arange(12), 8)
    trial, pair = (day % 2).astype(float), day // 2
    values = 240 + chance.normal(0, 5, 6)[pair] + chance.normal(0, 4, 12)[day] - 3 * trial + chance.normal(0, 6, 96)
    terms = {"trial": list(trial)} | {f"pair {number}": list((pair == number).astype(float)) for number in range(1, 6)}
    found = fit_mixed(list(values), terms, [int(one) for one in day])
    means = [fmean(values[day == one]) for one in range(12)]
    differences = [means[2 * one + 1] - means[2 * one] for one in range(6)]
    term = find(found.terms, "trial")
    assert term.estimate == pytest.approx(fmean(differences), abs=1e-6)
    assert term.standard_error == pytest.approx(stdev(differences) / sqrt(6), rel=1e-3)
    assert found.between > 0


def test_equal_groups_give_the_variances_of_their_means_and_rows() -> None:
    groups = {"a": [10.0, 12.0], "b": [20.0, 24.0], "c": [15.0, 15.0]}
    values = [value for own in groups.values() for value in own]
    found = fit_mixed(values, {}, [name for name, own in groups.items() for _ in own])
    within = fmean(variance(own) for own in groups.values())  # (2 + 8 + 0) / 3
    between = variance([fmean(own) for own in groups.values()]) - within / 2
    assert found.within == pytest.approx(10 / 3, rel=1e-3)
    assert found.between == pytest.approx(between, rel=1e-3)
    assert found.icc == pytest.approx(between / (between + within), rel=1e-3)
    assert (found.slope_between, found.intercept_with_slope) == (None, None)


def test_groups_that_do_not_lean_have_no_variance_between() -> None:
    found = fit_mixed([1.0, 5.0, 2.0, 4.0, 0.0, 6.0], {}, ["a", "a", "b", "b", "c", "c"])
    assert found.between == 0.0
    assert found.within == pytest.approx(variance([1, 5, 2, 4, 0, 6]))
    assert found.terms[0].standard_error == pytest.approx(sqrt(28 / 5 / 6))


def test_as_many_terms_as_rows_leave_nothing_to_fit() -> None:
    with pytest.raises(StudyError, match="cannot be fitted"):
        fit_mixed([1.0, 2.0], {"trial": [0.0, 1.0]}, ["a", "b"])
    with pytest.raises(StudyError, match="cannot be fitted"):
        fit_mixed([1.0, 1.0, 2.0, 2.0], {"trial": [0.0, 0.0, 1.0, 1.0]}, ["a", "b", "c", "d"])  # nothing is left over


def test_one_group_shows_no_spread_between() -> None:
    with pytest.raises(StudyError, match="no spread between"):
        fit_mixed([1.0, 2.0], {}, ["a", "a"])


def test_equal_clusters_give_the_share_and_the_error_of_their_sums() -> None:
    """Four clusters of three with 3, 2, 0 and 1 yes: half of all; their sums lie 1.5, 0.5, -1.5 and -0.5 from the middle."""
    answers = [1, 1, 1, 1, 1, 0, 0, 0, 0, 1, 0, 0]
    clusters = [number // 3 for number in range(12)]
    found = fit_yes_no(answers, {}, clusters)
    term = found.terms[0]
    assert term.estimate == pytest.approx(log(1.0), abs=1e-8)
    assert term.standard_error == pytest.approx(sqrt(1.5**2 + 0.5**2 + 1.5**2 + 0.5**2) / (12 * 0.25), rel=1e-5)
    # pairs within clusters, each 1 for alike and -1 for not: 3, -1, 3 and -1 of twelve
    assert found.correlation == pytest.approx((3 - 1 + 3 - 1) / 12, abs=0.12)
    assert found.clusters == 4


def test_few_clusters_are_allowed_for() -> None:
    """With equal clusters and no terms each residual is divided by what it leaves to itself: 1 - 1/4."""
    answers, clusters = [1, 1, 1, 1, 1, 0, 0, 0, 0, 1, 0, 0], [number // 3 for number in range(12)]
    plain, few = (fit_yes_no(answers, {}, clusters, are_few=are_few).terms[0].standard_error for are_few in (False, True))
    assert few == pytest.approx(plain / 0.75, rel=1e-4)


@pytest.mark.parametrize("answers", [[1, 1, 1], [0, 2, 1], []])
def test_what_is_no_yes_or_no_is_told(answers: list[float]) -> None:
    with pytest.raises(StudyError, match="yes and no"):
        fit_yes_no(answers, {}, list(range(len(answers))))
