"""The drop, step by step: from a stage and what happens next to the stage that follows. The steps know no edition."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from marram.core.errors import RulingError
from marram.core.field_names import Field
from marram.rulebook.consequence_words import HoleIs
from marram.rulebook.consequences import Consequence
from marram.rulings.drop.states import Ball, BesideLine, Drop, DropEvent, DropLaw, LastDrop, Stage, Touch

_WHERE_IT_WENT = frozenset({DropEvent.FIRST_TOUCH_INSIDE, DropEvent.FIRST_TOUCH_OUTSIDE, DropEvent.RESTS_INSIDE, DropEvent.RESTS_OUTSIDE})


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
        raise RulingError(f"{event.value} cannot follow while the drop is {drop.stage.value}.", field=Field.EVENTS, hint=hint)
    return after


def events_after(drop: Drop, law: DropLaw) -> tuple[DropEvent, ...]:
    """The events that can follow."""
    return tuple(event for event in DropEvent if _STEPS[drop.stage](drop, event, law) is not None)


def cost_of_stroke(drop: Drop, law: DropLaw) -> Consequence | None:
    """What a stroke at the ball as it lies now costs; None where there is nothing to be played, or no source says.

    A ball that may not be put in and lies wrong besides is one stroke and one act: the heavier of the two penalties is given.
    """
    cost = _COST_BY_STAGE[drop.stage](law) if drop.stage in _COST_BY_STAGE else None
    if drop.stage is Stage.TO_DROP and drop.last in {LastDrop.COUNTED, LastDrop.NOT_COUNTED}:
        cost = law.wrong_place
    if cost is None or not drop.has_wrong_ball:
        return cost
    return max(cost, law.wrong_ball, key=lambda penalty: penalty.strokes)


_FREE = Consequence()
_COST_BY_STAGE: dict[Stage, Callable[[DropLaw], Consequence | None]] = {
    Stage.WRONG_WAY_INSIDE: lambda law: law.wrong_way_inside,
    Stage.WRONG_WAY_OUTSIDE: lambda law: law.wrong_way_outside,
    Stage.WRONG_PLACE: lambda law: law.wrong_place,
    Stage.BESIDE_LINE: lambda law: law.beside_line_played,
    Stage.PLACED_INSTEAD: lambda law: law.placed_instead,
    Stage.TO_PLACE: lambda law: law.wrong_place,
    Stage.TO_PLACE_AGAIN: lambda law: law.wrong_place,
    Stage.TO_PLACE_ELSEWHERE: lambda law: law.wrong_place,
    Stage.DROPPED_INSTEAD: lambda law: law.third_drop_elsewhere,
    Stage.DROPPED_ON_SPOT: lambda law: law.third_drop_on_spot,
    Stage.IN_PLAY: lambda law: _FREE,
    Stage.MOVED_IN_PLAY: lambda law: _FREE,
    Stage.MOVED_AWAY: lambda law: _FREE,
    Stage.TO_REPLACE: lambda law: law.wrong_place,
}


def _to(drop: Drop, stage: Stage) -> Drop:
    return replace(drop, stage=stage, last=LastDrop.NONE)


def _again(drop: Drop, last: LastDrop) -> Drop:
    """It has to be dropped again, and that drop is not counted."""
    return replace(drop, stage=Stage.TO_DROP, last=last)


def _counted(drop: Drop, law: DropLaw) -> Drop:
    """A drop in the right way that did not come to rest where it must."""
    counted = drop.counted + 1
    if law.drops is not None and counted >= law.drops:
        return replace(drop, stage=Stage.TO_PLACE, counted=counted, last=LastDrop.NONE)
    return replace(drop, stage=Stage.TO_DROP, counted=counted, last=LastDrop.COUNTED)


def _charged(drop: Drop, cost: Consequence) -> Drop:
    return replace(
        drop,
        penalty_strokes=drop.penalty_strokes + cost.strokes,
        match_strokes=drop.match_strokes + cost.match_strokes,
        loses_hole=drop.loses_hole or cost.hole is HoleIs.LOST,
    )


def _stroke(drop: Drop, law: DropLaw) -> Drop | None:
    cost = cost_of_stroke(drop, law)
    return None if cost is None else _charged(_to(drop, Stage.PLAYED), cost)


def _corrected(drop: Drop, stage: Stage, law: DropLaw) -> Drop:
    return replace(_to(drop, stage), penalty_strokes=drop.penalty_strokes + law.correcting_strokes, has_wrong_ball=False)


def _let_go(drop: Drop, event: DropEvent, law: DropLaw) -> Drop | None:
    """Who let the ball go, and how."""
    match event:
        case DropEvent.RIGHT_WAY:
            return _to(drop, Stage.FALLING)
        case DropEvent.WRONG_WAY | DropEvent.DROPPED_BY_ANOTHER:
            return _to(drop, Stage.WRONG_WAY)
        case DropEvent.DROPPED_BY_PARTNER if law.partner_may_drop is not None:
            return _to(drop, Stage.FALLING if law.partner_may_drop else Stage.WRONG_WAY)
        case DropEvent.DROPPED_BY_AUTHORISED:
            return _to(drop, Stage.FALLING if law.authorised_may_drop else Stage.WRONG_WAY)
        case DropEvent.PLACED_INSTEAD:
            return _to(drop, Stage.PLACED_INSTEAD)
    return None


def _choose_ball(drop: Drop, event: DropEvent, law: DropLaw) -> Drop | None:
    """Another ball is taken for the drop."""
    is_out_of_reach = event is DropEvent.OTHER_BALL_OUT_OF_REACH
    if law.ball is Ball.ANY or (is_out_of_reach and law.other_ball_for_one_out_of_reach and drop.counted > 0):
        return drop
    if law.ball is Ball.ORIGINAL_IF_RECOVERABLE and is_out_of_reach:
        return drop
    is_known_wrong = law.ball is not Ball.DEPENDS_ON_RELIEF and not drop.has_wrong_ball
    return replace(drop, has_wrong_ball=True) if is_known_wrong else None


def _to_drop(drop: Drop, event: DropEvent, law: DropLaw) -> Drop | None:
    match event:
        case DropEvent.OTHER_BALL | DropEvent.OTHER_BALL_OUT_OF_REACH:
            return _choose_ball(drop, event, law)
        case DropEvent.OTHER_SPOT_ON_LINE if drop.counted > 0 and law.is_on_line and law.other_spot_on_line:
            return drop
        case DropEvent.NONE_WILL_STAY if law.drops is None and drop.counted > 0:
            return _to(drop, Stage.TO_PLACE)
        case DropEvent.CORRECTED if drop.has_wrong_ball:
            return _corrected(drop, Stage.TO_DROP, law)
        case DropEvent.RESTS_INSIDE | DropEvent.RESTS_OUTSIDE if drop.last is LastDrop.WRONG_WAY:
            return _wrong_way(drop, event, law)
        case DropEvent.STROKE:
            return _stroke(drop, law)
    return _let_go(drop, event, law)


def _touched(drop: Drop, touch: Touch) -> Drop:
    match touch:
        case Touch.AGAIN:
            return _again(drop, LastDrop.NOT_COUNTED)
        case Touch.WRONG_WAY:
            return _again(drop, LastDrop.WRONG_WAY)
        case Touch.JUDGED_BY_REST:
            return drop


def _falling(drop: Drop, event: DropEvent, law: DropLaw) -> Drop | None:
    match event:
        case DropEvent.TOUCHED_PERSON_BEFORE_GROUND:
            return _touched(drop, law.person_before_ground)
        case DropEvent.FIRST_TOUCH_INSIDE:
            return _to(drop, Stage.ROLLING)
        case DropEvent.FIRST_TOUCH_OUTSIDE:
            return _to(drop, Stage.WRONG_PLACE if law.first_touch_outside_is_wrong_place else Stage.WRONG_WAY)
        case DropEvent.FIRST_TOUCH_BESIDE_LINE if law.is_on_line:
            return _to(drop, Stage.ROLLING if law.beside_line is BesideLine.GOOD else Stage.BESIDE_LINE)
    # An official who tells where it came to rest, and nothing of its first touch, saw nothing wrong with that.
    return _rolling(drop, event, law) if event in {DropEvent.RESTS_INSIDE, DropEvent.RESTS_OUTSIDE} else None


def _rolling(drop: Drop, event: DropEvent, law: DropLaw) -> Drop | None:
    match event:
        case DropEvent.TOUCHED_PERSON_AFTER_GROUND:
            return _touched(drop, law.person_after_ground)
        case DropEvent.STOPPED_ON_PURPOSE | DropEvent.STOPPED_BY_ANOTHER:
            charged = _charged(drop, law.stopping) if law.stopping and event is DropEvent.STOPPED_ON_PURPOSE else drop
            return _again(charged, LastDrop.NOT_COUNTED) if law.stopped_is_dropped_again else _to(charged, Stage.IN_PLAY)
        case DropEvent.STOPPED_WITHOUT_CHANCE if law.without_chance_counts is not None:
            return _counted(drop, law) if law.without_chance_counts else _again(drop, LastDrop.NOT_COUNTED)
        case DropEvent.RESTS_INSIDE:
            return _to(replace(drop, counted=drop.counted + (not drop.has_wrong_ball)), Stage.IN_PLAY)
        case DropEvent.RESTS_OUTSIDE:
            return _counted(drop, law)
    return None


def _wrong_way(drop: Drop, event: DropEvent, law: DropLaw) -> Drop | None:
    """A drop that counts for nothing lies on the ground: it is made again, or comes to rest and might be played."""
    match event:
        case DropEvent.FIRST_TOUCH_OUTSIDE if law.first_touch_outside_is_wrong_place:
            return _to(drop, Stage.WRONG_PLACE)
        case DropEvent.FIRST_TOUCH_INSIDE | DropEvent.FIRST_TOUCH_OUTSIDE:
            return drop
        case DropEvent.RESTS_INSIDE:
            return _to(drop, Stage.WRONG_WAY_INSIDE)
        case DropEvent.RESTS_OUTSIDE:
            return _to(drop, Stage.WRONG_WAY_OUTSIDE)
        case DropEvent.CORRECTED:
            return _corrected(drop, Stage.TO_DROP, law)
    return _let_go(drop, event, law)


def _wrong_at_rest(drop: Drop, event: DropEvent, law: DropLaw) -> Drop | None:
    """A ball that lies where or how it may not be played, until it is put right."""
    is_off_line = drop.stage is Stage.BESIDE_LINE and law.beside_line is BesideLine.WRONG_PLACE
    is_wrong_place = is_off_line or drop.stage in {Stage.WRONG_PLACE, Stage.WRONG_WAY_OUTSIDE}
    match event:
        case DropEvent.STROKE:
            return _stroke(drop, law)
        case DropEvent.CORRECTED:
            return _corrected(drop, Stage.TO_DROP, law)
        case DropEvent.OTHER_OPTION if is_wrong_place and drop.counted == 0 and law.other_option_after_wrong_place:
            return _to(drop, Stage.TO_DROP)
    return _let_go(drop, event, law)


def _wrong_wherever_it_rests(drop: Drop, event: DropEvent, law: DropLaw) -> Drop | None:
    rests = event in {DropEvent.RESTS_INSIDE, DropEvent.RESTS_OUTSIDE}
    return drop if rests else _wrong_at_rest(drop, event, law)


def _to_place(drop: Drop, event: DropEvent, law: DropLaw) -> Drop | None:
    match event:
        case DropEvent.PLACED_STAYS:
            return _to(drop, Stage.IN_PLAY)
        case DropEvent.PLACED_MOVES:
            again = drop.stage is Stage.TO_PLACE and law.tries_on_spot > 1
            return _to(drop, Stage.TO_PLACE_AGAIN if again else Stage.TO_PLACE_ELSEWHERE)
        case DropEvent.THIRD_DROP if law.third_drop_elsewhere is not None and drop.stage is Stage.TO_PLACE:
            return _to(drop, Stage.DROPPED_INSTEAD)
        case DropEvent.STROKE:
            return _stroke(drop, law)
    return None


def _dropped_instead(drop: Drop, event: DropEvent, law: DropLaw) -> Drop | None:
    """Dropped where it had to be placed: nothing that the ball does puts that right."""
    match event:
        case DropEvent.CORRECTED:
            return _corrected(drop, Stage.TO_PLACE, law)
        case DropEvent.RESTS_ON_REQUIRED_SPOT if drop.stage is Stage.DROPPED_INSTEAD:
            return _to(drop, Stage.DROPPED_ON_SPOT)
        case DropEvent.STROKE:
            return _stroke(drop, law)
    return drop if event in _WHERE_IT_WENT and drop.stage is Stage.DROPPED_INSTEAD else None


def _in_play(drop: Drop, event: DropEvent, law: DropLaw) -> Drop | None:
    match event:
        case DropEvent.STROKE:
            return _stroke(drop, law)
        case DropEvent.CORRECTED if drop.has_wrong_ball:
            return _corrected(drop, Stage.TO_DROP, law)
        case DropEvent.MOVED_BY_NATURE_WITHIN_AREA:
            return _to(drop, Stage.MOVED_IN_PLAY)
        case DropEvent.MOVED_BY_NATURE_TO_ANOTHER_AREA:
            return _to(drop, Stage.TO_REPLACE if law.moved_away_is_replaced else Stage.MOVED_AWAY)
    return None


def _to_replace(drop: Drop, event: DropEvent, law: DropLaw) -> Drop | None:
    match event:
        case DropEvent.REPLACED:
            return _to(drop, Stage.IN_PLAY)
        case DropEvent.REPLACED_WITH_EQUIPMENT if law.equipment_may_replace:
            return _to(drop, Stage.IN_PLAY)
        case DropEvent.STROKE:
            return _stroke(drop, law)
    return None


def _played(drop: Drop, event: DropEvent, law: DropLaw) -> Drop | None:
    return None


_STEPS = {
    Stage.TO_DROP: _to_drop,
    Stage.FALLING: _falling,
    Stage.ROLLING: _rolling,
    Stage.WRONG_WAY: _wrong_way,
    Stage.WRONG_WAY_INSIDE: _wrong_at_rest,
    Stage.WRONG_WAY_OUTSIDE: _wrong_at_rest,
    Stage.WRONG_PLACE: _wrong_wherever_it_rests,
    Stage.BESIDE_LINE: _wrong_wherever_it_rests,
    Stage.PLACED_INSTEAD: _wrong_wherever_it_rests,
    Stage.TO_PLACE: _to_place,
    Stage.TO_PLACE_AGAIN: _to_place,
    Stage.TO_PLACE_ELSEWHERE: _to_place,
    Stage.DROPPED_INSTEAD: _dropped_instead,
    Stage.DROPPED_ON_SPOT: _dropped_instead,
    Stage.IN_PLAY: _in_play,
    Stage.MOVED_IN_PLAY: _in_play,
    Stage.MOVED_AWAY: _in_play,
    Stage.TO_REPLACE: _to_replace,
    Stage.PLAYED: _played,
}
