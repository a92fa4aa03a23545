"""Pairs of days adjusted for what the plan named, against a line fitted by hand."""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt

import pytest

from marram.evidence.fitting.adjusted_pairs import adjust_pairs


def pairs_of(differences: list[float]) -> list[tuple[str, float, float]]:
    return [(f"p{place}", 100 + difference, 100.0) for place, difference in enumerate(differences)]


def told(both: Sequence[tuple[object, object]]) -> dict[str, tuple[str, str]]:
    return {f"p{place}": (str(trial), str(ordinary)) for place, (trial, ordinary) in enumerate(both)}


def test_a_number_by_hand() -> None:
    """Differences 1, 2, 3, 4, 5, 6, 9 against wind that differs by -3, -2, -1, 0, 1, 2, 3.

    Mean 30/7 at a wind of 0 (its differences add up to 0), so the adjusted difference is 30/7 = 4.2857. The slope is
    (-3 - 4 - 3 + 0 + 5 + 12 + 27) / 28 = 34/28. Squares about the mean: 172 - 900/7 = 43.4286, less 34²/28 = 41.2857 leaves 2.1429, with 5
    degrees of freedom: variance 0.42857, standard error sqrt(0.42857 / 7) = 0.24744; t(0.975, 5) = 2.5706.
    """
    wind = [(10 + step, 10) for step in (-3, -2, -1, 0, 1, 2, 3)]
    found = adjust_pairs(pairs_of([1, 2, 3, 4, 5, 6, 9]), {"wind": told(wind)})
    assert found.reason == ""
    assert found.estimate == pytest.approx(30 / 7)
    assert found.interval95 is not None
    assert found.interval90 is not None
    assert found.interval95.high - 30 / 7 == pytest.approx(2.5706 * sqrt(0.428571 / 7), abs=1e-4)
    assert found.interval90.high - 30 / 7 == pytest.approx(2.0150 * sqrt(0.428571 / 7), abs=1e-4)
    assert found.pairs == 7


def test_a_trial_that_always_had_more_wind_is_set_right() -> None:
    """Each pair differs by 2 and by three times the wind between its days: what is left without wind is 2."""
    steps = [1, 2, 3, 1, 2, 3, 4]
    wobble = [0.1, -0.1, 0.0, -0.1, 0.1, 0.0, 0.0]
    found = adjust_pairs(
        pairs_of([2 + 3 * step + each for step, each in zip(steps, wobble, strict=True)]),
        {"wind": told([(5 + step, 5) for step in steps])},
    )
    assert found.estimate == pytest.approx(2.0, abs=0.15)


def test_words_are_classes() -> None:
    """Fresh against light adds 6, whichever day had it: alike days differ by 1 on average."""
    both = [("fresh", "light"), ("light", "Fresh"), ("light", "light"), ("fresh", "fresh"), ("fresh", "light"), ("light", "fresh")] * 2
    wind = {("fresh", "light"): 6, ("light", "fresh"): -6}
    wobble = [0.1, -0.1, 0.1, -0.1, -0.1, 0.1, -0.1, 0.1, -0.1, 0.1, 0.1, -0.1]
    differences = [1 + wind.get((one.lower(), other.lower()), 0) + each for (one, other), each in zip(both, wobble, strict=True)]
    found = adjust_pairs(pairs_of(differences), {"wind": told(both)})
    assert found.estimate == pytest.approx(1.0, abs=0.05)


def test_pairs_that_lack_it_are_left_out_and_named() -> None:
    wind: list[tuple[object, object]] = [(10 + place % 4, 10) for place in range(10)]
    wind[3] = ("", 10)
    found = adjust_pairs(pairs_of([float(place % 5) for place in range(10)]), {"wind": told(wind)})
    assert (found.left_out, found.pairs) == (("p3",), 9)
    assert found.estimate is not None


def test_a_pair_that_lacks_one_of_two_is_left_out() -> None:
    wind = told([(place % 4, 0) for place in range(12)])
    rain = told([("" if place == 5 else place % 3, 0) for place in range(12)])
    found = adjust_pairs(pairs_of([float(place * 5 % 7) for place in range(12)]), {"wind": wind, "rain": rain})
    assert (found.left_out, found.pairs) == (("p5",), 11)


def test_what_never_differs_adjusts_nothing() -> None:
    found = adjust_pairs(pairs_of([float(place % 5) for place in range(10)]), {"field": told([(75, 75)] * 10)})
    assert found.estimate is None
    assert found.same == ("field",)
    assert "nothing to adjust for" in found.reason
    both = adjust_pairs(
        pairs_of([float(place % 5) for place in range(10)]),
        {"field": told([(75, 75)] * 10), "wind": told([(place % 4, 0) for place in range(10)])},
    )
    assert both.estimate is not None
    assert both.same == ("field",)


def test_numbers_and_words_are_not_mixed() -> None:
    both: list[tuple[object, object]] = [(place % 4, 0) for place in range(10)]
    for odd in (("fresh", 3), (3, "fresh")):
        both[2] = odd
        found = adjust_pairs(pairs_of([float(place % 5) for place in range(10)]), {"wind": told(both)})
        assert found.estimate is None
        assert found.reason == "wind is a number on some days and a word on others"


def test_too_few_pairs_are_told() -> None:
    """Six pairs leave five degrees of freedom unadjusted; one number more needs seven."""
    wind = told([(place, 0) for place in range(7)])
    assert "6 pairs are too few" in adjust_pairs(pairs_of([1, 2, 3, 1, 2, 5]), {"wind": wind}).reason
    assert adjust_pairs(pairs_of([1, 2, 3, 1, 2, 5, 4]), {"wind": wind}).reason == ""
    assert "no pair" in adjust_pairs(pairs_of([1, 2]), {"wind": {}}).reason
