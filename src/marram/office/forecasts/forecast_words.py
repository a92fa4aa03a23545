"""A forecast in sentences: what is expected, chance and the range of the assumptions apart, and the days that would show it."""

from __future__ import annotations

from collections.abc import Iterator

from marram.core.words import counted
from marram.office.forecasts.forecast_found import OF_A_LONE_GROUP, DrivenBy, ExpectedEffect, Forecast, ForecastChange
from marram.records.outcomes import Outcome, Weighing, outcomes
from marram.simulation.assumed.assumptions import Assumed
from marram.simulation.settings.played_keys import HowPlayed

STANDING = "Expected from a model, found on no course: it says where to look, not what is so."
TIMES_ARE = "Differences may be read; times of a round may not, before local timings take the place of the table."
UNCALIBRATED = "Uncalibrated: no rating, no score and no timing of this course went in."
_NEARLY_ALL = 1.96
_STRONGEST = 3
_NOTHING = 1e-12


def head_lines(forecast: Forecast) -> tuple[str, ...]:
    """What a forecast is of, and how far it may be trusted."""
    days = "each on days of its own" if forecast.is_independent else "both on the same days"
    return (
        f"{forecast.course}: {forecast.field}.",
        f"Present {forecast.present} [{forecast.present_stamp}], proposed {forecast.proposed} [{forecast.proposed_stamp}]: "
        f"{forecast.days} days each, {days}, seed {forecast.seed}.",
        STANDING,
        f"Stage times: {forecast.timed}. No rating and no score of this course went in." if forecast.timed else UNCALIBRATED,
        *(() if forecast.timed else (TIMES_ARE,)),
    )


def not_played_lines(forecast: Forecast) -> tuple[str, ...]:
    """What was not modelled: changes that are not played first, then what no part of the forecast plays."""
    changes = [f"change {one.number}: {one.changes}" for one in forecast.changes if one.played is HowPlayed.NOT_PLAYED]
    shown = [
        f"of change {one.number}, what it is to move or to keep: {', '.join(one.not_shown)}"
        for one in forecast.changes
        if one.not_shown and one.played is not HowPlayed.NOT_PLAYED
    ]
    return (*changes, *shown, *forecast.not_modelled)


def change_title(change: ForecastChange) -> str:
    """A change with its number."""
    return f"{change.number}. {change.told}" if change.number is not None else f"Terms of the day. {change.told}"


def played_line(change: ForecastChange) -> str:
    """How a change is played, by what, and what is taken for granted."""
    if change.played is HowPlayed.NOT_PLAYED:
        return f"Not played: {change.changes}."
    assuming = f" Taken for granted: {change.assuming}." if change.assuming else ""
    return f"{change.played.value.capitalize()}, by {', '.join(change.by)}: {change.changes}.{assuming}"


def effect_lines(effects: tuple[ExpectedEffect, ...]) -> Iterator[str]:
    """Every effect in a sentence; waiting is told with the round that it is part of."""
    for effect in effects:
        of = " alone on the course" if effect.of == OF_A_LONE_GROUP else ""
        yield f"Expected{of}: {amount_line(effect)}."
    yield from (days for effect in effects if (days := days_line(effect)))


def days_line(effect: ExpectedEffect) -> str:
    """How many days would show an effect; empty where nobody stated how far days differ."""
    if effect.sd_of_difference is None:
        return ""
    called, sd = outcomes()[effect.outcome].called, f"two days of a pair differ by {effect.sd_of_difference:.2g} {effect.unit}"
    if effect.days_needed is None:
        return f"No number of days would show so little in {called} ({sd})."
    strong, weak = effect.days_needed_range
    weaker = "none would" if weak is None else counted(weak, "day")
    stronger = "none would" if strong is None else counted(strong, "day")
    return f"Days that would show it in {called}: {effect.days_needed} ({sd}); at the ends of the range {stronger}, and {weaker}."


def driven_lines(driven_by: tuple[DrivenBy, ...]) -> tuple[str, ...]:
    """The assumed values that an effect on the round of the day hangs on most, with their provenance."""
    return tuple(
        f"{one.assumed.means}: {one.assumed.low:g} to {one.assumed.high:g} {one.assumed.unit} "
        f"moves it from {_signed(one.at_low, outcomes()['round_min'])} to {_signed(one.at_high, outcomes()['round_min'])} min "
        f"({one.assumed.provenance})."
        for one in driven_by[:_STRONGEST]
    )


def assumed_line(one: Assumed) -> str:
    """An assumed value with its range and where it comes from."""
    span = f" ({one.low:g} to {one.high:g})" if one.is_weak else ""
    return f"{one.means}: {one.value:g}{span} {one.unit}; {one.provenance}"


def amount_line(effect: ExpectedEffect) -> str:
    """An effect with the error of chance and the range over what is assumed, within a sentence."""
    outcome = outcomes()[effect.outcome]
    if abs(effect.estimate) < _NOTHING and effect.monte_carlo_error < _NOTHING:
        return f"nothing changes in {outcome.called}"
    says = outcome.says_up if effect.estimate > 0 else outcome.says_down
    told = says.format(number=_number(abs(effect.estimate), outcome))
    drawn = _number(_NEARLY_ALL * effect.monte_carlo_error, outcome)
    low, high = (_signed(end, outcome) for end in effect.range)
    turns = "; which way it goes is not known" if effect.range[0] < 0 < effect.range[1] else ""
    return f"{told[:1].lower()}{told[1:]} (chance ± {drawn}; over what is assumed {low} to {high}{turns})"


def _number(amount: float, outcome: Outcome) -> str:
    return f"{amount * 100:.1f}" if outcome.kind is Weighing.SHARE else f"{amount:.2f}"


def _signed(amount: float, outcome: Outcome) -> str:
    return ("+" if amount > 0 else "−" if amount < 0 else "") + _number(abs(amount), outcome)
