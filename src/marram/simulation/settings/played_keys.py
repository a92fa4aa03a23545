"""Which keys of the rule data are played, by which part of the game, and what each part assumes; every other key is not played."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from marram.simulation.settings.played_settings import (
    DROP_HEIGHT,
    DROPS,
    FLAGSTICK,
    LATERAL_SIZE,
    MAXIMUM_SET_AS,
    OUT_OF_TURN,
    OVERHANGING_WAIT,
    REPAIR,
    RESTS_INSIDE,
    ROLL_LIMIT,
    SEARCH_LIMIT,
    SMALL_SIZE,
    STOPS_AT_MAXIMUM,
)

COMMON = ("stage_times_pct", "stage_spread_pct", "group_spread_pct")
"""What every figure of a day rests on."""
_DROPS_REST_ON = ("drop_slope_deg", "drop_again_s", "place_s", "longest_club_m", "lateral_reliefs", "small_reliefs")
_HEIGHTS_REST_ON = ("knee_m", "shoulder_m", "any_height_m", *_DROPS_REST_ON)
_DROPS_SHOW = ("relief_s", "drops_per_relief", "placed")
_DROPS_ASSUME = "balls bounce and roll by a model that no field has tried, touch first anywhere in the area alike, and slopes run any way"


class HowPlayed(StrEnum):
    """Whether a change is played."""

    PLAYED = "played"
    BY_ASSUMPTION = "played by an assumption"
    NOT_PLAYED = "not played"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayedKey:
    """A key that is played.

    Attributes:
        key: The key.
        what: What of the game it changes, in a few words.
        shows: Outcomes besides the round that it moves.
        rests_on: Names of the assumed values that its effect rests on.
        assuming: What is taken for granted besides; empty where the rule itself is played.
    """

    key: str
    what: str
    shows: tuple[str, ...]
    rests_on: tuple[str, ...]
    assuming: str = ""

    @property
    def how(self) -> HowPlayed:
        """How it is played."""
        return HowPlayed.BY_ASSUMPTION if self.assuming else HowPlayed.PLAYED


_ALL = (
    PlayedKey(
        key=SEARCH_LIMIT,
        what="how long is searched, and how often a ball is lost",
        shows=("search_s", "ball_found"),
        rests_on=("searches_pct", "findable_pct", "found_each_min", "provisional_pct", "going_back_min"),
    ),
    PlayedKey(
        key=DROP_HEIGHT,
        what="how far a dropped ball rolls, so how often it is dropped again or placed",
        shows=_DROPS_SHOW,
        rests_on=_HEIGHTS_REST_ON,
        assuming=_DROPS_ASSUME,
    ),
    *(
        PlayedKey(
            key=key,
            what="how often a ball is dropped again or placed",
            shows=_DROPS_SHOW,
            rests_on=_DROPS_REST_ON,
            assuming=_DROPS_ASSUME,
        )
        for key in (DROPS, ROLL_LIMIT, RESTS_INSIDE, LATERAL_SIZE, SMALL_SIZE)
    ),
    PlayedKey(
        key=OVERHANGING_WAIT,
        what="how long a player waits at the hole",
        shows=(),
        rests_on=("overhanging_balls",),
        assuming="whoever waits for a ball that overhangs the hole waits for the whole time",
    ),
    PlayedKey(
        key=FLAGSTICK,
        what="the time of having the flagstick attended or taken out",
        shows=(),
        rests_on=("flagstick_s",),
        assuming="where the flagstick may stay in the hole nobody has it taken out, and no putt is holed or missed for it",
    ),
    PlayedKey(
        key=REPAIR,
        what="the time of repairs on the green",
        shows=(),
        rests_on=("repair_s", "repairs_pct"),
        assuming="damage is repaired so often where it may be, and never where it may not",
    ),
    PlayedKey(
        key=OUT_OF_TURN,
        what="the time of each stroke",
        shows=(),
        rests_on=("ready_stroke_s",),
        assuming="players who are encouraged to play out of turn do so at every stroke",
    ),
    *(
        PlayedKey(
            key=key,
            what="the time of holes that are not finished",
            shows=("stopped_at_maximum",),
            rests_on=("stopped_hole_s",),
            assuming="players stop on the share of holes that was stated",
        )
        for key in (STOPS_AT_MAXIMUM, MAXIMUM_SET_AS)
    ),
)
NOT_MODELLED = (
    "strokes, scores and penalty strokes: no stroke is played, so nobody plays better or worse for a change",
    "rulings, disputes and what players think of a change",
    "lengths, slopes and hazards of the holes: stage times come from a table by par, and walks between holes from the survey",
    "weather, set-up of the course and the habits of your players, but for the spread between days that you state",
    "learning: players know the proposed rules as well as the present ones",
)
"""What no part of the forecast plays."""


def played_key(key: str) -> PlayedKey | None:
    """How a key is played; None where no part of the game reads it."""
    return next((one for one in _ALL if one.key == key), None)
