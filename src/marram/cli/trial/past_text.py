"""What an earlier season told for a plan, as plain text."""

from __future__ import annotations

from textwrap import fill
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from marram.office.trials.past_season import PlannedPast, PlannedRows
    from marram.office.trials.planned_trial import PlannedChange, PlannedTrial

_WIDTH = 100
_IN = "   "


def past_lines(planned: PlannedTrial) -> list[str]:
    """The spread of each outcome, what it was taken from, and its upper limit."""
    from marram.answers.shape import UNSET

    if planned.past is UNSET:
        return []
    head = "From the earlier season (upper limits hold in 80 of 100 cases, common practice):"
    return [head, *(_wrapped(_past_words(past)) for past in planned.past)]


def _past_words(past: PlannedPast) -> str:
    from marram.office.trials.plan_words import called

    told = (
        f"{_begun(called(past.outcome))}: two days differ by a standard deviation of {past.sd_of_difference:.3g} {past.unit}, at most "
        f"{past.sd_upper_limit:.3g}; {past.degrees_of_freedom} degrees of freedom, from {past.taken_from}."
    )
    if past.sd_unpaired is not None:
        told += f" Two days that nothing pairs would differ by {past.sd_unpaired:.3g}."
    if past.correlation is None or past.correlation_upper_limit is None:
        return told
    return f"{told} Correlation within a day {past.correlation:.2f}, at most {past.correlation_upper_limit:.2f}."


def rows_lines(planned: PlannedTrial) -> list[str]:
    """How many answers and counted rounds each change needs."""
    from marram.answers.shape import UNSET

    return [] if planned.rows_needed is UNSET else [_wrapped(_rows_words(rows)) for rows in planned.rows_needed]


def _rows_words(rows: PlannedRows) -> str:
    from marram.office.trials.plan_words import called

    about = f"Change {rows.change}, {called(rows.outcome)}:"
    if rows.equal_shown is not None:
        return (
            f"{about} that there are no more than {rows.wanted:.2f} times as many, and no fewer by as much, is shown with a chance of "
            f"{rows.equal_shown:.0%} if nothing moves, by {rows.planned} values on each kind of day."
        )
    needed = "more than a million" if rows.each_with_days is None else f"{rows.each_with_days}"
    what = f"{rows.wanted:.2f} times as many" if rows.is_rate else f"{rows.wanted:.2f} times the odds of a better one"
    assumed = ", with the steps taken as even" if rows.is_assumed else ""
    return (
        f"{about} to find {what} takes {needed} values on each kind of day, {rows.design_effect:.2f} times as many as drawn "
        f"singly{assumed}; the plan brings {rows.planned}."
    )


def upper_limit_lines(change: PlannedChange) -> list[str]:
    """What the plan finds where the days differ as much as that season leaves open."""
    from marram.answers.shape import UNSET

    limit = change.at_upper_limit
    if limit is UNSET:
        return []
    needed = "more pairs than a plan may have" if limit.pairs_needed is None else f"{limit.pairs_needed} pairs"
    if limit.pairs_to_plan is not None and limit.pairs_to_plan != limit.pairs_needed:
        needed += f" ({limit.pairs_to_plan} planned, since some are lost)"
    good = ", ".join(f"{entry.supposed:g}: {entry.did:.0%}" for entry in limit.outlook)
    return [
        _wrapped(
            f"Where days differ as much as {limit.sd_of_difference:.3g}, {limit.least_effect:.3g} {change.unit} is found and {needed} "
            f"would do; did what it was meant to, by effect: {good}."
        )
    ]


def _wrapped(text: str) -> str:
    return fill(text, _WIDTH, initial_indent=_IN, subsequent_indent=_IN)


def _begun(text: str) -> str:
    """A text as a sentence begins with it."""
    return f"{text[0].upper()}{text[1:]}"
