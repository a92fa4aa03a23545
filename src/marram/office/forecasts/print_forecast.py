"""Print a forecast: its sentences, the range of each effect on one axis, and pictures of the day, all of it marked as simulated."""

from __future__ import annotations

from collections.abc import Sequence

from marram.office.forecasts.forecast_found import OF_THE_DAY, ExpectedEffect, Forecast, ForecastChange
from marram.office.forecasts.forecast_words import (
    STANDING,
    amount_line,
    change_title,
    driven_lines,
    effect_lines,
    head_lines,
    not_played_lines,
    played_line,
)
from marram.sheets.pages.forecast_sheet import (
    AssumedRow,
    ExpectedAxis,
    ExpectedChange,
    ExpectedChart,
    ExpectedRow,
    ForecastSheet,
    forecast_sheet,
)
from marram.simulation.assumed.assumptions import Assumed

_ROUND = "round_min"
_LEAST_REACH_MIN = 0.1


def print_forecast(forecast: Forecast) -> bytes:
    """A forecast as a PDF.

    Args:
        forecast: The forecast.
    """
    rows = [row for change in forecast.changes if (row := _row(change_title(change), change.effects)) is not None]
    together = _row("All changes together", forecast.together)
    rows = [*rows, together] if together is not None and len(rows) != 1 else rows
    return forecast_sheet(
        ForecastSheet(
            title=f"Forecast: {forecast.trial}",
            trial=forecast.trial,
            stamps=f"trial {forecast.trial_stamp}, {forecast.present} {forecast.present_stamp}, proposed {forecast.proposed_stamp}",
            standing=STANDING,
            head=head_lines(forecast),
            not_modelled=not_played_lines(forecast),
            axis=_axis(rows),
            rows=tuple(rows),
            charts=_charts(forecast),
            changes=tuple(map(_change, forecast.changes)),
            assumed=tuple(map(_assumed, forecast.assumed)),
            fixed=forecast.fixed,
        )
    )


def _row(title: str, effects: Sequence[ExpectedEffect]) -> ExpectedRow | None:
    found = next((one for one in effects if (one.outcome, one.of) == (_ROUND, OF_THE_DAY)), None)
    if found is None:
        return None
    (low, high), words = found.range, amount_line(found)
    return ExpectedRow(title=title, words=f"{words[:1].upper()}{words[1:]}.", estimate=found.estimate, low=low, high=high)


def _axis(rows: Sequence[ExpectedRow]) -> ExpectedAxis:
    """One axis for all rows, with nothing in its middle."""
    reach = max([_LEAST_REACH_MIN, *(abs(end) for row in rows for end in (row.low, row.high, row.estimate))]) * 1.05
    return ExpectedAxis(low=-reach, high=reach, low_words=f"{reach:.1f} min less", high_words=f"{reach:.1f} min more")


def _change(change: ForecastChange) -> ExpectedChange:
    lines = (played_line(change), *effect_lines(change.effects))
    return ExpectedChange(title=change_title(change), lines=lines, driven=driven_lines(change.driven_by))


def _assumed(one: Assumed) -> AssumedRow:
    span = f"{one.low:g} to {one.high:g}" if one.is_weak else "stated"
    return AssumedRow(means=one.means, value=f"{one.value:g} {one.unit}", range=span, provenance=one.provenance)


def _charts(forecast: Forecast) -> tuple[ExpectedChart, ...]:
    picture = forecast.picture
    charts = []
    if len(picture.started_min) > 1 and picture.started_min[-1] > picture.started_min[0]:
        words = "Round of each group by its starting time"
        ends = (f"first start, {picture.present_min[0]:.0f} min", f"last start, {picture.present_min[-1]:.0f} min")
        charts.append(_chart(words, picture.started_min, picture.present_min, picture.proposed_min, ends))
    holes = tuple(map(float, picture.holes))
    most = picture.holes[max(range(len(holes)), key=picture.waiting_present_min.__getitem__)]
    waiting = (picture.waiting_present_min, picture.waiting_proposed_min)
    charts.append(
        _chart(f"Waiting of a group by hole, most on hole {most}", holes, *waiting, (f"hole {holes[0]:.0f}", f"hole {holes[-1]:.0f}"))
    )
    if len(picture.by_interval) > 1:
        x = tuple(one.interval_min for one in picture.by_interval)
        present, proposed = (
            tuple(each) for each in zip(*((one.present_min, one.proposed_min) for one in picture.by_interval), strict=True)
        )
        charts.append(_chart("Round of the day by start interval", x, present, proposed, (f"every {x[0]:g} min", f"every {x[-1]:g} min")))
    return tuple(charts)


def _chart(
    title: str, x: tuple[float, ...], present: tuple[float, ...], proposed: tuple[float, ...], ends: tuple[str, str]
) -> ExpectedChart:
    low, high = min(*present, *proposed), max(*present, *proposed)
    words = f"Present {_span(present)}, proposed {_span(proposed)}."
    return ExpectedChart(
        title=title,
        words=words,
        x=x,
        present=present,
        proposed=proposed,
        low=low,
        high=high,
        low_words=f"{low:.1f} min",
        high_words=f"{high:.1f} min",
        first=ends[0],
        last=ends[1],
    )


def _span(values: tuple[float, ...]) -> str:
    return f"{min(values):.1f} to {max(values):.1f} min"
