"""Guards: kept, harmed, or not shown."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from statsmodels.stats.weightstats import DescrStatsW

from marram.core.errors import StudyError
from marram.evidence.effects import Interval, paired_days
from marram.evidence.guards import GuardWord, equivalence_of_groups_p, guard_either_way, guard_of


@pytest.mark.parametrize(
    ("low", "high", "word"),
    [
        (-0.4, 0.3, GuardWord.KEPT),
        (0.6, 2.0, GuardWord.KEPT),
        (-0.5, 0.2, GuardWord.OPEN),  # an end on the margin is not inside it
        (-0.9, 0.2, GuardWord.OPEN),
        (-2.0, -0.5, GuardWord.OPEN),
        (-2.0, -0.51, GuardWord.HARMED),
    ],
)
def test_what_must_not_get_worse(low: float, high: float, word: GuardWord) -> None:
    assert guard_of(Interval(low=low, high=high), 0.5) is word


@pytest.mark.parametrize(
    ("low", "high", "word"),
    [
        (-0.4, 0.3, GuardWord.KEPT),
        (-0.4, 0.5, GuardWord.OPEN),
        (0.4, 0.9, GuardWord.OPEN),
        (0.6, 2.0, GuardWord.HARMED),
        (0.5, 2.0, GuardWord.OPEN),  # an end on the margin is neither inside nor outside it
        (-2.0, -0.5, GuardWord.OPEN),
        (-0.5, 0.3, GuardWord.OPEN),
        (-2.0, -0.51, GuardWord.HARMED),
    ],
)
def test_what_must_not_change_either_way(low: float, high: float, word: GuardWord) -> None:
    assert guard_either_way(Interval(low=low, high=high), 0.5) is word


differences = st.lists(st.integers(-300, 300).map(lambda tenths: tenths / 10), min_size=3, max_size=12).filter(
    lambda values: len(set(values)) > 1
)


@given(differences, st.integers(1, 400).map(lambda tenths: tenths / 10))
def test_two_one_sided_tests_say_what_the_90_pct_interval_says(values: list[float], margin: float) -> None:
    interval = paired_days([(str(number), value, 0.0) for number, value in enumerate(values)]).interval90
    nearest = min(abs(interval.low + margin), abs(interval.high - margin))
    if nearest > 1e-9:
        two_tests = float(DescrStatsW(values).ttost_mean(-margin, margin)[0])
        assert (guard_either_way(interval, margin) is GuardWord.KEPT) == (two_tests < 0.05)


@pytest.mark.parametrize("margin", [0.0, -1.0, float("nan")])
def test_a_margin_is_above_zero(margin: float) -> None:
    for ask in (guard_of, guard_either_way):
        with pytest.raises(StudyError, match="nothing to be guarded"):
            ask(Interval(low=-1, high=1), margin)


def test_two_lots_within_a_margin() -> None:
    first, second = [10.0, 11.0, 12.0, 13.0], [10.5, 11.5, 12.5, 13.5]
    assert equivalence_of_groups_p(first, second, 8.0) < 0.01
    assert equivalence_of_groups_p(first, second, 0.6) > 0.3
    assert equivalence_of_groups_p(first, second, 2.0) == pytest.approx(equivalence_of_groups_p(second, first, 2.0))


def test_a_lot_of_one_is_no_test() -> None:
    with pytest.raises(StudyError, match="lot of one"):
        equivalence_of_groups_p([1.0], [1.0, 2.0], 0.5)
