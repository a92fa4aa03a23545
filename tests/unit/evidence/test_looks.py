"""Looks at a trial before its end."""

import numpy as np
import pytest

from marram.core.errors import StudyError
from marram.evidence.looks import Bounds, bounds_of_looks, chance_of_alarm


def test_a_single_look_has_the_ordinary_bound() -> None:
    assert bounds_of_looks(1) == pytest.approx((1.959964,), abs=1e-6)
    assert chance_of_alarm([1.959964]) == pytest.approx(0.05, abs=1e-7)


@pytest.mark.parametrize("shape", Bounds)
@pytest.mark.parametrize("looks", [2, 3, 7])
def test_all_looks_together_raise_five_alarms_in_a_hundred(looks: int, shape: Bounds) -> None:
    bounds = np.array(bounds_of_looks(looks, shape))
    sums = np.random.default_rng(4).normal(size=(40_000, looks)).cumsum(axis=1)
    alarms = (np.abs(sums / np.sqrt(np.arange(1, looks + 1))) > bounds).any(axis=1).mean()
    assert abs(alarms - 0.05) < 3 * (0.05 * 0.95 / 40_000) ** 0.5


def test_falling_bounds_fall_and_level_ones_do_not() -> None:
    falling, level = bounds_of_looks(4), bounds_of_looks(4, Bounds.LEVEL)
    assert list(falling) == sorted(falling, reverse=True)
    assert len(set(level)) == 1
    assert falling[-1] < level[-1]


def test_what_cannot_be_planned_is_refused() -> None:
    for looks in (0, 11):
        with pytest.raises(StudyError, match="looks cannot be planned"):
            bounds_of_looks(looks)
    for bounds in ([], [2.0, 0.0]):
        with pytest.raises(StudyError, match="bound is not above zero"):
            chance_of_alarm(bounds)
