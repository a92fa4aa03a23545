"""A trial played beforehand: effects that are known, changes that touch nothing, and days that would show an effect."""

from __future__ import annotations

from math import hypot, sqrt

import pytest

from marram.core.errors import RecordError, StudyError
from marram.office.forecasts.days_to_find import days_to_find, sd_of_pair
from marram.office.forecasts.forecast_asked import ForecastAsked
from marram.office.forecasts.forecast_found import OF_A_LONE_GROUP, OF_THE_DAY, ExpectedEffect, Forecast
from marram.office.forecasts.forecast_trial import forecast_on
from marram.office.forecasts.ways_played import changes_played
from marram.rulebook.overlays.overlay import Overlay
from marram.simulation.assumed.assumptions import usual_assumptions
from marram.simulation.settings.played_keys import HowPlayed
from tests.support.forecasts import book, lost_ball_day, trial
from tests.support.reference_courses import reference_holes

FREED = ("[{ strokes = 2, hole = 'lost', ball = 'as-it-lies' }]", "[{ ball = 'as-it-lies' }]")
"""What an act led to that no longer costs anything."""
NO_RANGE = {one.name: one.value for one in usual_assumptions()}
"""Every value as it is assumed, stated so that no range is tried."""
SMALL = ForecastAsked(players=12, days=20, stated={"group_spread_pct": 8, "stage_times_pct": 100, "stage_spread_pct": 50})


def forecast(overlay: Overlay, asked: ForecastAsked = SMALL, on: str = "2023") -> Forecast:
    return forecast_on(overlay, book(on), "Reference", reference_holes(), asked)


def effect(found: tuple[ExpectedEffect, ...], outcome: str, of: str = OF_THE_DAY) -> ExpectedEffect:
    return next(one for one in found if (one.outcome, one.of) == (outcome, of))


@pytest.fixture(scope="module")
def shorter_search() -> Forecast:
    return forecast(trial("search.limit_min", "5", "3", on="2016"), lost_ball_day(150, spread={"round_min": 6.0}), on="2016")


def test_a_shorter_search_saves_what_the_reference_course_says(shorter_search: Forecast) -> None:
    """L from 5 to 3: a lone group 14 x 0.1 x 2 = 2.8 min (exact), the day 296.05 - 282.73 = 13.32 min (se 0.06)."""
    (change,) = shorter_search.changes
    alone, day = effect(change.effects, "round_min", OF_A_LONE_GROUP), effect(change.effects, "round_min")
    assert alone.estimate == pytest.approx(-2.8, abs=3 * alone.monte_carlo_error)
    assert day.estimate == pytest.approx(-13.32, abs=3 * hypot(day.monte_carlo_error, 0.06))
    assert effect(change.effects, "search_s").estimate == pytest.approx(-120)
    assert (change.played, change.by) == (HowPlayed.PLAYED, ("search.limit_min",))
    assert effect(shorter_search.together, "round_min").estimate == day.estimate


def test_waiting_and_playing_make_up_the_round(shorter_search: Forecast) -> None:
    (change,) = shorter_search.changes
    parts = effect(change.effects, "waiting_min").estimate + effect(change.effects, "round_min", OF_A_LONE_GROUP).estimate
    assert effect(change.effects, "round_min").estimate == pytest.approx(parts)


def test_a_group_that_has_the_day_to_itself_is_a_lone_group() -> None:
    found = forecast(trial("search.limit_min", "3", "2"), ForecastAsked(players=3, days=20, stated=NO_RANGE)).together
    alone, day = effect(found, "round_min", OF_A_LONE_GROUP), effect(found, "round_min")
    assert (alone.present, alone.proposed) == pytest.approx((day.present, day.proposed), abs=1e-9)
    assert effect(found, "waiting_min").present == 0


def test_days_needed_rest_on_days_of_their_own_and_the_stated_spread(shorter_search: Forecast) -> None:
    """What two independent days differ by comes in with the stated 6 min; days with shared draws differ far less and do not enter."""
    day = effect(shorter_search.changes[0].effects, "round_min")
    assert day.sd_of_difference is not None
    by_chance = sqrt(day.sd_of_difference**2 - 2 * 36)
    assert by_chance > 1.5 * day.monte_carlo_error * sqrt(shorter_search.days)
    assert day.days_needed == days_to_find(day.estimate, day.sd_of_difference)
    strong, weak = day.days_needed_range
    assert strong is not None
    assert day.days_needed is not None
    assert strong <= day.days_needed
    assert weak is None or weak >= day.days_needed


def test_the_spread_of_a_pair_and_its_days() -> None:
    """Table of planning: sd between days 6, between groups 10, 25 groups with correlation .5 worth 8.33: sd 9.80, MDE 14 min at 6 pairs."""
    sd = sd_of_pair(6, sqrt(10**2 / (25 * 0.5 / 1.5)))
    assert sd == pytest.approx(9.798, abs=0.001)
    assert days_to_find(14.1, sd) == 12
    assert days_to_find(-14.1, sd) == 12
    assert days_to_find(100, sd) == 12  # never fewer than can show anything
    assert days_to_find(0.0, sd) is None
    assert days_to_find(0.001, sd) is None


def test_a_change_that_touches_nothing_gives_exactly_nothing() -> None:
    found = forecast(trial("stroke-time-recommended.recommended_s", "40", "30"))
    (change,) = found.changes
    assert (change.played, change.effects, change.by) == (HowPlayed.NOT_PLAYED, (), ())
    for one in found.together:
        assert (one.estimate, one.monte_carlo_error, one.range) == (0.0, 0.0, (0.0, 0.0))
    assert found.present != found.proposed


def test_a_played_key_whose_play_stays_the_same_gives_exactly_nothing() -> None:
    """Out of turn without a penalty instead of by agreement: neither encourages anybody."""
    overlay = trial("form.stroke-play.out_of_turn", '"no-penalty"', '"by-agreement"', on="2016")
    (change,) = forecast(overlay, on="2016").changes
    assert change.played is HowPlayed.BY_ASSUMPTION
    assert effect(change.effects, "round_min").estimate == 0.0


def test_with_days_of_their_own_nothing_is_no_longer_exactly_nothing() -> None:
    asked = ForecastAsked(players=12, days=20, is_independent=True)
    day = effect(forecast(trial("stroke-time-recommended.recommended_s", "40", "30"), asked).together, "round_min")
    assert day.estimate != 0
    assert day.monte_carlo_error > 0


@pytest.mark.long
def test_the_interval_of_a_change_that_touches_nothing_covers_nothing_at_its_rate() -> None:
    """95 of 100 in the mean: of 200 seeds 181 to 198 cover it in 99 of 100 such tests (binomial)."""
    overlay, covered = trial("stroke-time-recommended.recommended_s", "40", "30"), 0
    for seed in range(200):
        asked = ForecastAsked(players=6, days=40, seed=seed, is_independent=True, stated=NO_RANGE)
        day = effect(forecast(overlay, asked).together, "round_min")
        covered += abs(day.estimate) < 1.96 * day.monte_carlo_error
    assert 181 <= covered <= 198


@pytest.mark.parametrize(
    ("key", "was", "now", "on", "played", "sign"),
    [
        ("act.flagstick-unattended-hit-from-green.cases", *FREED, "2016", HowPlayed.BY_ASSUMPTION, -1),
        ("act.repair-spike-mark.cases", *FREED, "2016", HowPlayed.BY_ASSUMPTION, 1),
        ("form.stroke-play.out_of_turn", "'no-penalty'", "'encouraged-when-safe'", "2016", HowPlayed.BY_ASSUMPTION, -1),
        ("overhanging-ball-wait.wait_s", "10", "20", "2023", HowPlayed.BY_ASSUMPTION, 1),
        ("drop-height.height", "'knee-as-when-standing'", "'shoulder'", "2023", HowPlayed.BY_ASSUMPTION, 1),
        # One ball in six rests outside: placing it at once takes 20 s, dropping it again 15 s and placing one in six of those 20 s more.
        ("drops-before-placing.drops", "2", "1", "2023", HowPlayed.BY_ASSUMPTION, 1),
        ("relief.lateral.size", "{ club_lengths = 2 }", "{ club_lengths = 4 }", "2023", HowPlayed.BY_ASSUMPTION, -1),
    ],
)  # fmt: skip
def test_every_part_that_is_played_moves_a_lone_group_the_right_way(
    key: str, was: str, now: str, on: str, played: HowPlayed, sign: int
) -> None:
    (change,) = forecast(trial(key, was, now, on=on), on=on).changes
    assert change.played is played
    assert change.assuming
    assert effect(change.effects, "round_min", OF_A_LONE_GROUP).estimate * sign > 0


def test_the_flagstick_left_in_saves_its_seconds_on_every_hole() -> None:
    """Ten seconds a hole, eighteen holes: three minutes for a lone group, whatever chance brings."""
    (change,) = forecast(trial("act.flagstick-unattended-hit-from-green.cases", *FREED, on="2016"), on="2016").changes
    alone = effect(change.effects, "round_min", OF_A_LONE_GROUP)
    assert alone.estimate == pytest.approx(-3.0)
    assert alone.range == pytest.approx((-6.0, 0.0))
    assert change.driven_by[0].assumed.name == "flagstick_s"


def test_a_maximum_score_is_played_by_the_stated_share_alone() -> None:
    overlay = trial("search.limit_min", "3", "2")
    asked = ForecastAsked(players=12, days=20, stopped_share=0.1)
    terms = forecast(overlay, asked).changes[-1]
    assert (terms.number, terms.by, terms.played) == (None, ("maximum score",), HowPlayed.BY_ASSUMPTION)
    assert effect(terms.effects, "stopped_at_maximum").estimate == pytest.approx(1.8, abs=0.25)  # a tenth of 18 holes
    assert effect(terms.effects, "round_min", OF_A_LONE_GROUP).estimate == pytest.approx(-18 * 0.1 * 3 * 40 / 60, rel=0.2)


def test_groups_that_are_let_through_are_told_and_wait_less() -> None:
    """Groups that differ widely: who lets the next one through waits for it once, and is in nobody's way afterwards."""
    stated = {**NO_RANGE, "group_spread_pct": 20.0}
    overlay = trial("search.limit_min", "3", "2")
    kept, let = (forecast(overlay, ForecastAsked(players=60, days=20, stated=stated, lets_through=lets)) for lets in (False, True))
    assert "lets the next group through" in let.field
    assert "through" not in kept.field
    assert effect(let.together, "waiting_min").present < effect(kept.together, "waiting_min").present
    lone = [effect(one.together, "round_min", OF_A_LONE_GROUP).present for one in (kept, let)]
    assert lone[0] == lone[1]


def test_another_start_interval_is_played() -> None:
    asked = ForecastAsked(players=60, days=20, proposed_interval_min=12)
    terms = forecast(trial("search.limit_min", "3", "2"), asked).changes[-1]
    assert terms.by == ("start interval",)
    assert effect(terms.effects, "waiting_min").estimate < -5
    assert effect(terms.effects, "round_min", OF_A_LONE_GROUP).estimate == 0.0


def test_what_a_change_is_to_move_and_nothing_tells_is_named() -> None:
    besides = 'expects = { outcome = "disputes", direction = "down", matters = 0.1 }\nguards = [{ outcome = "strokes", margin = 1.0 }]'
    (one,) = changes_played(trial("search.limit_min", "3", "2", besides=besides), book(), SMALL)
    assert one.way is not None
    found = forecast(trial("search.limit_min", "3", "2", besides=besides))
    assert found.changes[0].not_shown == ("disputes counted", "strokes of a round")


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        (ForecastAsked(players=0), "field of 0"),
        (ForecastAsked(players=500), "field of 500"),
        (ForecastAsked(interval_min=0), "interval of 0"),
        (ForecastAsked(days=5), "5 days"),
        (ForecastAsked(workers=0), "0 workers"),
        (ForecastAsked(stopped_share=1.5), "share of 1.5"),
        (ForecastAsked(spread={"round_min": 0}), "differ by 0"),
        (ForecastAsked(stated={"searches": 5}), "Nothing called 'searches'"),
        (ForecastAsked(stated={"searches_pct": 150}), "cannot be 150"),
        (ForecastAsked(stated={"stage_times_pct": 0}), "cannot be 0"),
    ],
)
def test_what_cannot_be_meant_is_refused(asked: ForecastAsked, said: str) -> None:
    with pytest.raises(StudyError, match=said):
        forecast(trial("search.limit_min", "3", "2"), asked)


def test_a_spread_of_no_outcome_is_refused() -> None:
    with pytest.raises(RecordError, match="no outcome"):
        forecast(trial("search.limit_min", "3", "2"), ForecastAsked(spread={"rounds": 5}))
