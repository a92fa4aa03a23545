"""A store as outsiders read it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from marram.answers.shape import Answer, Shape

if TYPE_CHECKING:
    from marram.store.verify import StoreVerified


class StoredEventShape(Shape, frozen=True, kw_only=True):
    """An event as its rows were found.

    Attributes:
        event: The event.
        rows: How many rows it has.
        stamp: Stamp of the last one: whoever noted it can see that none was taken away.
        faults: What is wrong.
    """

    event: str
    rows: int
    stamp: str
    faults: tuple[str, ...]


class StoreAnswer(Answer, frozen=True, kw_only=True):
    """A store, or a copy of one, as it was looked through.

    Attributes:
        schema: Name and version of this shape.
        migration: Number of its last migration.
        sound: Whether nothing is wrong.
        events: Its events.
        faults: What is wrong with the file itself.
    """

    schema: Literal["marram.store/1"] = "marram.store/1"
    migration: int
    sound: bool
    events: tuple[StoredEventShape, ...]
    faults: tuple[str, ...]


def store_answer(found: StoreVerified) -> StoreAnswer:
    """A store as it was looked through."""
    events = tuple(StoredEventShape(event=one.event, rows=one.rows, stamp=one.stamp, faults=one.faults) for one in found.events)
    return StoreAnswer(migration=found.schema, sound=found.is_sound, events=events, faults=found.faults)
