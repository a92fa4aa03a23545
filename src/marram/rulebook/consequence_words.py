"""Words of a consequence: what becomes of hole, stroke and ball, who bears it, and who is out."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum


class HoleIs(StrEnum):
    """What becomes of the hole in a match."""

    NOTHING = ""
    LOST = "lost"
    FIRST_LOST = "first-lost"
    NEXT_LOST = "next-lost"
    WON = "won"


class BorneBy(StrEnum):
    """Who bears a penalty in a match."""

    PLAYER = "player"
    OPPONENT = "opponent"


class StrokeIs(StrEnum):
    """What becomes of the stroke."""

    COUNTS = "counts"
    CANCELLED = "cancelled"
    REPLAY = "replay"
    NOT_MADE = "not-made"


class BallIs(StrEnum):
    """What becomes of the ball."""

    NONE = "none"
    AS_IT_LIES = "as-it-lies"
    AS_IT_LIES_NEW_SPOT = "as-it-lies-new-spot"
    REPLACED = "replaced"
    OTHER_REPLACED = "other-replaced"
    NEW_BALL_IN_PLAY = "new-ball-in-play"
    PLAYED_OUT = "played-out"
    HOLED = "holed"
    BOTH_PLAYED = "both-played"
    TEED_AGAIN = "teed-again"
    ANYWHERE_IN_TEEING_AREA = "anywhere-in-teeing-area"
    WRONG_BALL_CORRECTED = "wrong-ball-corrected"
    CORRECTED = "corrected"
    PROVISIONAL = "provisional"
    PROVISIONAL_IN_PLAY = "provisional-in-play"
    ESTIMATED_PLACE = "estimated-place"
    PLACED_ON_LIP = "placed-on-lip"
    PLACED_ON_SIMILAR_SPOT = "placed-on-similar-spot"
    WHERE_STOPPED = "where-stopped"
    DROPPED_UNDER_THE_PLACE = "dropped-under-the-place"
    FIRST_BALL_COUNTS = "first-ball-counts"
    STROKE_AND_DISTANCE = "stroke-and-distance"


class PutRight(StrEnum):
    """Until when it can, or must, be put right."""

    NOTHING = ""
    BEFORE_THE_STROKE = "before-the-stroke"
    BEFORE_THE_NEXT_TEE = "before-the-next-tee"
    BEFORE_THE_CARD = "before-the-card"


class Out(StrEnum):
    """Whether the player is disqualified: not, in each form of play, in one only, from a net event, or as the Committee decides."""

    NOT = ""
    ALWAYS = "always"
    STROKE_PLAY = "stroke-play"
    MATCH_PLAY = "match-play"
    NET_EVENT = "net-event"
    COMMITTEE_MAY = "committee-may"


class Added(StrEnum):
    """What comes on top of the strokes of the case itself."""

    NOTHING = ""
    PENALTY_LEFT_OUT = "penalty-left-out"
    HIGHEST_OF_THE_BREACHES = "highest-of-the-breaches"
    EACH_OF_THE_BREACHES = "each-of-the-breaches"


class OnlyIn(StrEnum):
    """The form of play in which a case can happen at all."""

    BOTH = ""
    STROKE_PLAY = "stroke-play"
    MATCH_PLAY = "match-play"


OUT_OF_STROKE_PLAY = frozenset({Out.ALWAYS, Out.STROKE_PLAY})
OUT_OF_MATCH_PLAY = frozenset({Out.ALWAYS, Out.MATCH_PLAY})
HOLE_IS_OVER = frozenset({HoleIs.LOST, HoleIs.WON})
HOLE_IS_LOST = frozenset({HoleIs.LOST, HoleIs.FIRST_LOST, HoleIs.NEXT_LOST})
OF_THE_BREACHES = frozenset({Added.HIGHEST_OF_THE_BREACHES, Added.EACH_OF_THE_BREACHES})

STROKE_COUNTS = "the stroke counts"
STROKE_WORDS: Mapping[StrokeIs, str] = {
    StrokeIs.COUNTS: STROKE_COUNTS,
    StrokeIs.CANCELLED: "the stroke does not count",
    StrokeIs.REPLAY: "the stroke is cancelled and played again",
    StrokeIs.NOT_MADE: "no stroke was made",
}
HOLE_WORDS: Mapping[HoleIs, str] = {
    HoleIs.NOTHING: "",
    HoleIs.LOST: "loss of hole",
    HoleIs.FIRST_LOST: "loss of the first hole",
    HoleIs.NEXT_LOST: "loss of the next hole",
    HoleIs.WON: "the hole is won",
}
ADDED_WORDS: Mapping[Added, str] = {
    Added.NOTHING: "",
    Added.PENALTY_LEFT_OUT: "the penalty that was left out",
    Added.HIGHEST_OF_THE_BREACHES: "the highest penalty of the breaches, once",
    Added.EACH_OF_THE_BREACHES: "the penalty of each breach",
}
BALL_WORDS: Mapping[BallIs, str] = {
    BallIs.NONE: "",
    BallIs.AS_IT_LIES: "the ball is played as it lies",
    BallIs.AS_IT_LIES_NEW_SPOT: "the ball is played as it lies from its new spot",
    BallIs.REPLACED: "the ball is replaced",
    BallIs.OTHER_REPLACED: "the other ball is replaced",
    BallIs.NEW_BALL_IN_PLAY: "the new ball is in play",
    BallIs.PLAYED_OUT: "the hole is played out with that ball",
    BallIs.HOLED: "the ball is holed",
    BallIs.BOTH_PLAYED: "both balls are played out",
    BallIs.TEED_AGAIN: "the ball is teed again",
    BallIs.ANYWHERE_IN_TEEING_AREA: "the ball is played from anywhere in the teeing area, teed or not",
    BallIs.WRONG_BALL_CORRECTED: "the right ball is played",
    BallIs.CORRECTED: "the mistake is put right by playing from the right place",
    BallIs.PROVISIONAL: "the ball is a provisional ball",
    BallIs.PROVISIONAL_IN_PLAY: "the provisional ball is in play",
    BallIs.ESTIMATED_PLACE: "the ball is played from the estimated place",
    BallIs.PLACED_ON_LIP: "the ball is placed on the lip of the hole",
    BallIs.PLACED_ON_SIMILAR_SPOT: "the ball is placed on the nearest spot with the most similar conditions",
    BallIs.WHERE_STOPPED: "the ball is played from where it stopped",
    BallIs.DROPPED_UNDER_THE_PLACE: "the ball is dropped under the place where it was",
    BallIs.FIRST_BALL_COUNTS: "the first ball counts",
    BallIs.STROKE_AND_DISTANCE: "another ball is played from where the previous stroke was made",
}
