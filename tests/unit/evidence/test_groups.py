"""Comparisons of groups or players drawn singly."""

import pytest

from marram.core.errors import StudyError
from marram.evidence.groups import Sample, compare_in_turn, compare_lots, sample_of


def test_two_lots_by_hand() -> None:
    found = compare_lots([(sample_of([4.0, 6.0, 8.0]), sample_of([1.0, 2.0, 3.0]))])
    # pooled variance (2 x 4 + 2 x 1) / 4 = 2.5; standard error sqrt(2.5 x 2 / 3); t.975 with 4 degrees of freedom is 2.7764
    error = (2.5 * 2 / 3) ** 0.5
    assert (found.estimate, found.standard_error, found.degrees_of_freedom) == pytest.approx((4.0, error, 4))
    assert (found.interval95.low, found.interval95.high) == pytest.approx((4 - 2.7764 * error, 4 + 2.7764 * error), abs=1e-3)
    assert (found.p < 0.05) == (found.interval95.low > 0)


def test_lots_of_several_days_by_hand_leave_out_what_days_alone_change() -> None:
    """Day one: 4, 6 against 1, 3: 3 more. Day two, 100 higher for all: 106, 108, 110 against 102, 104, 106: 4 more.

    Weights 2 x 2 / 4 = 1 and 3 x 3 / 6 = 1.5: (1 x 3 + 1.5 x 4) / 2.5 = 3.6. Squares about the means of their lots 2 + 2 + 8 + 8 = 20 with
    1 + 1 + 2 + 2 = 6 degrees of freedom: variance 20 / 6, standard error sqrt(20 / 6 / 2.5). t.975 with 6 is 2.4469.
    """
    found = compare_lots(
        [
            (sample_of([4.0, 6.0]), sample_of([1.0, 3.0])),
            (sample_of([106.0, 108.0, 110.0]), sample_of([102.0, 104.0, 106.0])),
        ]
    )
    error = (20 / 6 / 2.5) ** 0.5
    assert (found.estimate, found.standard_error, found.degrees_of_freedom) == pytest.approx((3.6, error, 6))
    assert found.interval95.high == pytest.approx(3.6 + 2.4469 * error, abs=1e-3)


def test_what_time_alone_changes_is_taken_out_of_rounds_played_in_turn() -> None:
    # trial rules save 5; the second round takes 8 longer whatever the rules
    level = [250.0, 262.0, 241.0]
    trial_first = [(base - 5, base + 8 + wobble) for base, wobble in zip(level, (1, -1, 0), strict=True)]
    ordinary_first = [(base, base - 5 + 8 + wobble) for base, wobble in zip(level, (-2, 0, 2), strict=True)]
    found = compare_in_turn(trial_first, ordinary_first)
    # first less second: -14, -12, -13 and -1, -3, -5; pooled variance (2 x 1 + 2 x 4) / 4 = 2.5; half of sqrt(2.5 x 2 / 3)
    assert (found.estimate, found.standard_error, found.degrees_of_freedom) == pytest.approx((-5, (2.5 * 2 / 3) ** 0.5 / 2, 4))
    # t.975 with 4 degrees of freedom is 2.7764, t.95 is 2.1318
    assert found.interval95.high - found.estimate == pytest.approx(2.7764 * found.standard_error, abs=1e-3)
    assert found.interval90.high - found.estimate == pytest.approx(2.1318 * found.standard_error, abs=1e-3)


def test_too_few_or_no_spread_is_refused() -> None:
    with pytest.raises(StudyError, match="No values"):
        sample_of([])
    with pytest.raises(StudyError, match="lot of one"):
        compare_lots([(sample_of([3.0]), sample_of([2.0]))])
    with pytest.raises(StudyError, match="lot of one"):
        compare_lots([(Sample(n=0, mean=3, sd=1), Sample(n=5, mean=3, sd=1))])
    with pytest.raises(StudyError, match="lot of one"):
        compare_lots([])
    with pytest.raises(StudyError, match="no spread"):
        compare_lots([(Sample(n=4, mean=3, sd=0), Sample(n=5, mean=2, sd=0))])
    with pytest.raises(StudyError, match="by one or none"):
        compare_in_turn([(1.0, 2.0)], [(1.0, 2.0), (2.0, 3.0)])
