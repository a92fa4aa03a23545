"""What every row of an event must pass: a reason where something takes the place of what stands, and the closing of the event."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from marram.core.citations import rules_words
from marram.core.errors import EventError
from marram.core.field_names import Field
from marram.events.decided.closing import COMMITTEE_MISTAKE, still_open
from marram.events.happened import EventState
from marram.office.events.kept_event import KeptEvent
from marram.store.kept_rows import Hand, Writing
from marram.store.open_store import Store


def write_rows(
    store: Store,
    hand: Hand,
    event: KeptEvent,
    rows: Sequence[Writing],
    *,
    seen: int | None = None,
    after_closing: str = "",
    disqualifies: bool = False,
) -> None:
    """Write rows of an event.

    Args:
        store: The store.
        hand: Who writes.
        event: The event.
        rows: The rows.
        seen: Number of the last row that was looked at, where what is written rests on all rows; None where it does not.
        after_closing: What is put right after the event was closed, as the book says; empty where nothing is.
        disqualifies: Whether what is written disqualifies a player and does nothing else.

    Raises:
        EventError: The event is closed, and the book does not let this be put right.
    """
    if event.state is EventState.CLOSED:
        rows = _after_closing(event, rows, after_closing, disqualifies=disqualifies)
    store.append(event.name, hand, rows, seen=seen)


def _after_closing(event: KeptEvent, rows: Sequence[Writing], ground: str, *, disqualifies: bool) -> list[Writing]:
    """The rows with what lets them be written after closing before their reason."""
    known = still_open(event.book, event.terms.terms.form, ground, event.name)
    if known.only_disqualifies and not disqualifies:
        hint = f"To put a mistake of the Committee right, say {COMMITTEE_MISTAKE}."
        raise EventError(f"For {ground!r} a player is disqualified, and nothing else changes.", where=event.name, hint=hint)
    lead = f"{known.says} ({rules_words(known.citations)})"
    return [replace(row, reason=f"{lead}: {row.reason}" if row.reason else lead) for row in rows]


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
