"""Weighted shares and what silence could turn; figures worked out by hand."""

from __future__ import annotations

import pytest

from marram.core.errors import StudyError
from marram.evidence.weighing.weighting import OTHERS, Cell, weighted_share


def test_two_kinds_of_player_count_as_they_were_asked() -> None:
    """A: 20 of 100 asked answered, 10 yes; B: 80 of 100, 20 yes. Unweighted 30/100; weighted (0.5 + 0.25) / 2 = 0.375."""
    found = weighted_share([Cell(name="A", invited=100, answered=20, yes=10), Cell(name="B", invited=100, answered=80, yes=20)])
    assert found.unweighted == 0.3
    assert found.estimate == pytest.approx(0.375)
    # 0.25 (0.8 x 0.25 / 19) + 0.25 (0.2 x 0.1875 / 79) = 0.0026316 + 0.0001187
    assert found.standard_error == pytest.approx(0.0027503**0.5, rel=1e-3)
    assert found.effective == pytest.approx((5 * 20 + 1.25 * 80) ** 2 / (25 * 20 + 1.5625 * 80))
    assert (found.if_silent_said_no, found.if_silent_said_yes) == (0.15, 0.65)


def test_repeated_players_widen_it() -> None:
    cells = [Cell(name="A", invited=100, answered=40, yes=20)]
    assert weighted_share(cells, independent=10).standard_error == pytest.approx(2 * weighted_share(cells).standard_error)


def test_cells_with_few_answers_are_taken_together() -> None:
    cells = [Cell(name=name, invited=50, answered=answered, yes=answered) for name, answered in (("A", 30), ("B", 3), ("C", 2))]
    assert [(cell.name, cell.invited, cell.answered) for cell in weighted_share(cells).cells] == [("A", 50, 30), (OTHERS, 100, 5)]
    alone = [Cell(name=name, invited=50, answered=answered, yes=1) for name, answered in (("A", 30), ("B", 4), ("C", 9))]
    assert [(cell.name, cell.answered) for cell in weighted_share(alone).cells] == [("A", 30), (OTHERS, 13)]


def test_no_answer_weighs_more_than_five_times_the_middle_one() -> None:
    """B's five answers would weigh 100 each beside 1 for A's: they weigh five each, and so (50 x 0 + 25 x 1) / 75."""
    found = weighted_share([Cell(name="A", invited=50, answered=50, yes=0), Cell(name="B", invited=500, answered=5, yes=5)])
    assert found.estimate == pytest.approx(25 / 75)


@pytest.mark.parametrize("cell", [Cell(name="A", invited=1, answered=2, yes=1), Cell(name="A", invited=5, answered=2, yes=3)])
def test_what_cannot_be_is_refused(cell: Cell) -> None:
    with pytest.raises(StudyError, match="cannot be"):
        weighted_share([cell])


def test_where_nobody_answers_there_is_no_share() -> None:
    with pytest.raises(StudyError, match="Nobody"):
        weighted_share([Cell(name="A", invited=5, answered=0, yes=0)])
