"""Whoever writes into a store has a name, and a clock that the entry gives."""

from __future__ import annotations

from collections.abc import Callable

from marram.core.errors import EventError
from marram.core.field_names import Field
from marram.core.words import odd_sign, shortly
from marram.store.kept_rows import Hand

_LONGEST_NAME = 100


def sign(who: str, clock: Callable[[], str]) -> Hand:
    """Who writes, and by which clock.

    Args:
        who: Name of the person.
        clock: Gives the time, ISO 8601 in UTC with milliseconds.

    Raises:
        EventError: There is no name, or none that can be read.
    """
    name = who.strip()
    if not name or odd_sign(name) or len(name) > _LONGEST_NAME:
        told = f"{shortly(who)} is no name of who writes." if name else "It is not said who writes."
        raise EventError(told, field=Field.WHO, hint="Give a name.")
    return Hand(who=name, clock=clock)
