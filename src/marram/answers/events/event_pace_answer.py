"""The pace of an event as outsiders read it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from marram.answers.shape import Answer, Shape

if TYPE_CHECKING:
    from marram.events.observed.pace_of_play import GroupPace, HolePace
    from marram.office.event_records.watch_pace import PaceFound
    from marram.office.events.kept_event import KeptEvent


class HolePaceShape(Shape, frozen=True, kw_only=True):
    """A group on a hole.

    Attributes:
        hole: The hole.
        took_min: Minutes from its first stroke to the last holed out; null where that is not known.
        waited_min: Minutes of waiting; null where nobody wrote them down.
        behind_min: Minutes behind the time par when the hole was finished; null where that cannot be told.
        gap_min: Minutes after the group ahead; null where there is none, or its time is not known.
        out_of_position: Whether it was behind the time par with too large a gap; null where that cannot be told.
    """

    hole: int
    took_min: float | None
    waited_min: float | None
    behind_min: float | None
    gap_min: float | None
    out_of_position: bool | None


class GroupPaceShape(Shape, frozen=True, kw_only=True):
    """A group through its round.

    Attributes:
        group: Number of the group.
        holes: The holes of which something is known, as they were played.
    """

    group: int
    holes: tuple[HolePaceShape, ...]


class EventPaceAnswer(Answer, frozen=True, kw_only=True):
    """The pace of an event.

    Attributes:
        schema: Name and version of this shape.
        event: The event.
        time_par_min: Minutes for each hole as the official set them; empty where none are set.
        gap_min: Minutes to the group ahead from which a group has lost its position; null without a time par.
        groups: The groups of which times were written down.
    """

    schema: Literal["marram.event-pace/1"] = "marram.event-pace/1"
    event: str
    time_par_min: tuple[float, ...]
    gap_min: float | None
    groups: tuple[GroupPaceShape, ...]


def event_pace_answer(event: KeptEvent, found: PaceFound) -> EventPaceAnswer:
    """The pace of an event."""
    return EventPaceAnswer(
        event=event.name,
        time_par_min=() if found.par is None else found.par.holes_min,
        gap_min=None if found.par is None else found.par.gap_min,
        groups=tuple(map(_group, found.groups)),
    )


def _group(one: GroupPace) -> GroupPaceShape:
    return GroupPaceShape(group=one.group, holes=tuple(map(_hole, one.holes)))


def _hole(one: HolePace) -> HolePaceShape:
    return HolePaceShape(
        hole=one.hole,
        took_min=_tenths(one.took_min),
        waited_min=_tenths(one.waited_min),
        behind_min=_tenths(one.behind_min),
        gap_min=_tenths(one.gap_min),
        out_of_position=one.is_out_of_position,
    )


def _tenths(minutes: float | None) -> float | None:
    return None if minutes is None else round(minutes, 1)
