"""A trial with only some of its changes on, and changes that leave nothing for each other."""

from __future__ import annotations

from itertools import combinations

import pytest

from marram.core.errors import StudyError
from marram.office.trials.some_changes import meeting_pairs, refuse_forbidden, with_changes
from marram.rulebook import packaged_catalogue
from marram.rulebook.book import open_book
from tests.support.seasons import trial_of

BOOK = open_book("2023", [], packaged_catalogue())
LATERAL = "relief.penalty-area-lateral-red"
FORBIDS = {"key": f'"{LATERAL}.allowed"', "was": "true", "now": "false"}
LEANS = {"key": f'"{LATERAL}.penalty_strokes"', "was": "1", "now": "2"}


def test_a_day_has_the_book_of_its_changes() -> None:
    trial = trial_of({}, {}, {})
    some = with_changes(trial, {1, 3})
    assert [(change.number, change.key) for change in some.changes] == [(1, "search.limit_min"), (2, "overhanging-ball-wait.wait_s")]
    laid = open_book("2023", [some], packaged_catalogue())
    assert laid.number("search.limit_min").value == 2
    assert laid.size("relief.lateral.size").value == BOOK.size("relief.lateral.size").value


def test_clarifications_go_with_their_changes() -> None:
    trial = trial_of(
        {},
        {},
        clarification='[{ dated = 2026-04-01, change = 2, text = "Of two." }, { dated = 2026-04-01, change = 1, text = "Of one." }, '
        '{ dated = 2026-04-01, text = "Of all." }]',
    )
    told = with_changes(trial, {2}).life.clarifications
    assert [(entry.text, entry.change) for entry in told] == [("Of two.", 1), ("Of all.", None)]


@pytest.mark.parametrize(("numbers", "why"), [({1, 5}, "no change 5"), (set(), "ordinary book")])
def test_no_such_change(numbers: set[int], why: str) -> None:
    with pytest.raises(StudyError, match=why):
        with_changes(trial_of({}, {}), numbers)


def every_day(changes: int) -> list[set[int]]:
    return [set(chosen) for count in range(changes + 1) for chosen in combinations(range(1, changes + 1), count)]


def test_a_change_that_leaves_nothing_for_another_is_refused_with_separate_arms() -> None:
    for order, first, second in (([FORBIDS, LEANS], 1, 2), ([LEANS, FORBIDS], 2, 1)):
        with pytest.raises(StudyError, match=f"change {first} is on, change {second} never comes up") as refused:
            refuse_forbidden(trial_of(*order), BOOK, every_day(2))
        assert "separate arms" in str(refused.value)


def test_changes_that_leave_each_other_room_are_let_through() -> None:
    refuse_forbidden(trial_of({}, {}, {}), BOOK, every_day(3))
    refuse_forbidden(trial_of(FORBIDS, {}), BOOK, every_day(2))


def test_changes_of_one_procedure_meet() -> None:
    assert meeting_pairs(trial_of(FORBIDS, LEANS, {}), BOOK) >= {frozenset({1, 2})}
    assert meeting_pairs(trial_of({}, {}, {}), BOOK) == frozenset()
