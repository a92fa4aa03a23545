"""How many players and rulings an exercise needs, and what the planned ones can find."""

from __future__ import annotations

import pytest

from marram.core.errors import StudyError
from marram.evidence.clarity.assignment import Assigned, assign_incidents
from marram.evidence.clarity.exercise import Wording
from marram.interchange.field.exercise_files import Task
from marram.office.exercises.exercise_sizes import clarity_size, station_sizes
from tests.support.seasons import expecting, trial_of

SEARCH = expecting("search_s", 5) | {"guards": '[{ outcome = "strokes", margin = 1, worse = "up" }]'}
TASKS = [Task(name="a", text="A", change=1), Task(name="b", text="B", change=2), Task(name="c", text="C", change=1)]


def test_a_station_by_published_sizes() -> None:
    """Cohen, 1988: an effect of half a standard deviation takes 64 in each of two lots; paired, 34 (t of 33, 80 %)."""
    (size,) = station_sizes(trial_of(SEARCH, expecting("relief_s", 4)), TASKS, {"search_s": 10.0}, players=34)
    assert (size.change, size.outcome, size.unit, size.matters) == (1, "search_s", "s", 5)
    assert size.players_in_each_lot == 64
    assert size.players_needed == 34
    assert size.least_effect <= 5
    assert size.guards == ()


def test_a_guard_takes_players_too() -> None:
    """2 x 3^2 (1.645 + 1.2816)^2 / 1^2 = 154.1, so 155 (Schuirmann, 1987)."""
    sizes = station_sizes(trial_of(SEARCH, expecting("relief_s", 4)), TASKS, {"search_s": 10, "strokes": 3, "relief_s": 8}, players=12)
    assert [size.change for size in sizes] == [1, 2]
    (guard,) = sizes[0].guards
    assert (guard.outcome, guard.margin, guard.players_in_each_lot) == ("strokes", 1, 155)
    assert sizes[0].least_effect > 5


def test_a_clarity_exercise_by_a_published_size() -> None:
    """Half against 65 %: 170 on each side (pooled variance); of ten rulings of an incident 1 + 9 x 0.1 = 1.9 as many: 323."""
    assigned = assign_incidents([f"i{number}" for number in range(6)], 20, "moor")
    size = clarity_size(assigned, agreement=0.5, matters=0.15)
    assert size.rulings == 60
    assert size.design_effect == pytest.approx(1.9)
    assert size.rulings_needed == 323
    assert size.least_difference is not None
    again = clarity_size(assigned, agreement=0.5, matters=size.least_difference)
    assert again.rulings_needed <= 60 < clarity_size(assigned, agreement=0.5, matters=round(size.least_difference - 0.01, 2)).rulings_needed


def test_what_leaves_no_room_is_refused_and_what_finds_nothing_says_so() -> None:
    assigned = assign_incidents([f"i{number}" for number in range(6)], 20, "moor")
    with pytest.raises(StudyError, match="leaves no room"):
        clarity_size(assigned, agreement=0.95, matters=0.1)
    assert clarity_size(assigned, agreement=0.95, matters=0.05).least_difference is None


def test_the_text_that_fewer_rule_under_counts() -> None:
    assigned = [
        Assigned(person=f"o{place}", place=1, item="i", wording=Wording.DRAFT if place % 3 else Wording.PRESENT) for place in range(9)
    ]
    assert clarity_size(assigned, agreement=0.5, matters=0.2).rulings == 3
