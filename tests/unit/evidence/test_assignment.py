"""Who does what under which text: in balance, drawn from the seed, and nobody meets an incident twice."""

from __future__ import annotations

from collections import Counter

import pytest

from marram.core.errors import StudyError
from marram.evidence.clarity.assignment import assign_incidents, assign_tasks
from marram.evidence.clarity.exercise import Wording

INCIDENTS = [f"i{number}" for number in range(9)]


@pytest.mark.parametrize("officials", [6, 7, 10])
def test_each_official_rules_each_incident_once_and_each_text_gets_half(officials: int) -> None:
    drawn = assign_incidents(INCIDENTS, officials, "moor")
    assert Counter((entry.person, entry.item) for entry in drawn) == Counter(
        (f"o{number:02d}", incident) for number in range(1, officials + 1) for incident in INCIDENTS
    )
    for incident in INCIDENTS:
        under = Counter(entry.wording for entry in drawn if entry.item == incident)
        assert abs(under[Wording.DRAFT] - under[Wording.PRESENT]) <= officials % 2
        assert min(under.values()) >= 3
    for number in range(1, officials + 1):
        places = [entry.place for entry in drawn if entry.person == f"o{number:02d}"]
        assert places == list(range(1, len(INCIDENTS) + 1))


def test_each_player_does_each_task_under_both_texts_and_half_begin_with_the_draft() -> None:
    drawn = assign_tasks(["drop", "place"], 12, "moor")
    assert Counter((entry.person, entry.item, entry.wording) for entry in drawn).most_common(1)[0][1] == 1
    assert len(drawn) == 12 * 2 * 2
    for task in ("drop", "place"):
        firsts: Counter[Wording] = Counter()
        for number in range(1, 13):
            own = [(entry.place, entry.wording) for entry in drawn if (entry.person, entry.item) == (f"p{number:02d}", task)]
            firsts[min(own)[1]] += 1
        assert firsts == {Wording.DRAFT: 6, Wording.PRESENT: 6}


def test_the_seed_decides() -> None:
    assert assign_incidents(INCIDENTS, 6, "moor") == assign_incidents(INCIDENTS, 6, "moor")
    assert assign_incidents(INCIDENTS, 6, "moor") != assign_incidents(INCIDENTS, 6, "heath")
    orders = {tuple(entry.item for entry in assign_incidents(INCIDENTS, 6, "moor") if entry.person == f"o{n:02d}") for n in range(1, 7)}
    assert len(orders) > 3


@pytest.mark.parametrize(("incidents", "officials", "seed"), [([], 6, "a"), (["i", "i"], 6, "a"), (["i"], 5, "a"), (["i"], 6, " ")])
def test_what_cannot_be_drawn_is_refused(incidents: list[str], officials: int, seed: str) -> None:
    with pytest.raises(StudyError):
        assign_incidents(incidents, officials, seed)
    with pytest.raises(StudyError):
        assign_tasks(incidents, min(officials, 1) if len(incidents) == 1 and seed.strip() else officials, seed)
