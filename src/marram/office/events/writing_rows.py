"""What every row of an event must pass: a reason where something takes the place of what stands, and the closing of the event."""

from __future__ import annotations

from collections.abc import Sequence

from marram.core.errors import EventError
from marram.core.field_names import Field
from marram.events.happened import EventState
from marram.office.events.kept_event import KeptEvent
from marram.store.kept_rows import Hand, Writing
from marram.store.open_store import Store

AFTER_CLOSING = ("committee-mistake", "disqualification")
"""What may still be put right after an event was closed; the Committee decides whether the Rules allow it."""


def write_rows(
    store: Store, hand: Hand, event: KeptEvent, rows: Sequence[Writing], *, seen: int | None = None, after_closing: str = ""
) -> None:
    """Write rows of an event.

    Args:
        store: The store.
        hand: Who writes.
        event: The event.
        rows: The rows.
        seen: Number of the last row that was looked at, where what is written rests on all rows; None where it does not.
        after_closing: What is put right after the event was closed, one of ``AFTER_CLOSING``; empty where nothing is.

    Raises:
        EventError: The event is closed, and it is not said what is put right.
    """
    if event.state is EventState.CLOSED and after_closing not in AFTER_CLOSING:
        hint = f"Only a mistake of the Committee or a disqualification is put right now: {' or '.join(AFTER_CLOSING)}."
        raise EventError("The event is closed.", where=event.name, field=Field.AFTER_CLOSING, hint=hint)
    store.append(event.name, hand, rows, seen=seen)


def need_reason(reason: str, told: Sequence[str]) -> None:
    """Stop where something takes the place of what stands and nobody says why.

    Args:
        reason: Why.
        told: What stands.

    Raises:
        EventError: Something does, and no reason is given.
    """
    if told and not reason.strip():
        shown = "; ".join(told[:40])
        raise EventError(f"{shown[:1].upper()}{shown[1:]}.", field=Field.REASON, hint="To put it right, say why.")
