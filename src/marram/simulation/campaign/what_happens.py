"""What happens on a hole besides ordinary play, under the settings of a book: searches, reliefs, and what is done on the green."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from marram.simulation.assumed.assumptions import Assumptions
from marram.simulation.campaign.drawn_days import DrawnDays
from marram.simulation.campaign.field_of_day import STROKES, FieldOfDay
from marram.simulation.dropped_ball.drop_chances import DropChances, DropRules, drop_chances
from marram.simulation.dropped_ball.ground_met import GroundMet, ground_named
from marram.simulation.settings.played_settings import PlayedSettings

Each = NDArray[np.float64]
"""Of each group and day; shape (groups, days)."""
Counted = Mapping[str, tuple[Each, Each]]
"""Of an outcome its total and what it is counted over, for each group and day."""
_GROUP_OF = 3.0
_S_IN_MIN = 60.0
_DROPPED_ON = "fairway"
_RELIEFS = 2000
LEAST_OF_A_STAGE = 0.25
"""So much of a stage is left at least where time is saved in it (assumption)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rules:
    """Under which rules days are played.

    Attributes:
        settings: What the book lets happen.
        assumed: What is assumed besides.
        stopped_share: Share of holes that players stop at the maximum, where the book encourages it or the terms say so.
        drops: What becomes of drops in the large and in the small area.
    """

    settings: PlayedSettings
    assumed: Assumptions
    stopped_share: float
    drops: tuple[DropChances, DropChances]


def rules_played(settings: PlayedSettings, assumed: Assumptions, *, stopped_share: float, seed: int) -> Rules:
    """The rules of a book with what they make of dropped balls.

    Args:
        settings: What the book lets happen.
        assumed: What is assumed besides.
        stopped_share: Share of holes that players stop at the maximum; 0 where they do not.
        seed: Seed of the drops, the same for all books.
    """
    ground, slope = ground_named(_DROPPED_ON), assumed.value("drop_slope_deg")
    large, small = (_drops(settings.drop_rules(assumed, is_large=is_large), slope, ground, seed) for is_large in (True, False))
    return Rules(settings=settings, assumed=assumed, stopped_share=stopped_share, drops=(large, small))


@lru_cache(maxsize=256)
def _drops(rules: DropRules, slope_deg: float, ground: GroundMet, seed: int) -> DropChances:
    """What becomes of drops, worked out once for equal rules."""
    return drop_chances(rules, slope_deg, ground, reliefs=_RELIEFS, seed=seed)


@dataclass(frozen=True, slots=True, kw_only=True)
class Happened:
    """What happened on a hole, in minutes by where it falls, and counted.

    Attributes:
        after_tee_min: Between the tee shots and the next strokes.
        on_the_way_min: On the way to the green.
        on_green_min: At the green; below nothing where time is saved.
        counted: Outcomes counted.
    """

    after_tee_min: Each
    on_the_way_min: Each
    on_green_min: Each
    counted: Counted


def happens(rules: Rules, field: FieldOfDay, drawn: DrawnDays, place: int) -> Happened:
    """What happens on a hole to every group on every day.

    Args:
        rules: The rules.
        field: Holes and groups.
        drawn: What chance brings.
        place: Place of the hole in the round.
    """
    search_min, searched = _searches(rules, field, drawn, place)
    relief_min, relieved = _reliefs(rules, field, drawn, place)
    green_min, stopped = _greens(rules, field, drawn, place)
    return Happened(
        after_tee_min=search_min, on_the_way_min=relief_min, on_green_min=green_min, counted={**searched, **relieved, **stopped}
    )


def _searches(rules: Rules, field: FieldOfDay, drawn: DrawnDays, place: int) -> tuple[Each, Counted]:
    """Searches after tee shots of par 4s and 5s, and going back where a ball is lost without a provisional ball."""
    occurs, findable, when, provisional = drawn.searches[:, place]
    assumed, limit = rules.assumed, rules.settings.search_limit_min
    share = np.minimum(assumed.share("searches_pct") * field.sizes / _GROUP_OF, 1.0) if field.holes[place].par > 3 else 0.0
    is_searched = occurs < share
    found_after = np.where(findable < assumed.share("findable_pct"), -np.log1p(-when) / assumed.value("found_each_min"), np.inf)
    is_found = found_after <= limit
    search_min = np.where(is_searched, np.minimum(found_after, limit), 0.0)
    goes_back = is_searched & ~is_found & (provisional >= assumed.share("provisional_pct"))
    counts = is_searched.astype(np.float64)
    counted = {"search_s": (search_min * _S_IN_MIN, counts), "ball_found": ((is_searched & is_found).astype(np.float64), counts)}
    return search_min + goes_back * assumed.value("going_back_min"), counted


def _reliefs(rules: Rules, field: FieldOfDay, drawn: DrawnDays, place: int) -> tuple[Each, Counted]:
    """Reliefs in the large and the small area, with drops made again and balls placed."""
    assumed, holes = rules.assumed, len(field.holes)
    taken_s = reliefs = drops = placed = np.zeros(drawn.reliefs.shape[2:])
    for kind, (often, seconds) in enumerate((("lateral_reliefs", "lateral_relief_s"), ("small_reliefs", "small_relief_s"))):
        taken, goes = drawn.reliefs[2 * kind, place], drawn.reliefs[2 * kind + 1, place]
        chances = rules.drops[kind]
        is_taken = (taken < np.minimum(assumed.value(often) * field.sizes / holes, 1.0)).astype(np.float64)
        again = sum(((goes < share).astype(np.float64) for share in chances.repeated), start=np.zeros_like(goes))
        ends_placed = goes < chances.placed
        each_s = assumed.value(seconds) + again * assumed.value("drop_again_s") + ends_placed * assumed.value("place_s")
        taken_s, reliefs = taken_s + is_taken * each_s, reliefs + is_taken
        drops, placed = drops + is_taken * (1 + again), placed + is_taken * ends_placed
    counted = {"relief_s": (taken_s, reliefs), "drops_per_relief": (drops, reliefs), "placed": (placed, reliefs)}
    return taken_s / _S_IN_MIN, counted


def _greens(rules: Rules, field: FieldOfDay, drawn: DrawnDays, place: int) -> tuple[Each, Counted]:
    """The flagstick, repairs, a ball that overhangs the hole, and players who stop at the maximum."""
    assumed, settings, holes = rules.assumed, rules.settings, len(field.holes)
    repairs, overhangs, *stops = drawn.greens[:, place]
    on_green_s = np.full(repairs.shape, 0.0 if settings.flagstick_may_stay else assumed.value("flagstick_s"))
    if settings.repairs_allowed:
        share = np.minimum(assumed.share("repairs_pct") * field.sizes / _GROUP_OF, 1.0)
        on_green_s = on_green_s + (repairs < share) * assumed.value("repair_s")
    waits = overhangs < np.minimum(assumed.value("overhanging_balls") * field.sizes / holes, 1.0)
    on_green_s = on_green_s + waits * settings.overhanging_wait_s
    stopped = sum(
        ((draw < rules.stopped_share) & (field.sizes > player) for player, draw in enumerate(stops)), start=np.zeros_like(repairs)
    )
    players = np.broadcast_to(field.sizes, repairs.shape) / holes
    counted = {"stopped_at_maximum": (np.asarray(stopped, dtype=np.float64), players)}
    return (on_green_s - stopped * assumed.value("stopped_hole_s")) / _S_IN_MIN, counted


def kept_waiting_for_turn_min(rules: Rules, field: FieldOfDay, par: int) -> Each:
    """Time that keeping strictly to the turn costs in each stage of a hole; shape (groups, stages, 1).

    The table of stage times is taken as that of players who may play out of turn to save time (assumption).
    """
    each_s = 0.0 if rules.settings.is_out_of_turn_encouraged else rules.assumed.value("ready_stroke_s")
    return np.asarray(field.sizes[:, :, None] * np.array(STROKES[par])[None, :, None] * each_s / _S_IN_MIN, dtype=np.float64)
