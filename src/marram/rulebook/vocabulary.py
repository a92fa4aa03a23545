"""Words of the rule data that logic compares: each closed list that decides something is an enum, and the two are held equal at reading."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from enum import StrEnum

from marram.core.terms import Area, FeatureKind, Mark
from marram.rulebook.drop_words import DropsEnd, LineTouched, MovedAway, PreviousSpot, RedropCase, TouchedElsewhere, WithoutChance
from marram.rulebook.form_of_play_words import ClubsAs, Counts, DelayAs, LateAs, NotHoledOut, TakesAfter
from marram.rulebook.handicap_words import HANDICAP_WORDS
from marram.rulebook.values import PartSpec


class LiesOn(StrEnum):
    """What ground a relief is given on."""

    ANYWHERE = "anywhere"
    FAIRWAY_HEIGHT = "fairway-height"


class FollowFrom(StrEnum):
    """Where the ball is taken to be for the reliefs that another one is carried out by."""

    BALL_SPOT = "ball-spot"
    CROSSING_OF_CONDITION = "crossing-of-condition"
    PENALTY_AREA_PLAYED_FROM = "penalty-area-played-from"
    TAKEN_TO_BE_IN_PENALTY_AREA = "taken-to-be-in-penalty-area"


class ToldAs(StrEnum):
    """Under which name a relief is told that is carried out by others."""

    THIS_ROW = "this-row"
    FOLLOWED_ROW = "followed-row"


class MeasuredFrom(StrEnum):
    """The point that a relief is measured from."""

    NONE = "none"
    CROSSING_POINT = "crossing-point"
    STATED_CROSSING = "stated-crossing"
    BALL_SPOT = "ball-spot"
    SPOT_BEHIND_BALL = "spot-behind-ball"
    ESTIMATED_SPOT = "estimated-spot"
    OPPOSITE_EDGE = "opposite-edge"
    PREVIOUS_STROKE = "previous-stroke"
    LAST_STROKE_OUTSIDE = "last-stroke-outside"
    NEAREST_POINT_OF_COMPLETE_RELIEF = "nearest-point-of-complete-relief"
    EQUAL_ARC_POINT = "equal-arc-point"
    POINT_ON_LINE = "point-on-line"


class FailingThat(StrEnum):
    """What is taken where there is no point of complete relief."""

    NOTHING = "nothing"
    MOST_RELIEF_WITH_AREA = "most-relief-with-area"
    MOST_RELIEF_ON_SPOT = "most-relief-on-spot"


class LineFrom(StrEnum):
    """The point that a line from the hole goes through."""

    NONE = "none"
    CROSSING_POINT = "crossing-point"
    BALL_SPOT = "ball-spot"
    CROSSING_OR_BALL = "crossing-or-ball"


class ReliefShape(StrEnum):
    """What form a relief area has."""

    NONE = "none"
    DISC = "disc"
    DISC_AT_CHOSEN_POINT = "disc-at-chosen-point"
    DISC_AT_FIRST_TOUCH = "disc-at-first-touch"
    STRIP = "strip"
    LINE = "line"
    SPOT = "spot"
    NEAR_SPOT = "near-spot"
    PREVIOUS_SPOT = "previous-spot"
    TEEING_AREA = "teeing-area"
    DROPPING_ZONE = "dropping-zone"
    BAND_TO_FAIRWAY = "band-to-fairway"


class NoNearerThan(StrEnum):
    """What the ball may not come nearer the hole than."""

    REFERENCE_POINT = "reference-point"
    CROSSING_POINT = "crossing-point"
    BALL_SPOT = "ball-spot"
    NOTHING = "nothing"


class KeepsTo(StrEnum):
    """Which ground a relief area keeps to."""

    ANYWHERE = "anywhere"
    AREA_OF_REFERENCE = "area-of-reference"
    AREA_OF_BALL = "area-of-ball"
    SAME_BUNKER = "same-bunker"
    SAME_PENALTY_AREA = "same-penalty-area"


class Leaves(StrEnum):
    """Which ground a relief area leaves."""

    NOTHING = "nothing"
    SAME_PENALTY_AREA = "same-penalty-area"
    SAME_BUNKER = "same-bunker"


class ClearOf(StrEnum):
    """What a condition may no longer interfere with."""

    LIE = "lie"
    STANCE = "stance"
    SWING = "swing"
    LINE_OF_PLAY = "line-of-play"
    LINE_OF_PLAY_ON_GREEN = "line-of-play-on-green"


class Put(StrEnum):
    """How the ball comes into play."""

    DROP = "drop"
    PLACE = "place"
    REPLACE = "replace"
    PLAY = "play"
    AS_IT_LIES = "as-it-lies"


class WhichBall(StrEnum):
    """Which ball is used."""

    ANY = "any"
    ORIGINAL = "original"
    ORIGINAL_IF_RECOVERABLE = "original-if-recoverable"


class BearsPenalty(StrEnum):
    """Who bears a penalty in a form of play."""

    PLAYER = "player"
    SIDE = "side"
    PARTNER_WHO_DID = "partner-who-did"


class MayBeMoved(StrEnum):
    """Where a thing may be moved."""

    ANYWHERE = "anywhere"
    NOWHERE = "nowhere"
    AS_THE_ACT_SAYS = "as-the-act-says"
    NOT_IN_QUESTION = "not-in-question"


class OnTeeingArea(StrEnum):
    """Where a thing may be moved with the ball in the teeing area."""

    AS_ELSEWHERE = "as-elsewhere"
    ANYWHERE = "anywhere"
    AS_THE_ACT_SAYS = "as-the-act-says"


class Several(StrEnum):
    """How several breaches are counted."""

    HIGHEST = "highest"
    EACH = "each"


RELIEF, FORM, MOVING, CAUTION, SITUATION, THING = "relief procedure", "form of play", "moving", "caution", "situation", "thing"
"""Forms of rows (`forms.toml`) whose words decide."""
WORDS: Mapping[tuple[str, str], type[StrEnum]] = {
    (RELIEF, "lies_on"): LiesOn,
    (RELIEF, "follow_from"): FollowFrom,
    (RELIEF, "told_as"): ToldAs,
    (RELIEF, "reference"): MeasuredFrom,
    (RELIEF, "failing_that"): FailingThat,
    (RELIEF, "line_from"): LineFrom,
    (RELIEF, "shape"): ReliefShape,
    (RELIEF, "no_nearer_than"): NoNearerThan,
    (RELIEF, "keeps_to"): KeepsTo,
    (RELIEF, "leaves"): Leaves,
    (RELIEF, "clear_of"): ClearOf,
    (RELIEF, "put"): Put,
    (RELIEF, "which"): WhichBall,
    (FORM, "counts"): Counts,
    (FORM, "takes_after"): TakesAfter,
    (FORM, "bears_penalty"): BearsPenalty,
    (FORM, "not_holed_out"): NotHoledOut,
    (FORM, "clubs_as"): ClubsAs,
    (FORM, "late_as"): LateAs,
    (FORM, "delay_as"): DelayAs,
    (MOVING, "allowed"): MayBeMoved,
    (MOVING, "allowed_on_teeing_area"): OnTeeingArea,
    ("stroke-and-distance-spot", "from_teeing_area"): PreviousSpot,
    ("stroke-and-distance-spot", "from_putting_green"): PreviousSpot,
    ("stroke-and-distance-spot", "elsewhere"): PreviousSpot,
    ("redrop-cases", "cases"): RedropCase,
    ("drops-before-placing", "ends_when"): DropsEnd,
    ("drop-first-touch", "otherwise"): TouchedElsewhere,
    ("drop-stopped-on-purpose", "without_chance"): WithoutChance,
    ("ball-moves-after-rest", "to_another_area"): MovedAway,
    ("back-on-line-drop", "first_touch"): LineTouched,
    ("several-breaches", "one_act"): Several,
    ("several-breaches", "related"): Several,
    ("several-breaches", "apart_without_event"): Several,
    ("several-breaches", "apart_after_event"): Several,
}
"""Form or row, and part, with the enum that its closed list must be."""
NOT_FOUND = "not-found"
"""Where the ball is that nobody has found."""
WRONG_GREEN = "wrong-green"
"""A condition that is no feature of its own: any green but that of the hole."""
THE_SAME, IF = "the-same", "if_"
"""A fact that leaves a thing what it usually is, and how the parts of a thing begin that say what a fact makes of it."""
WORDS_OF_GROUND: Mapping[tuple[str, str], Collection[str]] = {
    (RELIEF, "ball_in"): (*Area, NOT_FOUND),
    (RELIEF, "in_areas"): tuple(Area),
    (RELIEF, "marks"): tuple(Mark),
    (CAUTION, "kinds"): tuple(FeatureKind),
    (SITUATION, "conditions"): (*FeatureKind, WRONG_GREEN),
}
"""Form and part, with the words of the ground that its closed list takes from."""


def faults_of_words(stated: Mapping[str, Mapping[str, PartSpec]]) -> Iterator[tuple[str, str]]:
    """Closed lists that are not the words which logic knows: the part, and what is wrong.

    Args:
        stated: The parts of each form and row that is there.
    """
    for (name, part), known in (*WORDS.items(), *HANDICAP_WORDS.items()):
        spec = stated.get(name, {}).get(part)
        if spec is None:
            continue
        yield from _not_among(f"{name}.{part}", spec.words, list(known))
        for word in known:
            if word not in spec.words:
                yield f"{name}.{part}", f"the closed list lacks the word {word.value!r}, which logic knows"
    for (name, part), words in WORDS_OF_GROUND.items():
        spec = stated.get(name, {}).get(part)
        if spec is not None:
            yield from _not_among(f"{name}.{part}", spec.words, words)
    yield from _faults_of_kinds(stated.get(THING, {}))


def _faults_of_kinds(parts: Mapping[str, PartSpec]) -> Iterator[tuple[str, str]]:
    """What a fact makes of a thing is a kind of thing, or the same as without it."""
    for part, spec in parts.items():
        if part.startswith(IF):
            yield from _not_among(f"{THING}.{part}", spec.words, (THE_SAME, *parts["kind"].words))
            if THE_SAME not in spec.words:
                yield f"{THING}.{part}", f"the closed list lacks the word {THE_SAME!r}, which logic knows"


def _not_among(place: str, words: Iterable[str], known: Collection[str]) -> Iterator[tuple[str, str]]:
    for word in words:
        if word not in known:
            yield place, f"no logic knows the word {word!r}; it knows {', '.join(known)}"
