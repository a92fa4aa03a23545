"""Words of forms of play that logic compares: whose column they read, what an unfinished hole is, and how they charge what they charge."""

from __future__ import annotations

from enum import StrEnum


class TakesAfter(StrEnum):
    """Whose column of what an act leads to a form of play reads."""

    STROKE_PLAY = "stroke-play"
    MATCH_PLAY = "match-play"
    FORM_THAT_IS_PLAYED = "form-that-is-played"


class Counts(StrEnum):
    """What a form of play counts."""

    STROKES = "strokes"
    HOLES = "holes"
    POINTS = "points"
    HOLES_AGAINST_TARGET = "holes-against-target"


class NotHoledOut(StrEnum):
    """What becomes of a hole that is not finished."""

    DISQUALIFIED_UNLESS_PUT_RIGHT = "disqualified-unless-put-right"
    HOLE_LOST = "hole-lost"
    NO_POINTS = "no-points"
    MAXIMUM = "maximum"
    PARTNERS_SCORE_COUNTS = "partners-score-counts"


class ClubsAs(StrEnum):
    """How too many clubs are charged."""

    STROKES_ON_HOLES = "strokes-on-holes"
    POINTS_OFF_ROUND = "points-off-round"
    HOLES_OFF_RESULT = "holes-off-result"
    HOLES_OFF_MATCH = "holes-off-match"


class LateAs(StrEnum):
    """How a start a little late, or early, is charged."""

    STROKES_ON_FIRST_HOLE = "strokes-on-first-hole"
    POINTS_OFF_ROUND = "points-off-round"
    HOLES_OFF_RESULT = "holes-off-result"
    LOSS_OF_FIRST_HOLE = "loss-of-first-hole"


class DelayAs(StrEnum):
    """How unreasonable delay is charged."""

    STROKES_ON_HOLE = "strokes-on-hole"
    POINTS_OFF_ROUND = "points-off-round"
    HOLES_OFF_RESULT = "holes-off-result"
    AS_THE_ACT_SAYS = "as-the-act-says"


OFF_THE_SCORE: frozenset[str] = frozenset(
    {
        *(ClubsAs.POINTS_OFF_ROUND, ClubsAs.HOLES_OFF_RESULT),
        *(LateAs.POINTS_OFF_ROUND, LateAs.HOLES_OFF_RESULT),
        *(DelayAs.POINTS_OFF_ROUND, DelayAs.HOLES_OFF_RESULT),
    }
)
"""Charges in points or holes that a form of play takes off the score, in place of strokes."""
