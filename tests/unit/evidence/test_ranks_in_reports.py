"""Ranks where a report tells them: changes in the order that players put them in, and days by rank."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from marram.evidence.findings import weigh_trial
from marram.evidence.ranks import rank_changes, rated_by_all
from marram.evidence.sensitivity.beside import with_sensitivity
from marram.evidence.sensitivity.by_rows import Row, player_line
from marram.evidence.sensitivity.sensitivity_line import Way
from marram.evidence.sensitivity.sensitivity_words import sensitivity_sentences
from marram.evidence.weighing.finding_words import rated_sentences
from marram.records.outcomes import outcomes
from marram.records.rows import Arm, Observation, TrialRecords
from tests.support.seasons import days_of, expecting, rows_of, steady, trial_of

FAIR = outcomes()["fair"]
DAYS = days_of(6)
THREE = (expecting("round_min", 6), expecting("waiting_min", 4), expecting("strokes", 1))
RATINGS = {"a": (5, 3, 1), "b": (4, 3, 2), "c": (5, 4, 1), "d": (4, 5, 3)}


def answers(ratings: Mapping[str, tuple[int, ...]], day: str = "trial0") -> list[Observation]:
    return [
        Observation(day=day, outcome="fair", value=value, player=player, change=change)
        for player, own in ratings.items()
        for change, value in enumerate(own, start=1)
    ]


def test_players_who_rated_every_change_put_them_in_order() -> None:
    """Mean ranks (3 3 3 2) / 4, (2 2 2 3) / 4 and 1: 2.75, 2.25, 1; Friedman by the same rows. Who rated two alone does not count."""
    records = TrialRecords(days=DAYS, observations=(*answers(RATINGS), *answers({"e": (1, 5)})))
    found = rated_by_all(FAIR, records)
    assert found is not None
    assert (found.changes, found.players) == ((1, 2, 3), 4)
    assert found.ranked.mean_ranks == (2.75, 2.25, 1.0)
    assert found.ranked.chi2 == rank_changes([list(own) for own in RATINGS.values()]).chi2


def test_answers_of_ordinary_days_and_of_two_changes_rank_nothing() -> None:
    assert rated_by_all(FAIR, TrialRecords(days=DAYS, observations=tuple(answers(RATINGS, "ordinary0")))) is None
    two = {player: own[:2] for player, own in RATINGS.items()}
    assert rated_by_all(FAIR, TrialRecords(days=DAYS, observations=tuple(answers(two)))) is None
    alike = dict.fromkeys(RATINGS, (3, 3, 3))
    assert rated_by_all(FAIR, TrialRecords(days=DAYS, observations=tuple(answers(alike)))) is None


def test_the_report_tells_the_order() -> None:
    rows = [*rows_of(DAYS, "round_min", steady(220, 240)), *answers(RATINGS)]
    report = weigh_trial(trial_of(*THREE), TrialRecords(days=DAYS, observations=tuple(rows)))
    assert report.rated is not None
    (told,) = rated_sentences(report)
    assert told.startswith("4 players said of every change how fair it is; by mean rank, the fairest highest: change 1 2.75, change 2 2.25")
    assert rated_sentences(weigh_trial(trial_of(*THREE), TrialRecords(days=DAYS, observations=()))) == ()


def test_days_by_rank_stand_beside_a_finding() -> None:
    """Every trial day lies below every ordinary day: a chance of none that it lies above."""
    rows = rows_of(DAYS, "round_min", steady(220, 240))
    report = with_sensitivity(weigh_trial(trial_of(THREE[0]), TrialRecords(days=DAYS, observations=tuple(rows))))
    (line,) = [line for line in report.findings[0].sensitivity if line.way is Way.RANKS]
    assert line.estimate == 0
    assert line.p == pytest.approx(1 / 924, abs=2e-3)
    assert "a trial day lies above an ordinary day with a chance of 0%" in " ".join(sensitivity_sentences(report.findings[0]))


def test_yes_and_no_of_the_same_players_by_those_who_changed() -> None:
    """Of 12 players 5 say yes under trial rules alone and 1 under ordinary rules alone: 4 of 12 more; exact p 2 (1 + 6) / 2^6."""
    said = [(True, True)] * 3 + [(False, True)] * 5 + [(True, False)] + [(False, False)] * 3
    rows = [
        Row(value=float(yes), is_trial=is_trial, day="d", pair="p", player=f"a{place}")
        for place, both in enumerate(said)
        for is_trial, yes in ((False, both[0]), (True, both[1]))
    ]
    line = player_line(outcomes()["asked_yes"], rows, "Would you keep it?")
    assert line is not None
    assert line.estimate == pytest.approx(4 / 12)
    assert line.p == pytest.approx(14 / 64)
    assert line.model == "5 say yes under trial rules alone and 1 under ordinary rules alone"
    assert player_line(outcomes()["asked_yes"], rows[:18]) is None


@pytest.mark.parametrize(("margin", "kept"), [(1.0, "shown"), (0.05, "not shown")])
def test_a_guard_either_way_is_held_against_two_lots_of_days(margin: float, kept: str) -> None:
    guarded = THREE[0] | {"guards": f'[{{ outcome = "strokes", margin = {margin}, worse = "either" }}]'}
    strokes = rows_of(DAYS, "strokes", lambda day, group: 90 + 0.1 * (day.arm is Arm.TRIAL) + 0.01 * (int(day.pair[1:]) % 3))
    rows = [*rows_of(DAYS, "round_min", steady(220, 240)), *strokes]
    report = with_sensitivity(weigh_trial(trial_of(guarded), TrialRecords(days=DAYS, observations=tuple(rows))))
    (line,) = [line for line in report.findings[0].sensitivity if line.way is Way.TWO_LOTS]
    assert line.estimate == pytest.approx(0.1)
    assert f"it is {kept} that it stays within its margin either way" in " ".join(sensitivity_sentences(report.findings[0]))
