"""The drop, step by step: from a state and what happens next to the state that follows.

What each edition makes of an event is given as plain values (`DropLaw`); the steps themselves know no edition.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from marram.core.errors import RulingError


class Stage(StrEnum):
    """How far a drop has come."""

    TO_DROP = "to-drop"
    FALLING = "falling"
    ROLLING = "rolling"
    WRONG_WAY = "wrong-way"
    WRONG_WAY_INSIDE = "wrong-way-inside"
    WRONG_WAY_OUTSIDE = "wrong-way-outside"
    TO_PLACE = "to-place"
    TO_PLACE_AGAIN = "to-place-again"
    TO_PLACE_ELSEWHERE = "to-place-elsewhere"
    IN_PLAY = "in-play"
    PLAYED = "played"


class DropEvent(StrEnum):
    """What may happen."""

    RIGHT_WAY = "right-way"
    WRONG_WAY = "wrong-way"
    TOUCHED_PERSON_BEFORE_GROUND = "touched-person-before-ground"
    FIRST_TOUCH_INSIDE = "first-touch-inside"
    FIRST_TOUCH_OUTSIDE = "first-touch-outside"
    TOUCHED_PERSON_AFTER_GROUND = "touched-person-after-ground"
    STOPPED_ON_PURPOSE = "stopped-on-purpose"
    STOPPED_BY_ANOTHER = "stopped-by-another"
    STOPPED_WITHOUT_CHANCE = "stopped-without-chance"
    RESTS_INSIDE = "rests-inside"
    RESTS_OUTSIDE = "rests-outside"
    NONE_WILL_STAY = "none-will-stay"
    PLACED_STAYS = "placed-stays"
    PLACED_MOVES = "placed-moves"
    STROKE = "stroke"


@dataclass(frozen=True, slots=True, kw_only=True)
class DropLaw:
    """What a book makes of each event.

    Attributes:
        drops: How many drops that count are tried before the ball is placed; None where they are not counted.
        person_before_ground_annuls: Whether a touch of a person before the ground makes the drop count for nothing.
        person_after_ground_annuls: Whether one after the ground does.
        stopped_is_dropped_again: Whether a ball stopped on purpose is dropped again, not counted; else it lies where it was stopped.
        strokes_for_stopping: Penalty strokes where the player or caddie stopped it; None where the book says nothing.
        without_chance_counts: Whether a ball stopped without a chance of resting right is taken to have rested outside; None where the
            book says nothing.
        strokes_played_inside: Penalty strokes for playing a wrong drop from the right ground.
        strokes_played_outside: The same from other ground; None where the book says nothing.
        tries_on_spot: How often a placed ball is put on its spot before another is taken.
    """

    drops: int | None
    person_before_ground_annuls: bool
    person_after_ground_annuls: bool
    stopped_is_dropped_again: bool
    strokes_for_stopping: int | None
    without_chance_counts: bool | None
    strokes_played_inside: int
    strokes_played_outside: int | None
    tries_on_spot: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Drop:
    """A drop under way.

    Attributes:
        stage: How far it has come.
        counted: Drops that have counted.
        penalty_strokes: Penalty strokes so far, those of the relief itself not among them.
        was_annulled: Whether the last drop counted for nothing.
    """

    stage: Stage = Stage.TO_DROP
    counted: int = 0
    penalty_strokes: int = 0
    was_annulled: bool = False


def next_step(drop: Drop, event: DropEvent, law: DropLaw) -> Drop:
    """What follows from an event.

    Args:
        drop: The drop so far.
        event: What happens.
        law: What the book makes of it.

    Raises:
        RulingError: The event cannot follow; the error names those that can.
    """
    after = _STEPS[drop.stage](drop, event, law)
    if after is None:
        possible = ", ".join(events_after(drop, law))
        hint = f"What can follow: {possible}." if possible else "The stroke is made and nothing follows."
        raise RulingError(f"{event.value} cannot follow while the drop is {drop.stage.value}.", where="--events", hint=hint)
    return after


def events_after(drop: Drop, law: DropLaw) -> tuple[DropEvent, ...]:
    """The events that can follow."""
    return tuple(event for event in DropEvent if _STEPS[drop.stage](drop, event, law) is not None)


def _to(drop: Drop, stage: Stage) -> Drop:
    return replace(drop, stage=stage, was_annulled=False)


def _annulled(drop: Drop) -> Drop:
    return replace(drop, stage=Stage.TO_DROP, was_annulled=True)


def _counted(drop: Drop, law: DropLaw) -> Drop:
    """A drop in the right way that did not come to rest where it must."""
    counted = drop.counted + 1
    is_last = law.drops is not None and counted >= law.drops
    return replace(drop, stage=Stage.TO_PLACE if is_last else Stage.TO_DROP, counted=counted, was_annulled=False)


def _to_drop(drop: Drop, event: DropEvent, law: DropLaw) -> Drop | None:
    match event:
        case DropEvent.RIGHT_WAY:
            return _to(drop, Stage.FALLING)
        case DropEvent.WRONG_WAY:
            return _to(drop, Stage.WRONG_WAY)
        case DropEvent.NONE_WILL_STAY if law.drops is None and drop.counted > 0:
            return _to(drop, Stage.TO_PLACE)
    return None


def _falling(drop: Drop, event: DropEvent, law: DropLaw) -> Drop | None:
    match event:
        case DropEvent.TOUCHED_PERSON_BEFORE_GROUND:
            return _annulled(drop) if law.person_before_ground_annuls else _to(drop, Stage.FALLING)
        case DropEvent.FIRST_TOUCH_INSIDE:
            return _to(drop, Stage.ROLLING)
        case DropEvent.FIRST_TOUCH_OUTSIDE:
            return _to(drop, Stage.WRONG_WAY)
    # An official who tells where it came to rest, and nothing of its first touch, saw nothing wrong with that.
    return _rolling(drop, event, law) if event in {DropEvent.RESTS_INSIDE, DropEvent.RESTS_OUTSIDE} else None


def _rolling(drop: Drop, event: DropEvent, law: DropLaw) -> Drop | None:
    match event:
        case DropEvent.TOUCHED_PERSON_AFTER_GROUND:
            return _annulled(drop) if law.person_after_ground_annuls else _to(drop, Stage.ROLLING)
        case DropEvent.STOPPED_ON_PURPOSE | DropEvent.STOPPED_BY_ANOTHER:
            own = law.strokes_for_stopping or 0 if event is DropEvent.STOPPED_ON_PURPOSE else 0
            charged = replace(drop, penalty_strokes=drop.penalty_strokes + own)
            return _annulled(charged) if law.stopped_is_dropped_again else _to(charged, Stage.IN_PLAY)
        case DropEvent.STOPPED_WITHOUT_CHANCE if law.without_chance_counts is not None:
            return _counted(drop, law) if law.without_chance_counts else _annulled(drop)
        case DropEvent.RESTS_INSIDE:
            return _to(drop, Stage.IN_PLAY)
        case DropEvent.RESTS_OUTSIDE:
            return _counted(drop, law)
    return None


def _wrong_way(drop: Drop, event: DropEvent, law: DropLaw) -> Drop | None:
    """A drop that counts for nothing lies on the ground: it is made again, or comes to rest and might be played."""
    match event:
        case DropEvent.RIGHT_WAY:
            return _to(drop, Stage.FALLING)
        case DropEvent.WRONG_WAY:
            return _to(drop, Stage.WRONG_WAY)
        case DropEvent.RESTS_INSIDE:
            return _to(drop, Stage.WRONG_WAY_INSIDE)
        case DropEvent.RESTS_OUTSIDE:
            return _to(drop, Stage.WRONG_WAY_OUTSIDE)
    return None


def _wrong_at_rest(drop: Drop, event: DropEvent, law: DropLaw) -> Drop | None:
    if event is DropEvent.STROKE:
        is_inside = drop.stage is Stage.WRONG_WAY_INSIDE
        strokes = law.strokes_played_inside if is_inside else law.strokes_played_outside
        return None if strokes is None else replace(_to(drop, Stage.PLAYED), penalty_strokes=drop.penalty_strokes + strokes)
    return _wrong_way(drop, event, law) if event in {DropEvent.RIGHT_WAY, DropEvent.WRONG_WAY} else None


def _to_place(drop: Drop, event: DropEvent, law: DropLaw) -> Drop | None:
    match event:
        case DropEvent.PLACED_STAYS:
            return _to(drop, Stage.IN_PLAY)
        case DropEvent.PLACED_MOVES:
            again = drop.stage is Stage.TO_PLACE and law.tries_on_spot > 1
            return _to(drop, Stage.TO_PLACE_AGAIN if again else Stage.TO_PLACE_ELSEWHERE)
    return None


def _in_play(drop: Drop, event: DropEvent, law: DropLaw) -> Drop | None:
    return _to(drop, Stage.PLAYED) if event is DropEvent.STROKE else None


def _played(drop: Drop, event: DropEvent, law: DropLaw) -> Drop | None:
    return None


_STEPS = {
    Stage.TO_DROP: _to_drop,
    Stage.FALLING: _falling,
    Stage.ROLLING: _rolling,
    Stage.WRONG_WAY: _wrong_way,
    Stage.WRONG_WAY_INSIDE: _wrong_at_rest,
    Stage.WRONG_WAY_OUTSIDE: _wrong_at_rest,
    Stage.TO_PLACE: _to_place,
    Stage.TO_PLACE_AGAIN: _to_place,
    Stage.TO_PLACE_ELSEWHERE: _to_place,
    Stage.IN_PLAY: _in_play,
    Stage.PLAYED: _played,
}
