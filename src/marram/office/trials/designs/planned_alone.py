"""Each change of a plan that draws no pairs: what it can find, how its season may end, or why it is refused."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import sqrt

from msgspec import UNSET

from marram.core.errors import StudyError
from marram.core.words import counted
from marram.evidence.plan import Design, PlannedOutcome, Primary, TrialPlan, commitment_of, refuse_few_meetings
from marram.evidence.planning.rehearsal import RehearsedChange, RehearsedGuard, rehearse
from marram.evidence.planning.units_plan import Precision
from marram.evidence.sizes import USUAL_POWER
from marram.evidence.verdicts import MOST_MISSING
from marram.evidence.weighing.one_change import worse_of
from marram.office.trials.plan_trial import planned_change, planned_outlook
from marram.office.trials.planned_trial import PlannedChange, PlannedOutlook, Spread
from marram.records.outcomes import outcomes
from marram.rulebook.overlays.overlay import Change, Overlay
from marram.rulebook.overlays.trial_terms import Direction

_LEFT_OUT = "Change the plan, or name a change in `left_out` and judge it at a station or in a clarity exercise."


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedAlone:
    """A plan that draws no pairs, as its changes see it.

    Attributes:
        design: The design.
        precision: How precisely it tells an effect; None for a screening, which gives no word.
        unit: What is drawn, one of it.
        needed: From an effect and a pilot's standard deviation to the fewest of what is drawn that would find it; None for too many.
        rounds: Rounds of the whole field with a change on: for how often it is met.
        seed: The seed.
        shared: By outcome, changes that no day tells apart.
    """

    design: Design
    precision: Precision | None
    unit: str
    needed: Callable[[float, float], int | None]
    rounds: float
    seed: str
    shared: Mapping[str, tuple[int, ...]]


def refuse_none(refused: Sequence[str], trial: Overlay) -> None:
    """Refuse a plan for its reasons, where there are any.

    Raises:
        StudyError: There are.
    """
    if refused:
        raise StudyError("\n  ".join(["The plan cannot answer its question:", *refused]), where=trial.name, hint=_LEFT_OUT)


def plan_each(trial: Overlay, spread: Spread, left_out: frozenset[int], plan: PlannedAlone) -> tuple[PlannedChange, ...]:
    """Every change as it is frozen.

    Args:
        trial: The trial.
        spread: What a pilot told.
        left_out: Changes that days are not to judge.
        plan: The plan.

    Raises:
        StudyError: A change cannot be answered by the plan; every reason is given, with what to do instead.
    """
    planned: dict[int, TrialPlan] = {}
    refused = []
    for change in (change for change in trial.changes if change.number not in left_out):
        try:
            found = _plan_change(change, spread, plan)
        except StudyError as problem:
            refused.append(f"change {change.number}: {problem.message} {problem.hint}".rstrip())
        else:
            planned.update({change.number: found} if found is not None else {})
    refuse_none(refused, trial)
    outlooks = {} if plan.precision is None else _rehearsed([c for c in trial.changes if c.number in planned], spread, plan.precision, plan)
    return tuple(_frozen(change, planned.get(change.number), outlooks, spread, left_out, plan) for change in trial.changes)


def _plan_change(change: Change, spread: Spread, plan: PlannedAlone) -> TrialPlan | None:
    if change.expects is None:
        raise StudyError("Nothing is expected of it.", hint="Write expects = { outcome, direction, matters }.")
    if plan.precision is None:
        return None
    key, met = change.expects.outcome, spread.met.get(change.number)
    if key not in spread.sd:
        hint = f"Give `sd={key}=NUMBER` in {outcomes()[key].effect_unit}, from a pilot."
        raise StudyError(f"The standard deviation of the difference of two days of one course in {key} is not given.", hint=hint)
    expected = None if met is None else met * spread.players * plan.rounds
    matters, sd = change.expects.matters, spread.sd[key]
    least, needed = plan.precision.least_effect(sd), plan.needed(matters, sd)
    refused = [f"{refusal.message} {refusal.instead}" for refusal in refuse_few_meetings(expected)]
    if least > matters:
        enough = f"{counted(needed, plan.unit)} would do" if needed else "More than can be planned would be needed"
        refused.append(
            f"{counted(plan.precision.units, plan.unit)} find an effect on the {outcomes()[key].called} from "
            f"{least:.3g} {outcomes()[key].effect_unit} up; what "
            f"matters is {matters:g}. {enough}."
        )
    if refused:
        raise StudyError(" ".join(refused))
    primary = Primary(outcome=key, matters=matters, sd_of_difference=sd)
    return TrialPlan(
        design=plan.design,
        outcomes=(PlannedOutcome(primary=primary, least_effect=least, pairs_needed=needed),),
        pairs=(),
        commitment=commitment_of(plan.seed),
        power=USUAL_POWER,
        expected_meetings=expected,
    )


def _rehearsed(
    changes: Sequence[Change], spread: Spread, precision: Precision, plan: PlannedAlone
) -> Mapping[int, tuple[PlannedOutlook, ...]]:
    """How the season may end: drawn as one of pairs of days that tell as much, with as many degrees of freedom.

    What is expected to be lost takes degrees of freedom where days are drawn, and widens every effect. Where days tell each change from the
    others each has its own effect on an outcome; where they do not, an outcome has one.
    """
    kept = 1 - min(spread.lost, MOST_MISSING)
    lost = round((1 - kept) * precision.units) if plan.design is Design.CHANGES_OVER_DAYS else 0
    pairs = max(precision.freedom - lost, 1) + 1
    scale = precision.error * sqrt(pairs / kept)
    asked = [
        RehearsedChange(
            number=change.number,
            outcome=_name(change.expects.outcome, change, plan),
            matters=change.expects.matters,
            sd=spread.sd[change.expects.outcome] * scale,
            wants_less=change.expects.direction is Direction.DOWN,
            guards=tuple(
                RehearsedGuard(
                    outcome=_name(guard.outcome, change, plan),
                    margin=guard.margin,
                    worse=worse_of(guard),
                    sd=spread.sd[guard.outcome] * scale,
                )
                for guard in change.guards
                if guard.outcome in spread.sd
            ),
        )
        for change in changes
        if change.expects is not None
    ]
    matters = {change.number: change.matters for change in asked}
    found: dict[int, tuple[PlannedOutlook, ...]] = {}
    for outlook in rehearse(asked, pairs=pairs, lost=spread.lost if spread.lost > MOST_MISSING else 0.0):
        found[outlook.change] = (*found.get(outlook.change, ()), planned_outlook(outlook, matters[outlook.change]))
    return found


def _name(outcome: str, change: Change, plan: PlannedAlone) -> str:
    return f"{outcome} of {change.number}" if plan.design is Design.CHANGES_OVER_DAYS else outcome


def _frozen(
    change: Change,
    planned: TrialPlan | None,
    outlooks: Mapping[int, tuple[PlannedOutlook, ...]],
    spread: Spread,
    left_out: frozenset[int],
    plan: PlannedAlone,
) -> PlannedChange:
    found = planned_change(change, planned, outlooks.get(change.number, ()), plan.shared, spread)
    if planned is None:
        return found if change.number in left_out else replace(found, judged_by="a screening by days, as a hint")
    return replace(found, units_needed=planned.outcomes[0].pairs_needed, pairs_needed=UNSET)
