"""What a plan takes from a forecast: how far two days of a pair differ, as chance in play and a stated spread of days make them."""

from __future__ import annotations

from dataclasses import replace

import msgspec

from marram.core.errors import StudyError
from marram.office.trials.planned_trial import Spread, trial_stamp
from marram.rulebook.overlays.overlay import Overlay

_SCHEMA = "marram.forecast/1"
_HINT = "`forecast_trial()` writes one as JSON."


class _Expected(msgspec.Struct):
    """An effect, as a forecast holds it."""

    outcome: str
    sd_of_difference: float | None


class _Forecast(msgspec.Struct):
    """What of a forecast is read again."""

    schema: str
    trial_stamp: str
    together: list[_Expected]


def with_forecast(spread: Spread, trial: Overlay, text: str, *, where: str) -> Spread:
    """What was told of the spread, and for what nobody told what a forecast says.

    Args:
        spread: What was told; it stands.
        trial: The trial that is planned.
        text: The forecast as JSON.
        where: Name of its file, for errors.

    Raises:
        StudyError: It is no forecast, is one of another trial, or nobody stated in it how far days differ.
    """
    try:
        read = msgspec.json.decode(text.encode(), type=_Forecast)
    except (msgspec.DecodeError, UnicodeEncodeError, RecursionError):
        raise StudyError("This is no forecast.", where=where, hint=_HINT) from None
    if read.schema != _SCHEMA:
        raise StudyError(f"The forecast is written as {read.schema[:60]!r}.", where=where, hint=f"This reads {_SCHEMA!r}.")
    if read.trial_stamp != trial_stamp(trial):
        message = f"The forecast is for {read.trial_stamp[:20]}, and this trial is {trial_stamp(trial)}."
        raise StudyError(message, where=where, hint="Forecast the trial as it is now.")
    found = {one.outcome: one.sd_of_difference for one in read.together if one.sd_of_difference is not None and one.sd_of_difference > 0}
    if not found:
        message = "Nobody stated in this forecast how far days differ, and chance in play alone is far too little."
        raise StudyError(message, where=where, hint="Forecast with `spread`, from a pilot or as the official states it.")
    return replace(spread, sd={**found, **spread.sd})
