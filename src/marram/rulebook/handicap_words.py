"""Words of the Rules of Handicapping that logic compares: how an Index becomes strokes, and how scores become an Index."""

from __future__ import annotations

from enum import StrEnum


class HalfIndex(StrEnum):
    """What half an Index is for nine holes."""

    KEPT = "kept"
    ROUNDED_TO_A_TENTH = "rounded-to-a-tenth"


class TakenFrom(StrEnum):
    """What an allowance is taken from."""

    UNROUNDED_COURSE_HANDICAP = "unrounded-course-handicap"
    ROUNDED_COURSE_HANDICAP = "rounded-course-handicap"


class TeesDifferBy(StrEnum):
    """What of two sets of tees is levelled where totals are compared."""

    PAR = "par"
    COURSE_RATING = "course-rating"


class PlusGivesFrom(StrEnum):
    """Where a plus handicap gives its first stroke."""

    HIGHEST_INDEX = "highest-index"
    LOWEST_INDEX = "lowest-index"


class Shared(StrEnum):
    """Whose Playing Handicap an allowance gives."""

    EACH_PLAYER = "each-player"
    SIDE = "side"


class Takes(StrEnum):
    """What is received of a Playing Handicap."""

    FULL = "full"
    OFF_LOWEST = "off-lowest"


class FilledBy(StrEnum):
    """What stands for holes that were not played."""

    NET_PAR = "net-par"
    EXPECTED_DIFFERENTIAL = "expected-differential"


class NineHolesBy(StrEnum):
    """What makes a score of nine holes one of 18."""

    TWO_NINES = "two-nines"
    EXPECTED_DIFFERENTIAL = "expected-differential"


class ScoreNeeds(StrEnum):
    """What must hold of a round for its score to count for handicap."""

    AUTHORIZED_FORMAT = "authorized-format"
    ENOUGH_HOLES = "enough-holes"
    IN_COMPANY = "in-company"
    BY_THE_RULES_OF_GOLF = "by-the-rules-of-golf"
    RATED_COURSE = "rated-course"
    ACTIVE_SEASON = "active-season"


class Accepted(StrEnum):
    """Whether scores in a format count for handicap."""

    ALWAYS = "always"
    AS_THE_ASSOCIATION_DECIDES = "as-the-association-decides"
    NEVER = "never"


class AfterBreach(StrEnum):
    """What becomes of a score for handicap after a breach."""

    COUNTS = "counts"
    DOES_NOT_COUNT = "does-not-count"
    THE_COMMITTEE_DECIDES = "the-committee-decides"


HANDICAP_WORDS: dict[tuple[str, str], type[StrEnum]] = {
    ("course-handicap-for-nine", "half_index"): HalfIndex,
    ("playing-handicap", "taken_from"): TakenFrom,
    ("playing-handicap", "tees_differ_by"): TeesDifferBy,
    ("strokes-on-holes", "plus_gives_from"): PlusGivesFrom,
    ("allowance", "shared"): Shared,
    ("allowance", "takes"): Takes,
    ("holes-not-played", "filled_by"): FilledBy,
    ("score-differential", "nine_holes_by"): NineHolesBy,
    ("acceptable-score", "needs"): ScoreNeeds,
    ("handicap format", "accepted"): Accepted,
    ("breach for handicap", "after"): AfterBreach,
}
"""Row or form, and part, with the enum that its closed list must be."""
