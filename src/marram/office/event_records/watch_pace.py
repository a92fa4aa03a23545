"""Pace of play of an event: the time par that the official sets, and how each group stands against it."""

from __future__ import annotations

from dataclasses import dataclass

from marram.core.errors import EventError
from marram.core.words import counted
from marram.events.observed.pace_of_play import GroupPace, TimePar, pace_of
from marram.office.event_records.keep_log import groups_of, open_log
from marram.office.events.kept_event import KeptEvent
from marram.office.events.writing_rows import need_reason, write_rows
from marram.store.contents import read_back, written
from marram.store.kept_rows import Hand, Kind, Writing
from marram.store.open_store import Store

_LEAST_MIN, _MOST_MIN, _MOST_GAP_MIN = 3.0, 40.0, 60.0
_USUAL_GAP_MIN = 10.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PaceFound:
    """The pace of an event.

    Attributes:
        par: The time par; None where none is set.
        groups: The groups of which times of holes were written down.
    """

    par: TimePar | None
    groups: tuple[GroupPace, ...]


def set_time_par(store: Store, hand: Hand, event: KeptEvent, typed: str, gap_min: float | None, reason: str = "") -> TimePar:
    """Set the time par of an event.

    Args:
        store: The store.
        hand: Who does it.
        event: The event.
        typed: Minutes for each hole from hole 1, such as ``14 14 11``, or for each par, such as ``3=11 4=13 5=15.5``.
        gap_min: Minutes to the group ahead from which a group has lost its position; None for the start interval, or 10 without one.
        reason: Why a time par that stands is set anew.

    Raises:
        EventError: It cannot be read, a hole has none, or one stands and no reason is given.
    """
    if gap_min is None:
        starting = event.terms.starting
        gap_min = float(starting.interval_min) if starting is not None else _USUAL_GAP_MIN
    if not 0 < gap_min <= _MOST_GAP_MIN:
        raise EventError(f"A gap of {gap_min:g} min cannot be.", hint=f"Give minutes above 0, {_MOST_GAP_MIN:g} at most.")
    pars = tuple(next(iter(event.terms.terms.tees.values())).par)
    found = TimePar(holes_min=_by_par(typed, pars) if "=" in typed else _by_hole(typed, len(pars)), gap_min=gap_min)
    odd = [f"{one:g}" for one in found.holes_min if not _LEAST_MIN <= one <= _MOST_MIN]
    if odd:
        told = f"{odd[0]} min for a hole cannot be."
        raise EventError(told, where="time par", hint=f"Expected {_LEAST_MIN:g} to {_MOST_MIN:g}.")
    number = event.number_of(Kind.TIME_PAR)
    if number is not None:
        need_reason(reason, ["a time par stands already"])
    write_rows(store, hand, event, [Writing(kind=Kind.TIME_PAR, key="", content=written(found), reason=reason, supersedes=number)])
    return found


def _by_hole(typed: str, holes: int) -> tuple[float, ...]:
    found = tuple(map(_minutes, typed.split()))
    if len(found) != holes:
        told = f"It names {counted(len(found), 'hole')}, and the course has {holes}."
        raise EventError(told, where="time par", hint="Give minutes for each hole from hole 1, or for each par, such as 3=11 4=13 5=15.5.")
    return found


def _by_par(typed: str, pars: tuple[int, ...]) -> tuple[float, ...]:
    parts = [one.partition("=") for one in typed.split()]
    known = {par: _minutes(minutes) for par, _, minutes in parts}
    missing = sorted({par for par in pars if str(par) not in known})
    if missing:
        raise EventError(
            f"It says nothing of holes of par {missing[0]}.", where="time par", hint="Give minutes for each par of the course."
        )
    return tuple(known[str(par)] for par in pars)


def _minutes(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        raise EventError(f"{text[:20]!r} is no number of minutes.", where="time par", hint="Give figures apart by spaces.") from None


def find_pace(event: KeptEvent, number: int = 1) -> PaceFound:
    """How each group stands, by what was written down.

    Args:
        event: The event.
        number: Number of the round.
    """
    row = event.rows.get((Kind.TIME_PAR.value, ""))
    par = None if row is None else read_back(row.content, TimePar, f"{row.event}, row {row.number}")
    starts = event.start_lists.get(number, event.starts)
    holes = max(tee.holes for tee in event.terms.terms.tees.values())
    return PaceFound(par=par, groups=pace_of(open_log(event).standing, groups_of(event, number), starts, holes, par, number))
