"""Shares and answers in five steps."""

import pytest

from marram.core.errors import StudyError
from marram.evidence.shares import changed_answers, share, share_difference, steps

Z95 = 1.959964


def test_the_limits_of_a_share_solve_the_equation_of_the_score() -> None:
    found = share(13, 40)
    for limit in (found.interval95.low, found.interval95.high):
        assert (found.estimate - limit) ** 2 == pytest.approx(Z95**2 * limit * (1 - limit) / 40, rel=1e-5)


@pytest.mark.parametrize(("count", "of"), [(0, 20), (20, 20)])
def test_a_share_of_none_or_all_stays_inside(count: int, of: int) -> None:
    found = share(count, of)
    assert 0 <= found.interval95.low <= found.interval90.low <= found.interval90.high <= found.interval95.high <= 1


@pytest.mark.parametrize(("count", "of"), [(1, 0), (-1, 4), (5, 4)])
def test_no_share_is_made_of_nothing(count: int, of: int) -> None:
    with pytest.raises(StudyError, match="is no share"):
        share(count, of)


def test_answers_in_five_steps() -> None:
    found = steps([4, 6, 10, 12, 8])
    assert found.counts == (4, 6, 10, 12, 8)
    assert found.answers == 40
    assert found.top_two == share(20, 40)
    assert found.net == pytest.approx(0.25)
    half = Z95 * ((0.75 - 0.25**2) / 40) ** 0.5
    assert (found.net_interval95.low, found.net_interval95.high) == pytest.approx((0.25 - half, 0.25 + half), abs=1e-5)
    assert found.net_interval95.low < found.net_interval90.low


@pytest.mark.parametrize(("counts", "net"), [([0, 0, 0, 5, 4], 1.0), ([3, 6, 0, 0, 0], -1.0), ([0, 0, 9, 0, 0], 0.0)])
def test_answers_that_are_all_alike_still_leave_room(counts: list[int], net: float) -> None:
    found = steps(counts)
    assert found.net == net
    assert found.net_interval95.low < found.net_interval95.high
    assert -1 <= found.net_interval95.low <= net <= found.net_interval95.high <= 1


def test_more_answers_of_one_kind_leave_less_room() -> None:
    assert steps([0, 0, 0, 0, 100]).net_interval95.low > steps([0, 0, 0, 0, 10]).net_interval95.low


@pytest.mark.parametrize("counts", [[], [1, 2, 3, 4], [0, 0, 0, 0, 0], [1, 1, -1, 1, 1]])
def test_what_are_no_answers_is_refused(counts: list[int]) -> None:
    with pytest.raises(StudyError, match="no answers in five steps"):
        steps(counts)


def test_shares_of_two_lots_lie_as_far_apart_as_their_intervals_let_them() -> None:
    found = share_difference(9, 30, 18, 30)
    first, second = share(9, 30), share(18, 30)
    assert found.estimate == pytest.approx(-0.3)
    low = found.estimate - ((0.3 - first.interval95.low) ** 2 + (second.interval95.high - 0.6) ** 2) ** 0.5
    assert found.interval95.low == pytest.approx(low)
    assert found.interval95.low < found.interval90.low


def test_the_exact_p_of_rare_shares_counts_tables() -> None:
    # 0 of 3 against 3 of 3: one table in 20 is as far one way, two in 20 either way
    found = share_difference(0, 3, 3, 3)
    assert found.p_exact == pytest.approx(2 / 20)
    assert found.p_exact_more == pytest.approx(1.0)
    assert share_difference(3, 3, 0, 3).p_exact_more == pytest.approx(1 / 20)


def test_only_changed_answers_count() -> None:
    few, many = (changed_answers(both_yes=n, only_first=2, only_second=9, both_no=n) for n in (1, 100))
    assert few.p_exact == many.p_exact == pytest.approx(2 * (1 + 11 + 55) / 2**11)
    assert few.chi2 == pytest.approx(49 / 11)
    assert few.difference == pytest.approx(7 / 13)


def test_nobody_changing_an_answer_shows_no_difference() -> None:
    assert changed_answers(both_yes=4, only_first=0, only_second=0, both_no=3).p_exact == 1.0


def test_answers_must_be_counted() -> None:
    with pytest.raises(StudyError, match="no counts of answers"):
        changed_answers(both_yes=0, only_first=0, only_second=0, both_no=0)
