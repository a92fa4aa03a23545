"""Stations: each player does the same task under the present text and under the draft, in an order that was drawn."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum

from marram.core.errors import StudyError
from marram.evidence.clarity.exercise import Wording
from marram.evidence.effects import PairedDifference, paired_days
from marram.evidence.verdicts import FEWEST_PAIRS, Verdict, as_wanted, verdict_of
from marram.records.outcomes import Outcome, outcomes
from marram.rulebook.overlays.overlay import Change, Overlay
from marram.rulebook.overlays.trial_terms import Direction


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """What came of a task that one player did under one text.

    Attributes:
        player: The player, by a name without meaning outside the exercise.
        task: Name of the task.
        change: Number of the change that the task is about.
        wording: Under which text it was done.
        value: What was measured, in the unit of the outcome that the change expects.
    """

    player: str
    task: str
    change: int
    wording: Wording
    value: float


@dataclass(frozen=True, slots=True, kw_only=True)
class StationFinding:
    """What the stations of a change showed.

    Attributes:
        change: The change.
        outcome: The outcome that it expects.
        effect: Draft less present, player by player; None where no player did a task under both.
        players: Players who did a task under both texts.
        values: Values weighed.
        verdict: The word.
        reason: Why there is too little to judge, where that is the word.
    """

    change: Change
    outcome: Outcome
    effect: PairedDifference | None
    players: int
    values: int
    verdict: Verdict
    reason: str


def weigh_stations(trial: Overlay, tries: Sequence[Tried]) -> tuple[StationFinding, ...]:
    """One finding for each change that has a station.

    Args:
        trial: The trial.
        tries: What came of the tasks.

    Raises:
        StudyError: Nothing was tried, a player did a task twice under one text, or a change expects nothing.
    """
    if not tries:
        raise StudyError("Nothing was tried.", hint="Give one row for each player, task and text.")
    counts = Counter((entry.player, entry.task, entry.wording) for entry in tries)
    twice = next((key for key, count in counts.items() if count > 1), None)
    if twice is not None:
        raise StudyError(
            f"{twice[0]} did {twice[1]} twice under the {twice[2].value} text.", hint="Keep the first; a second one is practised."
        )
    numbers = sorted({entry.change for entry in tries})
    return tuple(_finding(trial.changes[number - 1], [entry for entry in tries if entry.change == number]) for number in numbers)


def _finding(change: Change, tries: Sequence[Tried]) -> StationFinding:
    if change.expects is None:
        raise StudyError(f"Nothing is expected of change {change.number}.", hint="Write expects = { outcome, direction, matters }.")
    paired = _by_player(tries)
    effect = paired_days(paired) if paired else None
    reason = _why_too_little(effect)
    verdict = Verdict.TOO_LITTLE
    if effect is not None and not reason:
        less = change.expects.direction is Direction.DOWN
        wanted = as_wanted(effect.estimate, effect.interval95, effect.interval90, is_less_wanted=less)
        verdict = verdict_of(wanted, matters=change.expects.matters, pairs=effect.pairs)
    return StationFinding(
        change=change,
        outcome=outcomes()[change.expects.outcome],
        effect=effect,
        players=len(paired),
        values=len(tries),
        verdict=verdict,
        reason=reason,
    )


def _by_player(tries: Sequence[Tried]) -> list[tuple[str, float, float]]:
    """For each player the mean under the draft and under the present text, over the tasks that were done under both."""
    values: dict[tuple[str, str], dict[Wording, float]] = defaultdict(dict)
    for entry in tries:
        values[entry.player, entry.task][entry.wording] = entry.value
    both: dict[str, list[dict[Wording, float]]] = defaultdict(list)
    for (player, _), found in values.items():
        if len(found) == len(Wording):
            both[player].append(found)

    def mean(found: Sequence[dict[Wording, float]], wording: Wording) -> float:
        return fsum(one[wording] for one in found) / len(found)

    return [(player, mean(found, Wording.DRAFT), mean(found, Wording.PRESENT)) for player, found in sorted(both.items())]


def _why_too_little(effect: PairedDifference | None) -> str:
    if effect is None:
        return "no player did a task under both texts"
    if effect.pairs < FEWEST_PAIRS:
        return f"{effect.pairs} players did a task under both texts; {FEWEST_PAIRS} are the fewest that can show anything"
    return "" if effect.has_spread else "all players differ by the same, so that nothing can be said of how sure it is"
