"""The plan of a trial: what is drawn by the coin, how many pairs of days, what they can find; and the plans that are refused.

A plan is refused where it could not answer its own question: it is cheaper to hear so before the first day.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from hashlib import sha256

from marram.core.errors import StudyError
from marram.evidence.planning.queue import HOLES, MOST_SAVED_MIN, USUAL_INTERVAL_MIN, queue_shown
from marram.evidence.sizes import ALPHA, USUAL_POWER, least_effect, pairs_needed
from marram.evidence.verdicts import FEWEST_PAIRS, MOST_PRIMARIES
from marram.records.outcomes import Outcome, Per, find_outcome
from marram.records.rows import Arm

FEWEST_MEETINGS = 30
"""Meetings of a change over a trial below which days on the course say too little of it (common practice)."""


class Design(StrEnum):
    """What the coin draws."""

    PAIRED_DAYS = "paired days of the whole field"
    CROSS_OVER = "cross-over of two rounds, groups drawn"
    CROSS_OVER_BY_HALF = "cross-over of two rounds, halves of the field drawn"
    GROUPS_IN_A_DAY = "groups drawn inside one day"
    CHANGES_OVER_DAYS = "days with some of the changes"
    STEPPED = "courses going over at drawn steps"
    STATION = "station exercise"
    CLARITY = "clarity exercise"


@dataclass(frozen=True, slots=True, kw_only=True)
class Primary:
    """A primary outcome of a change, as it is planned.

    Attributes:
        outcome: Its name in the catalogue.
        matters: Smallest effect that matters, in its unit; for a ratio, the logarithm.
        sd_of_difference: Standard deviation of the difference of the two days of a pair, in the same unit; from a pilot where there is one.
    """

    outcome: str
    matters: float
    sd_of_difference: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedOutcome:
    """What a plan can find of a primary outcome.

    Attributes:
        primary: The outcome as it was asked for.
        least_effect: Smallest effect that the plan finds with the chance wanted.
        pairs_needed: Fewest pairs, or what else is drawn, that would find the effect that matters; None where more than 10,000 would be
            needed.
    """

    primary: Primary
    least_effect: float
    pairs_needed: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnPair:
    """One pair of days as the coin fell."""

    pair: str
    first: Arm
    second: Arm


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialPlan:
    """A plan that can answer its question.

    Attributes:
        design: What the coin draws.
        outcomes: What it can find.
        pairs: The pairs in order, with the arm of each day; none where something else is drawn.
        commitment: What is made public before the first day: it fits the seed and does not give it away.
        power: Chance with which `least_effect` is found.
        expected_meetings: Expected meetings of the change on the trial days; None where it is not known.
    """

    design: Design
    outcomes: tuple[PlannedOutcome, ...]
    pairs: tuple[DrawnPair, ...]
    commitment: str
    power: float
    expected_meetings: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Refusal:
    """Why a plan cannot answer its question, and what to do instead."""

    message: str
    instead: str


def plan(
    primaries: Sequence[Primary],
    *,
    pairs: int,
    seed: str,
    design: Design = Design.PAIRED_DAYS,
    expected_meetings: float | None = None,
    power: float = USUAL_POWER,
    alpha: float = ALPHA,
) -> TrialPlan:
    """Plan a trial in pairs of days, with the coin already thrown, or refuse it.

    Args:
        primaries: The primary outcomes of the change, one to three.
        pairs: Pairs of days.
        seed: Text from which the coin is thrown; kept closed until the last day, long enough not to be guessed.
        design: What the coin draws.
        expected_meetings: How often players are expected to meet the change on the trial days together (`meetings_expected`).
        power: Chance wanted of finding the effect that matters.
        alpha: False alarms let pass at the end, two-sided: less than usual where looks before it are planned.

    Raises:
        StudyError: The plan cannot answer its question; every reason is given.
        RecordError: An outcome is not in the catalogue.
    """
    refusals = refusals_of(primaries, pairs=pairs, design=design, expected_meetings=expected_meetings, power=power, alpha=alpha)
    if refusals:
        message, instead = " ".join(refusal.message for refusal in refusals), " ".join(refusal.instead for refusal in refusals)
        raise StudyError(message, where="plan", hint=instead)
    return TrialPlan(
        design=design,
        outcomes=tuple(_planned(primary, pairs, power, alpha) for primary in primaries),
        pairs=draw_pairs(name_pairs(pairs), seed),
        commitment=commitment_of(seed),
        power=power,
        expected_meetings=expected_meetings,
    )


def refusals_of(
    primaries: Sequence[Primary],
    *,
    pairs: int,
    design: Design = Design.PAIRED_DAYS,
    expected_meetings: float | None = None,
    power: float = USUAL_POWER,
    alpha: float = ALPHA,
) -> tuple[Refusal, ...]:
    """Every reason why a plan cannot answer its question; none where it can.

    Args:
        primaries: The primary outcomes.
        pairs: Pairs of days.
        design: What the coin draws.
        expected_meetings: As for `plan`.
        power: As for `plan`.
        alpha: As for `plan`.

    Raises:
        RecordError: An outcome is not in the catalogue.
    """
    found = [*_refuse_number(primaries), *refuse_design(primaries, design), *refuse_few_meetings(expected_meetings)]
    if pairs < FEWEST_PAIRS:
        message = f"{pairs} pairs of days can never show anything at 5 %: {FEWEST_PAIRS} are the fewest."
        found.append(Refusal(message=message, instead=f"Plan at least {FEWEST_PAIRS} pairs."))
        return tuple(found)
    if design is Design.PAIRED_DAYS:
        found += [refusal for primary in primaries for refusal in _refuse_blind(_planned(primary, pairs, power, alpha), pairs)]
    return tuple(found)


def is_pace(outcome: Outcome) -> bool:
    """Whether an outcome is a time that groups share, because each waits for the group ahead."""
    return outcome.unit == "min" and outcome.per in {Per.GROUP_ROUND, Per.GROUP_HOLE}


def meetings_expected(*, per_player_round: float, players: int, pairs: int) -> float:
    """How often players are expected to meet a change on the trial days of all pairs together.

    Args:
        per_player_round: How often the change comes up for a player in a round.
        players: Players on a day.
        pairs: Pairs of days, each with one trial day.
    """
    return per_player_round * players * pairs


def name_pairs(pairs: int) -> tuple[str, ...]:
    """Names of so many pairs: p01, p02 and on."""
    return tuple(f"p{number:02d}" for number in range(1, pairs + 1))


def draw_pairs(names: Sequence[str], seed: str) -> tuple[DrawnPair, ...]:
    """Throw the coin for each pair: which of its days is played under trial rules.

    The coin of a pair hangs on the seed and the name of the pair alone, so a pair that is repeated later does not turn the others.

    Args:
        names: Names of the pairs.
        seed: The seed.

    Raises:
        StudyError: The seed is empty, or a pair is named twice.
    """
    if not seed.strip():
        raise StudyError("The coin has no seed.", where="plan", hint="Write down a text that nobody can guess, and keep it closed.")
    if len(set(names)) < len(names):
        raise StudyError("A pair is named twice.", where="plan", hint="Give each pair of days its own name.")
    arms = (Arm.TRIAL, Arm.ORDINARY)
    sides = [sha256(f"coin\n{seed}\n{name}".encode()).digest()[0] & 1 for name in names]
    return tuple(DrawnPair(pair=name, first=arms[side], second=arms[1 - side]) for name, side in zip(names, sides, strict=True))


def commitment_of(seed: str) -> str:
    """What is made public before the first day, so that anyone can check afterwards that the seed was not changed.

    Source: SHA-256, Secure Hash Standard (2015).
    """
    return sha256(f"seed\n{seed}".encode()).hexdigest()


def _planned(primary: Primary, pairs: int, power: float, alpha: float) -> PlannedOutcome:
    return PlannedOutcome(
        primary=primary,
        least_effect=least_effect(pairs, primary.sd_of_difference, power=power, alpha=alpha),
        pairs_needed=pairs_needed(primary.matters, primary.sd_of_difference, power=power, alpha=alpha),
    )


def _refuse_number(primaries: Sequence[Primary]) -> list[Refusal]:
    if not primaries:
        return [Refusal(message="The plan names no primary outcome.", instead="Name what would show that the change works.")]
    if len(primaries) > MOST_PRIMARIES:
        message = f"{len(primaries)} primary outcomes are too many: {MOST_PRIMARIES} are the most for one change."
        return [Refusal(message=message, instead="Keep what the change is for and what it must not harm; report the rest as exploratory.")]
    return []


def refuse_design(primaries: Sequence[Primary], design: Design) -> list[Refusal]:
    """Outcomes that a design cannot judge: pace, where groups under both sets of rules share a course on one day."""
    if design not in {Design.GROUPS_IN_A_DAY, Design.CROSS_OVER}:
        return []
    pace = [primary for primary in primaries if is_pace(find_outcome(primary.outcome))]
    if not pace:
        return []
    message = (
        f"Groups drawn inside one day cannot show an effect on {', '.join(primary.outcome for primary in pace)}: each group waits for the "
        f"group ahead, whatever its rules. {_shown_within_a_day(pace[0])}"
    )
    return [Refusal(message=message, instead=f"Use {Design.PAIRED_DAYS}.")]


def _shown_within_a_day(primary: Primary) -> str:
    """How much of what is asked for groups drawn within a day would show, by a simulation that is told as one."""
    is_hole = find_outcome(primary.outcome).per is Per.GROUP_HOLE
    saved = min(primary.matters * (HOLES if is_hole else 1), MOST_SAVED_MIN)
    shown = queue_shown(saved)
    return (
        f"Simulated, with starts every {USUAL_INTERVAL_MIN:g} min: a change that saves a group {saved:.1f} min a round when it never waits "
        f"takes {abs(shown.all_field_min):.1f} min off the round of the whole field, and between groups of one day "
        f"{abs(shown.within_day_min):.1f} min of it show, {max(shown.part_shown, 0):.0%}."
    )


def refuse_few_meetings(expected: float | None) -> list[Refusal]:
    """A change that is hardly ever met."""
    if expected is None or expected >= FEWEST_MEETINGS:
        return []
    message = f"The change would be met about {expected:.0f} times in the whole trial; fewer than {FEWEST_MEETINGS} say too little."
    return [
        Refusal(message=message, instead=f"Use a {Design.STATION} (the situation is set up), or a {Design.CLARITY} (written incidents).")
    ]


def _refuse_blind(planned: PlannedOutcome, pairs: int) -> list[Refusal]:
    primary = planned.primary
    if planned.least_effect <= primary.matters:
        return []
    outcome = find_outcome(primary.outcome)
    unit = "" if outcome.unit == "count" else f" {outcome.effect_unit}"
    message = (
        f"{pairs} pairs of days find an effect on the {outcome.called} from {planned.least_effect:.3g}{unit} up; "
        f"what matters is {primary.matters:g}{unit}."
    )
    needed = planned.pairs_needed
    enough = f"{needed} pairs would do" if needed else "More than 10,000 pairs would be needed"
    return [Refusal(message=message, instead=f"{enough}, or calmer days: matched weekday, tees and start interval.")]
