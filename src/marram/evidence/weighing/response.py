"""Who was asked and who answered: each question by kind of player, weighted to those asked, with what the silent could turn.

Players who say that they did not meet the change have no opinion of it to give: they were heard from, and what they answer all the same
stands apart, as everywhere in the report. Of the silent nobody knows whether they met it.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import fsum

from marram.evidence.weighing.answers_given import MET, UPPER_STEP, Met, answers_about, met_by_player
from marram.evidence.weighing.weighting import Cell, WeightedShare, weighted_share
from marram.records.outcomes import ASKED_BY_THE_TRIAL, Outcome, Weighing, outcomes
from marram.records.rows import Arm, AskedPlayers, Observation, TrialRecords
from marram.rulebook.overlays.overlay import Change

Who = tuple[str, int | None, str]
"""A player in a round of a day."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KindResponse:
    """How many players of one kind answered a question.

    Attributes:
        kind: The kind, or the day where kinds are not told apart.
        asked: How many were asked.
        did_not_meet: How many of these say that they did not meet the change.
        answered: How many of the others answered.
        yes: How many of these said yes, or gave one of the two best steps.
    """

    kind: str
    asked: int
    did_not_meet: int
    answered: int
    yes: int

    @property
    def silent(self) -> int:
        """How many of those asked said nothing: neither an answer, nor that they did not meet it."""
        return self.asked - self.did_not_meet - self.answered


@dataclass(frozen=True, slots=True, kw_only=True)
class QuestionResponse:
    """Who answered one question.

    Attributes:
        outcome: The outcome that the answers belong to.
        question: The question as the trial asks it; empty where the outcome itself is what is asked.
        arm: Under which rules the day was played.
        kinds: Each kind of player.
        share: The share, unweighted and weighted to who was asked, with the worst cases; None where nobody answered.
    """

    outcome: Outcome
    question: str
    arm: Arm
    kinds: tuple[KindResponse, ...]
    share: WeightedShare | None


def responses_to(change: Change, records: TrialRecords) -> tuple[QuestionResponse, ...]:
    """Who answered each question about a change; nothing where nobody wrote down who was asked.

    Args:
        change: The change.
        records: What was recorded, each answer of a kind of player that was asked.

    Raises:
        StudyError: More answered than were asked.
    """
    arms = {day.day: day.arm for day in records.days}
    arm_of, found = records.arm_finder(), []
    for arm in sorted(Arm):
        asked = [entry for entry in records.asked if arms.get(entry.day, Arm.TRIAL) is arm]
        lots: dict[tuple[str, str], list[Observation]] = {key: [] for key in _questions(change)} if asked and arm is Arm.TRIAL else {}
        for entry, question in answers_about(change, records) if asked else ():
            if arm_of(entry) is arm:
                lots.setdefault((entry.outcome, question), []).append(entry)
        found += [_response(change, records, asked, key, arm, lots[key]) for key in sorted(lots)]
    return tuple(found)


def _questions(change: Change) -> Iterator[tuple[str, str]]:
    """What is asked of players after every round under a change, whether anybody answers or not."""
    yield from ((key, "") for key in change.observes if outcomes()[key].is_answer and key not in ASKED_BY_THE_TRIAL)


def _response(
    change: Change, records: TrialRecords, asked: Sequence[AskedPlayers], key: tuple[str, str], arm: Arm, entries: Sequence[Observation]
) -> QuestionResponse:
    outcome, question = outcomes()[key[0]], key[1]
    cell_of, met = _cell_finder(records), met_by_player(change, records)
    least = UPPER_STEP if outcome.kind is Weighing.STEPS else 1
    counted = [entry for entry in entries if met.get(_who(entry)) is not Met.NOT_MET]
    not_met = _not_met(records, arm, met, cell_of)
    answered = Counter(map(cell_of, counted))
    yes = Counter(cell_of(entry) for entry in counted if entry.value >= least)
    total: Counter[str] = Counter()
    for entry in asked:
        total[entry.kind or entry.day] += entry.asked
    told = tuple(
        KindResponse(kind=kind, asked=total[kind], did_not_meet=not_met[kind], answered=answered[kind], yes=yes[kind]) for kind in total
    )
    return QuestionResponse(outcome=outcome, question=question, arm=arm, kinds=told, share=_share(told, counted, least, cell_of))


def _who(entry: Observation) -> Who:
    return entry.day, entry.round, entry.player


def _cell_finder(records: TrialRecords) -> Callable[[Observation], str]:
    """What tells of a row of which kind its player is, or on which day where kinds are not told apart."""
    kinds = records.kinds()
    if not any(entry.kind for entry in records.asked):
        return lambda entry: entry.day
    return lambda entry: entry.kind or kinds.get((entry.day, entry.player), "")


def _not_met(records: TrialRecords, arm: Arm, met: Mapping[Who, Met], cell_of: Callable[[Observation], str]) -> Counter[str]:
    """How many players of each kind say that they did not meet the change."""
    arm_of = records.arm_finder()
    rows = [entry for entry in records.observations if entry.outcome == MET and arm_of(entry) is arm]
    return Counter({_who(entry): cell_of(entry) for entry in rows if met.get(_who(entry)) is Met.NOT_MET}.values())


def _share(
    kinds: Sequence[KindResponse], counted: Sequence[Observation], least: int, cell_of: Callable[[Observation], str]
) -> WeightedShare | None:
    if not counted:
        return None
    cells = [Cell(name=one.kind, invited=one.asked, answered=one.answered, yes=one.yes, not_theirs=one.did_not_meet) for one in kinds]
    shares = {one.kind: one.yes / one.answered for one in kinds if one.answered}
    players: dict[Hashable, float] = defaultdict(float)
    singly = 0.0
    for number, entry in enumerate(counted):
        apart = float(entry.value >= least) - shares[cell_of(entry)]
        players[entry.player or number] += apart
        singly += apart**2
    return weighted_share(cells, independent=_independent(len(counted), players, singly), freedom=max(1.0, len(players) - len(shares)))


def _independent(count: int, players: Mapping[Hashable, float], singly: float) -> float:
    """How many independent answers so many are worth where players come again, by how far each player's answers lie from their kind.

    Days are not drawn on: all that were asked about are answered for. Where all of a kind answer alike no more is counted on than there are
    players.

    Source: Kish, Survey Sampling (1965), for the design effect; Cameron, Gelbach and Miller, Robust inference with multiway clustering
    (2011), for the squares of clusters.
    """
    if singly == 0 or len(players) < 2:
        return float(len(players))
    together = fsum(apart**2 for apart in players.values()) * len(players) / (len(players) - 1)
    return count / max(1.0, together / singly)
