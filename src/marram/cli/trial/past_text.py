"""What an earlier season told for a plan, as plain text."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from marram.office.trials.past_season import PlannedPast
    from marram.office.trials.plan_trial import PlannedChange, PlannedTrial


def past_lines(planned: PlannedTrial) -> list[str]:
    """The spread of each outcome, what it was taken from, and its upper limit."""
    from marram.answers.shape import UNSET

    if planned.past is UNSET:
        return []
    return ["From the earlier season (upper limits hold in 80 of 100 cases, common practice):", *map(_past_line, planned.past)]


def _past_line(past: PlannedPast) -> str:
    told = (
        f"   {past.outcome}: two days differ by a standard deviation of {past.sd_of_difference:g} {past.unit}, at most "
        f"{past.sd_upper_limit:g}; {past.degrees_of_freedom} degrees of freedom, from {past.taken_from}"
    )
    if past.correlation is None or past.correlation_upper_limit is None:
        return f"{told}."
    return f"{told}. Correlation within a day {past.correlation:.2f}, at most {past.correlation_upper_limit:.2f}."


def upper_limit_lines(change: PlannedChange) -> list[str]:
    """What the plan finds where the days differ as much as that season leaves open."""
    from marram.answers.shape import UNSET

    limit = change.at_upper_limit
    if limit is UNSET:
        return []
    needed = "more pairs than a plan may have" if limit.pairs_needed is None else f"{limit.pairs_needed} pairs"
    good = ", ".join(f"{entry.supposed:g}: {entry.did:.0%}" for entry in limit.outlook)
    return [
        f"   Where days differ as much as {limit.sd_of_difference:g}, {limit.least_effect:g} {change.unit} is found and {needed} would do; "
        f"did what it was meant to, by effect: {good}."
    ]
