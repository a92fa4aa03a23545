"""Words on dropping and on where a stroke was made that logic compares."""

from __future__ import annotations

from enum import StrEnum


class PreviousSpot(StrEnum):
    """How a ball is put in play where the previous stroke was made."""

    ANYWHERE_IN_TEEING_AREA = "anywhere-in-teeing-area"
    PLACE_ON_SPOT = "place-on-spot"
    DROP_NEAR_SPOT = "drop-near-spot"
    DROP_IN_RELIEF_AREA = "drop-in-relief-area"


class RedropCase(StrEnum):
    """Where a ball dropped in the right way comes to rest that is dropped again."""

    INTO_HAZARD = "into-hazard"
    OUT_OF_HAZARD = "out-of-hazard"
    ONTO_GREEN = "onto-green"
    OUT_OF_BOUNDS = "out-of-bounds"
    BACK_INTO_INTERFERENCE = "back-into-interference"
    BEYOND_ROLL_LIMIT = "beyond-roll-limit"
    NEARER_THAN_ORIGINAL = "nearer-than-original"
    NEARER_THAN_RELIEF_POINT = "nearer-than-relief-point"
    NEARER_THAN_MARGIN_CROSSING = "nearer-than-margin-crossing"
    OUTSIDE_RELIEF_AREA = "outside-relief-area"


class DropsEnd(StrEnum):
    """When drops are over and the ball is placed."""

    DROPS_USED_UP = "drops-used-up"
    PLAIN_THAT_BALL_WILL_NOT_STAY = "plain-that-ball-will-not-stay"


class TouchedElsewhere(StrEnum):
    """What a dropped ball is that first touches other ground than it must."""

    WRONG_PLACE = "wrong-place"
    WRONG_WAY = "wrong-way"


class WithoutChance(StrEnum):
    """What becomes of a ball stopped on purpose that had no chance to rest in the relief area."""

    DROP_AGAIN_NOT_COUNTED = "drop-again-not-counted"
    AS_IF_IT_RESTED_OUTSIDE = "as-if-it-rested-outside"


class MovedAway(StrEnum):
    """What becomes of a ball that moves to another area after it came to rest."""

    AS_IT_LIES = "as-it-lies"
    REPLACED = "replaced"


class LineTouched(StrEnum):
    """What a ball dropped back on the line must first touch."""

    LINE = "line"
    STRIP_ABOUT_LINE = "strip-about-line"
    DISC_AT_CHOSEN_POINT = "disc-at-chosen-point"
