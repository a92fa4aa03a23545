"""What players answered: each question by itself, those who met the change apart from those who did not, ordinary days apart."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import fsum

from marram.evidence.effects import PairedDifference, paired_days
from marram.evidence.shares import STEPS
from marram.evidence.verdicts import FEWEST_PAIRS
from marram.evidence.weighing.clustered import Answered, ClusteredShare, clustered_share
from marram.records.outcomes import ASKED_BY_THE_TRIAL, Outcome, Weighing, outcomes
from marram.records.rows import Arm, Observation, TrialRecords
from marram.rulebook.overlays.overlay import Change

MET = "change_met"
UPPER_STEP = 4
"""The two best of five steps are 4 and 5."""


class Met(StrEnum):
    """Whether whoever answered had met the change on that day."""

    MET = "met it"
    NOT_MET = "did not meet it"
    NOT_KNOWN = "not known whether they met it"


@dataclass(frozen=True, slots=True, kw_only=True)
class AnswersTold:
    """What one lot of players answered to one question.

    Attributes:
        outcome: The outcome that the answers belong to.
        question: The question as the trial asks it; empty where the outcome itself is what is asked.
        arm: Under which rules the day was played.
        met: Whether those who answered had met the change.
        counts: How many gave each step, from 1 to 5; of yes and no, how many said no and how many yes.
        top_two: Share of the two best steps, or of yes.
        at_least: Share of answers at each cut: at least step 2, 3, 4 and 5; empty for yes and no.
    """

    outcome: Outcome
    question: str
    arm: Arm
    met: Met
    counts: tuple[int, ...]
    top_two: ClusteredShare
    at_least: tuple[ClusteredShare, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class AnswersCompared:
    """Answers on trial days held against those on the ordinary day of each pair.

    Attributes:
        outcome: The outcome.
        question: The question as the trial asks it.
        better: For each pair of days, or each day on which rules differ, the chance that an answer under trial rules is higher than one
            under ordinary rules, ties counted half, less a half; the mean over them with its intervals.
    """

    outcome: Outcome
    question: str
    better: PairedDifference

    @property
    def chance_of_better(self) -> float:
        """The chance that an answer of a trial day is higher than one of an ordinary day; a half is no difference."""
        return 0.5 + self.better.estimate


def answers_to(change: Change, records: TrialRecords) -> tuple[AnswersTold, ...]:
    """Everything that players answered about a change, each question, kind of day and lot of players by itself.

    Args:
        change: The change.
        records: What was recorded.
    """
    arm_of, met = records.arm_finder(), met_by_player(change, records)
    lots: dict[tuple[str, str, Arm, Met], list[Observation]] = defaultdict(list)
    for entry, question in answers_about(change, records):
        arm = arm_of(entry)
        if arm is not None:
            lots[entry.outcome, question, arm, met.get((entry.day, entry.round, entry.player), Met.NOT_KNOWN)].append(entry)
    return tuple(_told(outcomes()[key], question, arm, who, lots[key, question, arm, who]) for key, question, arm, who in sorted(lots))


def compare_answers(change: Change, records: TrialRecords) -> tuple[AnswersCompared, ...]:
    """Answers of trial days held against those of ordinary days, where both were asked in enough pairs.

    Args:
        change: The change.
        records: What was recorded.
    """
    arm_of, events = records.arm_finder(), {day.day: day.event for day in records.days}
    lots: dict[tuple[str, str], dict[tuple[str, Arm | None], list[float]]] = defaultdict(lambda: defaultdict(list))
    for entry, question in answers_about(change, records):
        if entry.day in events:
            lots[entry.outcome, question][events[entry.day], arm_of(entry)].append(entry.value)
    found = []
    for (key, question), by_side in sorted(lots.items()):
        chances = [
            (event, _chance_of_higher(by_side[event, Arm.TRIAL], by_side[event, Arm.ORDINARY]), 0.5)
            for event in dict.fromkeys(events.values())
            if by_side.get((event, Arm.TRIAL)) and by_side.get((event, Arm.ORDINARY))
        ]
        if len(chances) >= FEWEST_PAIRS:
            found.append(AnswersCompared(outcome=outcomes()[key], question=question, better=paired_days(chances)))
    return tuple(found)


def weighed_answers(change: Change, records: TrialRecords) -> Iterator[Observation]:
    """The observations that the answers about a change rest on: the answers, and whether it was met."""
    yield from (entry for entry, _ in answers_about(change, records))
    yield from (entry for entry in records.observations if entry.outcome == MET and entry.change in {None, change.number})


def answers_about(change: Change, records: TrialRecords) -> Iterator[tuple[Observation, str]]:
    """The answers about a change, each with the question as the trial asks it."""
    answers = {key for key, outcome in outcomes().items() if outcome.is_answer}
    for entry in records.observations:
        if entry.outcome not in answers or entry.change not in {None, change.number}:
            continue
        if entry.outcome in ASKED_BY_THE_TRIAL:
            number = (entry.question or 1) - 1
            if number < len(change.asks):
                yield entry, change.asks[number]
        else:
            yield entry, ""


def met_by_player(change: Change, records: TrialRecords) -> dict[tuple[str, int | None, str], Met]:
    """By day, round and player, whether the change was met."""
    found: dict[tuple[str, int | None, str], Met] = {}
    for entry in records.observations:
        if entry.outcome == MET and entry.player and entry.change in {None, change.number}:
            key = (entry.day, entry.round, entry.player)
            found[key] = Met.MET if entry.value > 0 or found.get(key) is Met.MET else Met.NOT_MET
    return found


def _told(outcome: Outcome, question: str, arm: Arm, met: Met, entries: Sequence[Observation]) -> AnswersTold:
    is_steps = outcome.kind is Weighing.STEPS
    values = [round(entry.value) for entry in entries]
    counts = tuple(values.count(step) for step in (range(1, STEPS + 1) if is_steps else range(2)))
    return AnswersTold(
        outcome=outcome,
        question=question,
        arm=arm,
        met=met,
        counts=counts,
        top_two=_share_from(entries, UPPER_STEP if is_steps else 1),
        at_least=tuple(_share_from(entries, step) for step in range(2, STEPS + 1)) if is_steps else (),
    )


def _share_from(entries: Sequence[Observation], least: int) -> ClusteredShare:
    return clustered_share([Answered(value=float(entry.value >= least), player=entry.player or None, day=entry.day) for entry in entries])


def _chance_of_higher(trial: Sequence[float], ordinary: Sequence[float]) -> float:
    """The chance that a value of the first lot is higher than one of the second, ties counted half."""
    wins = fsum(float(one > other) + 0.5 * float(one == other) for one in trial for other in ordinary)
    return wins / (len(trial) * len(ordinary))
