"""Days under several sets of rules: what happens on a hole worked by hand, effects and their error, and workers that change nothing."""

from __future__ import annotations

import os
import signal
from dataclasses import replace
from multiprocessing import active_children

import numpy as np
import pytest

from marram.core.work import Work
from marram.simulation.assumed.assumptions import Assumptions, usual_assumptions
from marram.simulation.campaign.arm_played import ArmPlayed, SumOfDays, play_out
from marram.simulation.campaign.days_at_work import ArmAsked, play_arms
from marram.simulation.campaign.drawn_days import DrawnDays, draw_days
from marram.simulation.campaign.effects_found import effect_of, spread_of_days
from marram.simulation.campaign.field_of_day import FieldOfDay, stage_means
from marram.simulation.campaign.what_happens import Happened, Rules, happens, kept_waiting_for_turn_min
from marram.simulation.dropped_ball.drop_chances import DropChances
from marram.simulation.pace.hole_stages import PacedHole
from marram.simulation.pace.starting_sheet import StartFrom, starting_sheet
from marram.simulation.settings.played_settings import PlayedSettings, settings_of
from tests.support.forecasts import book
from tests.support.reference_courses import reference_holes

CHANCES = DropChances(reliefs=100, outside=0.4, repeated=(0.4,), placed=0.2, rest_median_m=0.2, rest_most_m=0.5)
SETTINGS: PlayedSettings = settings_of(book())


def field(groups: int = 1, size: int = 3, holes: tuple[PacedHole, ...] = reference_holes()) -> FieldOfDay:
    starts = starting_sheet([size] * groups, interval_min=10, holes=len(holes), start_from=StartFrom.ONE_TEE)
    return FieldOfDay(holes=holes, starts=starts, means=stage_means(holes))


def happened(settings: PlayedSettings = SETTINGS, place: int = 0, stopped: float = 0.0, **draws: list[float]) -> Happened:
    """One group of three on one hole of one day, with draws as they are given; every other draw is 0.999, so that nothing happens."""
    one = field()
    drawn = draw_days(one, 1, [0])
    for name in ("searches", "reliefs", "greens"):
        own = np.full_like(getattr(drawn, name), 0.999)
        for which, value in enumerate(draws.get(name, [])):
            own[which, place] = value
        drawn = replace(drawn, **{name: own})
    rules = Rules(settings=settings, assumed=usual_assumptions(), stopped_share=stopped, drops=(CHANCES, CHANCES))
    return happens(rules, one, drawn, place)


def counted(found: Happened, outcome: str) -> tuple[float, float]:
    total, count = found.counted[outcome]
    return float(total[0, 0]), float(count[0, 0])


def test_nothing_happens_where_no_draw_says_so() -> None:
    found = happened()
    assert (found.after_tee_min.sum(), found.on_the_way_min.sum(), found.on_green_min.sum()) == (0, 0, 0)


def test_a_ball_is_found_in_time_too_late_or_never() -> None:
    # Even draw 0.5 is found after ln 2 / 0.68 = 1.0193 min; 0.9 after ln 10 / 0.68 = 3.3862 min, so after the limit of 3.
    found = happened(searches=[0.05, 0.3, 0.5, 0.9])
    assert counted(found, "search_s") == pytest.approx((61.16, 1), abs=0.01)
    assert counted(found, "ball_found") == (1, 1)
    assert found.after_tee_min[0, 0] == pytest.approx(1.0193, abs=1e-4)
    late = happened(searches=[0.05, 0.3, 0.9, 0.9])  # no provisional ball: 3 min of search and 5.5 of going back
    assert late.after_tee_min[0, 0] == pytest.approx(8.5)
    assert counted(late, "ball_found") == (0, 1)
    with_provisional = happened(searches=[0.05, 0.7, 0.1, 0.2])  # nothing to be found: 3 min
    assert with_provisional.after_tee_min[0, 0] == pytest.approx(3.0)
    longer = happened(replace(SETTINGS, search_limit_min=5.0), searches=[0.05, 0.3, 0.9, 0.9])
    assert longer.after_tee_min[0, 0] == pytest.approx(3.3862, abs=1e-4)


def test_no_ball_is_looked_for_on_a_par_3_or_beyond_the_share() -> None:
    assert happened(place=2, searches=[0.0, 0.3, 0.5, 0.9]).after_tee_min.sum() == 0  # hole 3 is a par 3
    assert happened(searches=[0.11, 0.3, 0.5, 0.9]).after_tee_min.sum() == 0


def test_relief_takes_its_seconds_with_drops_made_again_and_placing() -> None:
    # A group of three takes relief in the large area on a hole with chance 0.5 x 3 / 18 = 0.083.
    assert happened(reliefs=[0.08, 0.9]).on_the_way_min[0, 0] == pytest.approx(60 / 60)
    again = happened(reliefs=[0.08, 0.3])  # 0.3 < 0.4: dropped again, not placed
    assert again.on_the_way_min[0, 0] == pytest.approx(75 / 60)
    assert counted(again, "drops_per_relief") == (2, 1)
    placed = happened(reliefs=[0.08, 0.1])
    assert placed.on_the_way_min[0, 0] == pytest.approx(95 / 60)
    assert counted(placed, "placed") == (1, 1)
    both = happened(reliefs=[0.08, 0.9, 0.08, 0.9])
    assert both.on_the_way_min[0, 0] == pytest.approx((60 + 45) / 60)
    assert counted(both, "relief_s") == pytest.approx((105, 2))
    assert happened(reliefs=[0.09, 0.9]).on_the_way_min.sum() == 0


def test_what_is_done_on_the_green() -> None:
    old = replace(SETTINGS, flagstick_may_stay=False, repairs_allowed=False)
    assert happened(old, greens=[0.1]).on_green_min[0, 0] == pytest.approx(10 / 60)
    assert happened(greens=[0.1]).on_green_min[0, 0] == pytest.approx(20 / 60)  # 0.1 < 0.30: a repair
    assert happened(greens=[0.999, 0.005]).on_green_min[0, 0] == pytest.approx(10 / 60)  # 0.005 < 0.05 x 3 / 18: waits ten seconds
    assert happened(greens=[0.999, 0.01]).on_green_min.sum() == 0


def test_players_who_stop_save_their_seconds_and_a_fourth_of_a_group_of_three_is_nobody() -> None:
    found = happened(stopped=0.2, greens=[0.999, 0.999, 0.1, 0.5, 0.1, 0.1])
    assert found.on_green_min[0, 0] == pytest.approx(-2 * 40 / 60)
    assert counted(found, "stopped_at_maximum") == pytest.approx((2, 3 / 18))


def test_keeping_to_the_turn_costs_its_seconds_at_each_stroke() -> None:
    """A group of three on a par 4, five seconds a stroke: 3 x 5, 3 x 5 and 3 x 2.6 x 5 s; nothing where out of turn is encouraged."""
    rules = Rules(settings=SETTINGS, assumed=usual_assumptions(), stopped_share=0, drops=(CHANCES, CHANCES))
    strict = replace(rules, settings=replace(SETTINGS, is_out_of_turn_encouraged=False))
    assert kept_waiting_for_turn_min(strict, field(), 4)[0, :, 0].tolist() == pytest.approx([0.25, 0.25, 0.65])
    assert not kept_waiting_for_turn_min(rules, field(), 4).any()


QUIET = usual_assumptions().stated(
    {"searches_pct": 0, "lateral_reliefs": 0, "small_reliefs": 0, "repairs_pct": 0, "overhanging_balls": 0}
    | {"stage_spread_pct": 0, "group_spread_pct": 0}
)
"""Nothing happens, and every stage takes its mean."""


def quiet_playing_min(of: FieldOfDay, assumed: Assumptions = QUIET, *, stopped: float = 0.0, days: int = 1) -> np.ndarray:
    rules = Rules(settings=SETTINGS, assumed=assumed, stopped_share=stopped, drops=(CHANCES, CHANCES))
    return play_out(rules, of, draw_days(of, 1, range(days))).playing_min


def test_a_quiet_round_is_the_sum_of_its_means_and_goes_with_the_size_of_the_group() -> None:
    """253.8 min for three, of which 17 are walks; four take 11.5 / 10.5 of the other 236.8, two take 8 / 10.5."""
    assert quiet_playing_min(field()).item() == pytest.approx(253.8)
    assert quiet_playing_min(field(size=4)).item() == pytest.approx(236.8 * 11.5 / 10.5 + 17)
    assert quiet_playing_min(field(size=2)).item() == pytest.approx(236.8 * 8 / 10.5 + 17)


def test_a_quarter_of_a_stage_is_left_whatever_is_saved_in_it() -> None:
    """Last stages are 14 x 5 and 4 x 4.2 min: three quarters of these 86.8 are saved, and no more."""
    saved = QUIET.stated({"stopped_hole_s": 6000})
    assert quiet_playing_min(field(), saved, stopped=1.0).item() == pytest.approx(253.8 - 0.75 * 86.8)


def test_groups_that_differ_take_as_long_in_the_mean() -> None:
    differing = quiet_playing_min(field(groups=60), QUIET.stated({"group_spread_pct": 20}), days=40)
    assert differing.mean() == pytest.approx(253.8, abs=3 * differing.std() / np.sqrt(differing.size))
    assert differing.std() == pytest.approx(0.2 * 236.8, rel=0.08)


def test_a_value_that_timings_tell_keeps_their_error_as_its_range() -> None:
    known = usual_assumptions().known("stage_times_pct", error=4.0, provenance="timings").by_name["stage_times_pct"]
    assert (known.low, known.value, known.high, known.provenance) == (96.0, 100.0, 104.0, "timings")
    assert not usual_assumptions().stated({"stage_times_pct": 90}).by_name["stage_times_pct"].is_weak


def arm(totals: list[float], counts: list[float]) -> ArmPlayed:
    none = np.zeros((1, len(totals)))
    return ArmPlayed(sums={"x": SumOfDays(total=np.array(totals), count=np.array(counts))}, by_group_min=none, waiting_by_hole_min=none)


def test_an_effect_is_a_difference_of_ratios_with_the_error_of_days() -> None:
    """Counts of 1: differences 1, 2, 3 have mean 2, sd 1, error 1 / sqrt 3. Totals over counts: 6 / 3 = 2 against (2 + 4) / 4 = 1.5."""
    found = effect_of(arm([1, 1, 1], [1, 1, 1]), arm([2, 3, 4], [1, 1, 1]), "x")
    assert (found.estimate, found.monte_carlo_error) == pytest.approx((2, 1 / np.sqrt(3)))
    assert found.interval == pytest.approx((2 - 1.959964 / np.sqrt(3), 2 + 1.959964 / np.sqrt(3)))
    assert effect_of(arm([3, 3], [1, 2]), arm([2, 4], [2, 2]), "x").estimate == pytest.approx(-0.5)
    assert spread_of_days(arm([1, 2, 3], [1, 1, 1]), "x") == pytest.approx(1)
    # Deviations of ratios by hand: mean 2, mean count 1.5: (3 - 2) / 1.5 and (3 - 4) / 1.5, sd of +-2/3 is 2/3 sqrt 2.
    assert spread_of_days(arm([3, 3], [1, 2]), "x") == pytest.approx(2 / 3 * np.sqrt(2))
    assert effect_of(arm([0, 0], [0, 0]), arm([0, 0], [0, 0]), "x").estimate == 0


def asked(days: int = 120, assumed: Assumptions | None = None) -> dict[str, ArmAsked]:
    one = field(groups=6)
    rules = Rules(settings=SETTINGS, assumed=assumed or usual_assumptions(), stopped_share=0.0, drops=(CHANCES, CHANCES))
    shorter = replace(rules, settings=replace(SETTINGS, search_limit_min=2.0))
    return {"now": ArmAsked(rules=rules, field=one, seed=4, days=days), "then": ArmAsked(rules=shorter, field=one, seed=4, days=days - 5)}


def same(one: dict[str, ArmPlayed], other: dict[str, ArmPlayed]) -> bool:
    return all(
        one[name].by_group_min.tobytes() == other[name].by_group_min.tobytes()
        and all(one[name].sums[key].total.tobytes() == other[name].sums[key].total.tobytes() for key in one[name].sums)
        for name in one
    )


def test_workers_change_nothing() -> None:
    alone = dict(play_arms(asked()))
    assert same(alone, dict(play_arms(asked(), workers=2)))
    assert same(alone, dict(play_arms(asked(), workers=4)))
    assert alone["then"].by_group_min.shape == (6, 115)


def test_what_a_killed_worker_left_undone_is_done() -> None:
    def kill(doing: str, done: int, whole: int) -> None:
        for child in active_children()[:1]:
            if child.pid is not None and done == 0:
                os.kill(child.pid, signal.SIGKILL)

    assert same(dict(play_arms(asked())), dict(play_arms(asked(), workers=2, work=Work(kill))))


def test_a_day_is_drawn_alike_whatever_is_drawn_with_it() -> None:
    both, one = draw_days(field(2), 9, [3, 4]), draw_days(field(2), 9, [4])

    def of(drawn: DrawnDays) -> list[np.ndarray]:
        return [*drawn.stages, drawn.groups, drawn.searches, drawn.reliefs, drawn.greens]

    for whole, part in zip(of(both), of(one), strict=True):
        assert (whole[..., 1:] == part).all()
    assert not (draw_days(field(2), 10, [4]).searches == one.searches).any()


def test_groups_and_stages_vary_as_much_as_is_assumed() -> None:
    drawn = draw_days(field(30), 2, range(40))
    assert drawn.groups.std() == pytest.approx(1, abs=0.05)
    assert np.concatenate([one.ravel() for one in drawn.stages]).std() == pytest.approx(1 / np.sqrt(6), abs=0.01)  # triangle on -1 to 1
