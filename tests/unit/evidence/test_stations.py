"""Stations: each player against himself, one finding for each change."""

from __future__ import annotations

import pytest

from marram.core.errors import StudyError
from marram.evidence.clarity.exercise import Wording
from marram.evidence.clarity.stations import Tried, weigh_stations
from marram.evidence.verdicts import Verdict
from tests.support.seasons import expecting, trial_of

TRIAL = trial_of(expecting("relief_s", 8), {"because": '"No expectation."'})


def tries(players: int, gain: float, tasks: tuple[str, ...] = ("drop",)) -> list[Tried]:
    """Players of different speed, all quicker under the draft by about the same."""
    found = []
    for number in range(players):
        for place, task in enumerate(tasks):
            present = 60.0 + 10 * number + 5 * place
            for wording, value in ((Wording.PRESENT, present), (Wording.DRAFT, present - gain - number % 3)):
                found.append(Tried(player=f"p{number}", task=task, change=1, wording=wording, value=value))
    return found


def test_players_are_held_against_themselves_however_much_they_differ() -> None:
    """Gains of 20, 21, 22, 20, ... seconds among players from 60 to 170 s: the mean gain of twelve is 21."""
    (found,) = weigh_stations(TRIAL, tries(12, 20))
    assert found.effect is not None
    assert found.effect.estimate == pytest.approx(-21)
    assert (found.verdict, found.players, found.values) == (Verdict.DOES_IT, 12, 24)


def test_several_tasks_of_a_player_are_one_player() -> None:
    (found,) = weigh_stations(TRIAL, tries(8, 20, ("drop", "place", "bunker")))
    assert (found.players, found.values) == (8, 48)


def test_a_task_done_under_one_text_alone_does_not_count() -> None:
    half = [entry for entry in tries(8, 20) if entry.wording is Wording.DRAFT or entry.player != "p0"]
    (found,) = weigh_stations(TRIAL, half)
    assert found.players == 7


@pytest.mark.parametrize(("rows", "reason"), [(tries(5, 20), "5 players"), ([tries(1, 20)[0]], "no player")])
def test_too_few_players(rows: list[Tried], reason: str) -> None:
    (found,) = weigh_stations(TRIAL, rows)
    assert found.verdict is Verdict.TOO_LITTLE
    assert found.reason.startswith(reason)


def test_what_cannot_be_weighed_is_refused() -> None:
    with pytest.raises(StudyError, match="Nothing was tried"):
        weigh_stations(TRIAL, [])
    with pytest.raises(StudyError, match="twice"):
        weigh_stations(TRIAL, [*tries(6, 20), tries(6, 20)[0]])
    with pytest.raises(StudyError, match="Nothing is expected"):
        weigh_stations(TRIAL, [Tried(player="a", task="t", change=2, wording=Wording.DRAFT, value=1.0)])
