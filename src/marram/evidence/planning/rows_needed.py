"""How many answers, or rounds in which something is counted, a plan of days needs, by what an earlier season tells of them.

Days are what is drawn, so what one day brings hangs together: every number is raised by the design effect of the day.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from marram.evidence.arm_sizes import answers_needed, design_effect, power_of_equal_rates, rounds_per_arm
from marram.evidence.planning.spread_of_past import SpreadOfPast

USUAL_ODDS = 2.0
"""How many times the odds of a better answer are worth finding (common practice)."""
OF_ONE_DAY = 0.05
"""How much answers of one day hang together where no season tells it (common practice)."""
_EVEN = (0.2, 0.2, 0.2, 0.2, 0.2)


@dataclass(frozen=True, slots=True, kw_only=True)
class RowsNeeded:
    """How many values each kind of day needs.

    Attributes:
        outcome: Key of the outcome.
        is_rate: Whether it is counted; else it is answered.
        wanted: What is to be found: times the odds of a better answer, or times the rate.
        each: Values that each kind of day needs if they were drawn singly; None where more than a million would be needed.
        design_effect: By how much more, since values of one day hang together.
        each_with_days: Values that each kind of day needs; None as above.
        planned: Values that the plan brings on each kind of day.
        equal_shown: Chance of showing that a rate stays within the factor if it does not move; None where it is to move.
        is_assumed: Whether no season told the shares of the steps, so that they are taken as even.
    """

    outcome: str
    is_rate: bool
    wanted: float
    each: int | None
    design_effect: float
    each_with_days: int | None
    planned: int
    equal_shown: float | None
    is_assumed: bool


def answers_for(outcome: str, past: SpreadOfPast | None, *, shares: Sequence[float] | None, a_day: float, pairs: int) -> RowsNeeded:
    """How many answers in steps tell trial days from ordinary days.

    Args:
        outcome: Key of the outcome.
        past: What an earlier season told of its days; None where it told nothing.
        shares: Shares of the steps in that season; None where they are not known.
        a_day: Answers that a day is expected to bring.
        pairs: Pairs of days.
    """
    components = None if past is None else past.components
    effect = max(design_effect(a_day, OF_ONE_DAY if components is None else components.correlation), 1.0)
    each = ceil(answers_needed(_EVEN if shares is None else shares, USUAL_ODDS).answers / 2)
    return RowsNeeded(
        outcome=outcome,
        is_rate=False,
        wanted=USUAL_ODDS,
        each=each,
        design_effect=effect,
        each_with_days=ceil(each * effect),
        planned=int(pairs * a_day),
        equal_shown=None,
        is_assumed=shares is None,
    )


def rounds_for(past: SpreadOfPast, *, more: float, pairs: int, is_to_move: bool) -> RowsNeeded | None:
    """How many rounds tell two rates apart, or show that a rate stays; None where the season tells no rate, or the rate would be none.

    Args:
        past: What an earlier season told of what is counted.
        more: By how much the rate is to move, or may at most; below zero where less is meant.
        pairs: Pairs of days.
        is_to_move: Whether it is to move; else it is to stay within the factor.
    """
    if past.rate is None or past.dispersion is None or not past.rate > 0 or not past.rate + more > 0:
        return None
    ratio = (past.rate + more) / past.rate
    effect = 1.0 if past.components is None else max(design_effect(past.components.size, past.components.correlation), 1.0)
    planned = int(pairs * past.values_a_day)
    each = rounds_per_arm(past.rate, ratio, past.dispersion) if is_to_move else None
    alike = max(int(planned / effect), 1)
    shown = None if is_to_move else power_of_equal_rates(past.rate, alike, max(ratio, 1 / ratio), dispersion=past.dispersion)
    return RowsNeeded(
        outcome=past.outcome.key,
        is_rate=True,
        wanted=ratio,
        each=each,
        design_effect=effect,
        each_with_days=None if each is None else ceil(each * effect),
        planned=planned,
        equal_shown=None if shown is None else min(max(shown, 0.0), 1.0),
        is_assumed=False,
    )
