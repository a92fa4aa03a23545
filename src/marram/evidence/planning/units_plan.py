"""What a plan of units that are drawn singly can find, and why one is refused: groups of a day, groups or days of two rounds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, sqrt

from marram.core.errors import StudyError
from marram.core.words import counted
from marram.evidence.arm_sizes import units_per_arm
from marram.evidence.plan import (
    Design,
    PlannedOutcome,
    Primary,
    Refusal,
    TrialPlan,
    commitment_of,
    refuse_design,
    refuse_few_meetings,
)
from marram.evidence.sizes import ALPHA, USUAL_POWER
from marram.evidence.verdicts import FEWEST_PAIRS
from marram.records.outcomes import find_outcome

_MOST_UNITS = 10_000
_LARGE = 2.0
"""From so many standard deviations on an effect is found by the fewest units that may be judged at all."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Precision:
    """How precisely a drawing tells an effect.

    Attributes:
        error: Standard error of the effect, as a part of the standard deviation that a pilot tells.
        freedom: Degrees of freedom.
        units: How many units are drawn.
        fewest: How many of them on the side that has fewer.
        sd_of_a_lot: Standard deviation within one of two lots that would tell as much, as a part of the pilot's.
    """

    error: float
    freedom: int
    units: int
    fewest: int
    sd_of_a_lot: float

    @property
    def sd_of_a_unit(self) -> float:
        """Standard deviation of what one unit tells of the effect, as a part of the pilot's."""
        return self.error * sqrt(self.units)

    def least_effect(self, sd: float, power: float = USUAL_POWER) -> float:
        """The smallest effect that is found with a chance, at 5 % two-sided, in the unit of the standard deviation."""
        from scipy.stats import t

        if self.freedom < 1:
            return inf
        return float(t.ppf(1 - ALPHA / 2, self.freedom) + t.ppf(power, self.freedom)) * self.error * sd


def precision_in_days(days: Sequence[tuple[int, int]]) -> Precision:
    """Of groups drawn within days: the groups under trial and under ordinary rules of each day.

    Args:
        days: How many groups of each day play under which rules.
    """
    weight = sum(trial * ordinary / (trial + ordinary) for trial, ordinary in days if trial + ordinary)
    sides = [sum(day[side] for day in days) for side in (0, 1)]
    return Precision(
        error=1 / sqrt(weight) if weight else inf,
        freedom=sum(trial + ordinary - 2 for trial, ordinary in days),
        units=sum(sides),
        fewest=min(sides),
        sd_of_a_lot=1.0,
    )


def precision_in_turn(trial_first: int, ordinary_first: int) -> Precision:
    """Of units that play both sets of rules in turn: how many play in each order.

    Args:
        trial_first: Units that play under trial rules first.
        ordinary_first: Units that play under ordinary rules first.
    """
    both = trial_first and ordinary_first
    return Precision(
        error=sqrt(1 / trial_first + 1 / ordinary_first) / 2 if both else inf,
        freedom=trial_first + ordinary_first - 2,
        units=trial_first + ordinary_first,
        fewest=min(trial_first, ordinary_first),
        sd_of_a_lot=0.5,  # an effect is half of the difference of two orders
    )


def units_needed(matters: float, sd: float, precision: Precision, power: float = USUAL_POWER) -> int | None:
    """The fewest units, half of them on each side, that find an effect; None where more than 10,000 would be needed.

    Args:
        matters: The effect.
        sd: Standard deviation that a pilot tells.
        precision: How the drawing tells an effect.
        power: Chance wanted of finding it.
    """
    lot = sd * precision.sd_of_a_lot
    if matters >= _LARGE * lot:
        return 2 * FEWEST_PAIRS
    if 2 * (2.8 * lot / matters) ** 2 > _MOST_UNITS / 2:  # 2.8 = z.975 + z.80: the normal size of one lot
        return None
    return max(2 * units_per_arm(matters, lot, power=power), 2 * FEWEST_PAIRS)


def plan_of_units(
    primary: Primary, precision: Precision, *, design: Design, seed: str, expected_meetings: float | None, unit: str
) -> TrialPlan:
    """Plan a change for units that are drawn singly, or refuse it.

    Args:
        primary: The outcome; its standard deviation is that of the difference of two rounds of a unit, or between the groups of a day.
        precision: How precisely the drawing tells an effect.
        design: The design.
        seed: The seed, for what is made public of it.
        expected_meetings: How often players are expected to meet the change; None where nobody said.
        unit: What is drawn, in words.

    Raises:
        StudyError: The plan cannot answer its question; every reason is given, with what to do instead.
        RecordError: The outcome is not in the catalogue.
    """
    least = precision.least_effect(primary.sd_of_difference)
    needed = units_needed(primary.matters, primary.sd_of_difference, precision)
    refused = [*refuse_design([primary], design), *_refuse_few(precision, unit), *refuse_few_meetings(expected_meetings)]
    if not refused and least > primary.matters:
        outcome = find_outcome(primary.outcome)
        of = "" if outcome.unit == "count" else f" {outcome.effect_unit}"
        found = f"{precision.units} {unit}s find an effect on the {outcome.called} from {least:.3g}{of} up"
        message = f"{found}; what matters is {primary.matters:g}{of}."
        enough = f"{needed} {unit}s would do." if needed else f"More than {_MOST_UNITS:,} {unit}s would be needed."
        refused.append(Refusal(message=message, instead=enough))
    if refused:
        message, instead = " ".join(refusal.message for refusal in refused), " ".join(refusal.instead for refusal in refused)
        raise StudyError(message, where="plan", hint=instead)
    return TrialPlan(
        design=design,
        outcomes=(PlannedOutcome(primary=primary, least_effect=least, pairs_needed=needed),),
        pairs=(),
        commitment=commitment_of(seed),
        power=USUAL_POWER,
        expected_meetings=expected_meetings,
    )


def _refuse_few(precision: Precision, unit: str) -> list[Refusal]:
    if precision.fewest >= FEWEST_PAIRS:
        return []
    message = f"{counted(precision.fewest, unit)} on one side can never show enough: {FEWEST_PAIRS} are the fewest."
    return [Refusal(message=message, instead=f"Plan at least {2 * FEWEST_PAIRS} {unit}s.")]
