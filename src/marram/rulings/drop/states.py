"""The drop under way: how far it has come, what may happen, and what a book makes of each event.

What each edition makes of an event is given as plain values (`DropLaw`); the steps from one stage to the next stand in `drop_steps`.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from marram.rulebook.consequences import Consequence


class Stage(StrEnum):
    """How far a drop has come."""

    TO_DROP = "to-drop"
    FALLING = "falling"
    ROLLING = "rolling"
    WRONG_WAY = "wrong-way"
    WRONG_WAY_INSIDE = "wrong-way-inside"
    WRONG_WAY_OUTSIDE = "wrong-way-outside"
    WRONG_PLACE = "wrong-place"
    BESIDE_LINE = "beside-line"
    PLACED_INSTEAD = "placed-instead"
    TO_PLACE = "to-place"
    TO_PLACE_AGAIN = "to-place-again"
    TO_PLACE_ELSEWHERE = "to-place-elsewhere"
    DROPPED_INSTEAD = "dropped-instead"
    DROPPED_ON_SPOT = "dropped-on-spot"
    IN_PLAY = "in-play"
    MOVED_IN_PLAY = "moved-in-play"
    MOVED_AWAY = "moved-away"
    TO_REPLACE = "to-replace"
    PLAYED = "played"


class DropEvent(StrEnum):
    """What may happen."""

    RIGHT_WAY = "right-way"
    WRONG_WAY = "wrong-way"
    DROPPED_BY_PARTNER = "dropped-by-partner"
    DROPPED_BY_AUTHORISED = "dropped-by-authorised"
    DROPPED_BY_ANOTHER = "dropped-by-another"
    OTHER_BALL = "other-ball"
    OTHER_BALL_OUT_OF_REACH = "other-ball-out-of-reach"
    OTHER_OPTION = "other-option"
    OTHER_SPOT_ON_LINE = "other-spot-on-line"
    PLACED_INSTEAD = "placed-instead"
    TOUCHED_PERSON_BEFORE_GROUND = "touched-person-before-ground"
    FIRST_TOUCH_INSIDE = "first-touch-inside"
    FIRST_TOUCH_OUTSIDE = "first-touch-outside"
    FIRST_TOUCH_BESIDE_LINE = "first-touch-beside-line"
    TOUCHED_PERSON_AFTER_GROUND = "touched-person-after-ground"
    STOPPED_ON_PURPOSE = "stopped-on-purpose"
    STOPPED_BY_ANOTHER = "stopped-by-another"
    STOPPED_WITHOUT_CHANCE = "stopped-without-chance"
    RESTS_INSIDE = "rests-inside"
    RESTS_OUTSIDE = "rests-outside"
    RESTS_ON_REQUIRED_SPOT = "rests-on-required-spot"
    NONE_WILL_STAY = "none-will-stay"
    THIRD_DROP = "third-drop"
    CORRECTED = "corrected"
    PLACED_STAYS = "placed-stays"
    PLACED_MOVES = "placed-moves"
    MOVED_BY_NATURE_WITHIN_AREA = "moved-by-nature-within-area"
    MOVED_BY_NATURE_TO_ANOTHER_AREA = "moved-by-nature-to-another-area"
    REPLACED = "replaced"
    REPLACED_WITH_EQUIPMENT = "replaced-with-equipment"
    STROKE = "stroke"


class Touch(StrEnum):
    """What becomes of a drop for touching a person or equipment."""

    JUDGED_BY_REST = "judged-by-rest"
    AGAIN = "drop-again-not-counted"
    WRONG_WAY = "wrong-way"


class BesideLine(StrEnum):
    """What a drop is that first touches beside the line, but near it, in back-on-the-line relief."""

    GOOD = "good"
    WRONG_PLACE = "wrong-place"
    WRONG_WAY = "wrong-way"


class LastDrop(StrEnum):
    """What the drop was after which the ball has to be dropped again; it says what playing it from where it lies costs."""

    NONE = "none"
    COUNTED = "counted"
    NOT_COUNTED = "not-counted"
    WRONG_WAY = "wrong-way"


class Ball(StrEnum):
    """Which ball may be dropped."""

    ANY = "any"
    ORIGINAL = "original"
    ORIGINAL_IF_RECOVERABLE = "original-if-recoverable"
    DEPENDS_ON_RELIEF = "depends-on-relief"


@dataclass(frozen=True, slots=True, kw_only=True)
class DropLaw:
    """What a book makes of each event. A penalty is None where the book, or the source seen, says nothing of it.

    Attributes:
        drops: How many drops that count are tried before the ball is placed; None where they are not counted.
        partner_may_drop: Whether a partner may drop for the side; None where the source says nothing.
        authorised_may_drop: Whether a person authorised by a player with a disability may.
        ball: Which ball may be dropped.
        other_ball_for_one_out_of_reach: Whether another ball may be used for the next drop where the dropped one is out of reach.
        wrong_ball: The penalty for playing a ball that may not be put in.
        other_option_after_wrong_place: Whether another option of the Rule may be taken after a drop in a wrong place.
        other_spot_on_line: Whether another spot on the line may be chosen for the second drop.
        person_before_ground: What a touch of a person before the ground makes of the drop.
        person_after_ground: The same after the ground.
        first_touch_outside_is_wrong_place: Whether first touching other ground makes a wrong place of it, and not a wrong way.
        is_on_line: Whether the relief may be one on the line from the hole.
        beside_line: What a drop is that first touches beside the line, but near it.
        beside_line_played: The penalty for playing one that is not good.
        stopped_is_dropped_again: Whether a ball stopped on purpose is dropped again, not counted; else it lies where it was stopped.
        stopping: The penalty where the player or caddie stopped it.
        without_chance_counts: Whether a ball stopped without a chance of resting right is taken to have rested outside.
        wrong_way_inside: The penalty for playing a wrong drop from the right ground.
        wrong_way_outside: The same from other ground.
        wrong_place: The penalty for playing from a wrong place, or what must be dropped, placed or replaced again.
        placed_instead: The penalty for playing a ball placed that had to be dropped.
        third_drop_on_spot: The penalty for playing a ball dropped that had to be placed, from the very spot.
        third_drop_elsewhere: The same from anywhere else.
        correcting_strokes: Penalty strokes for putting an error right before the stroke.
        tries_on_spot: How often a placed ball is put on its spot before another is taken.
        moved_away_is_replaced: Whether a ball in play that nature moves to another area is replaced.
        equipment_may_replace: Whether a player with a disability may replace the ball with a piece of equipment.
    """

    drops: int | None
    partner_may_drop: bool | None
    authorised_may_drop: bool
    ball: Ball
    other_ball_for_one_out_of_reach: bool
    wrong_ball: Consequence
    other_option_after_wrong_place: bool
    other_spot_on_line: bool
    person_before_ground: Touch
    person_after_ground: Touch
    first_touch_outside_is_wrong_place: bool
    is_on_line: bool
    beside_line: BesideLine
    beside_line_played: Consequence | None
    stopped_is_dropped_again: bool
    stopping: Consequence | None
    without_chance_counts: bool | None
    wrong_way_inside: Consequence
    wrong_way_outside: Consequence | None
    wrong_place: Consequence
    placed_instead: Consequence
    third_drop_on_spot: Consequence | None
    third_drop_elsewhere: Consequence | None
    correcting_strokes: int
    tries_on_spot: int
    moved_away_is_replaced: bool
    equipment_may_replace: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Drop:
    """A drop under way.

    Attributes:
        stage: How far it has come.
        counted: Drops that have counted, the one that came to rest where it must among them.
        penalty_strokes: Penalty strokes so far in stroke play, those of the relief itself not among them.
        match_strokes: The same in match play.
        loses_hole: Whether the hole is lost in match play.
        last: What the last drop was, while the ball lies where it must be dropped again from.
        has_wrong_ball: Whether the ball may not be put in for this relief.
    """

    stage: Stage = Stage.TO_DROP
    counted: int = 0
    penalty_strokes: int = 0
    match_strokes: int = 0
    loses_hole: bool = False
    last: LastDrop = LastDrop.NONE
    has_wrong_ball: bool = False
