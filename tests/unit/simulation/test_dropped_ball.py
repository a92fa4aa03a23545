"""The dropped ball against stated rows of the model, and reliefs whose outcome is plain."""

from __future__ import annotations

import numpy as np
import pytest

from marram.core.errors import StudyError
from marram.simulation.dropped_ball.bounce_and_roll import drop_balls, restitution
from marram.simulation.dropped_ball.drop_chances import DropRules, drop_chances
from marram.simulation.dropped_ball.ground_met import ground_named, grounds

KNEE_M, SHOULDER_M, CLUB_M = 0.50, 1.45, 1.168


def test_the_rebound_of_turf() -> None:
    """Restitution table of the model (the equation from memory of *The run of a golf ball*, 2002), tolerance 0.001."""
    speeds = np.array([1, 2, 3.132, 5.334, 10, 15, 20, 25])
    assert restitution(speeds) == pytest.approx([0.4734, 0.4386, 0.4014, 0.3357, 0.2253, 0.1507, 0.1212, 0.120], abs=1e-3)
    fall = np.sqrt(2 * 9.81 * np.array([KNEE_M, SHOULDER_M]))
    assert restitution(fall) ** 2 * [KNEE_M, SHOULDER_M] == pytest.approx([0.0806, 0.1634], abs=1e-3)


# ground, slope, then median, 95 of 100 and share beyond one club from the knee, the same from the shoulder, share beyond two clubs
ROWS = [
    ("green", 0, 0.033, 0.079, 0.0, 0.080, 0.196, 0.0, 0.0),
    ("green", 3, 0.257, 0.472, 0.0, 0.627, 1.163, 0.049, 0.0),
    ("fairway", 0, 0.074, 0.174, 0.0, 0.176, 0.413, 0.0, 0.0),
    ("fairway", 3, 0.123, 0.279, 0.0, 0.290, 0.673, 0.001, 0.0),
    ("fairway", 5, 0.231, 0.457, 0.0, 0.549, 1.112, 0.036, 0.0),
    ("fairway", 8, 0.689, 1.155, 0.046, 1.672, 2.867, 0.785, 0.176),
    ("light-rough", 0, 0.046, 0.100, 0.0, 0.118, 0.258, 0.0, 0.0),
    ("light-rough", 8, 0.110, 0.220, 0.0, 0.285, 0.579, 0.0, 0.0),
    ("light-rough", 12, 0.219, 0.371, 0.0, 0.577, 0.995, 0.010, 0.0),
    ("deep-rough", 0, 0.021, 0.039, 0.0, 0.057, 0.112, 0.0, 0.0),
    ("deep-rough", 12, 0.064, 0.111, 0.0, 0.177, 0.324, 0.0, 0.0),
]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row[0]}-{row[1]}")
def test_where_dropped_balls_rest_is_that_of_the_stated_rows(row: tuple[str, float, *tuple[float, ...]]) -> None:
    """20,000 drops worked out apart; tolerance 5 % on distances, 0.01 on shares, as stated with the rows."""
    ground, slope, *wanted = row
    for height, (median, most, beyond) in ((KNEE_M, wanted[:3]), (SHOULDER_M, wanted[3:6])):
        distances = drop_balls(height, slope, ground_named(ground), drops=20_000, seed=1).distance_m
        assert np.median(distances) == pytest.approx(median, rel=0.05)
        assert np.quantile(distances, 0.95) == pytest.approx(most, rel=0.05)
        assert (distances > CLUB_M).mean() == pytest.approx(beyond, abs=0.01)
    far = drop_balls(SHOULDER_M, slope, ground_named(ground), drops=20_000, seed=1).distance_m > 2 * CLUB_M
    assert far.mean() == pytest.approx(wanted[6], abs=0.01)


@pytest.mark.parametrize(("ground", "slope"), [("green", 5), ("fairway", 12)])
def test_on_ground_too_steep_the_ball_runs_away(ground: str, slope: float) -> None:
    assert (drop_balls(KNEE_M, slope, ground_named(ground), drops=200, seed=1).distance_m > 2 * CLUB_M).all()


def test_balls_run_down_the_slope_and_to_both_sides_alike() -> None:
    rested = drop_balls(KNEE_M, 5, ground_named("fairway"), drops=8000, seed=3)
    assert rested.down_m.mean() > 0.15
    assert abs(rested.across_m.mean()) < 3 * rested.across_m.std() / np.sqrt(8000)


def lateral(drops: int = 2, *, rests_inside: bool = True, roll_limit_m: float | None = None, radius_m: float = 2 * CLUB_M) -> DropRules:
    return DropRules(height_m=KNEE_M, radius_m=radius_m, drops=drops, must_rest_in_area=rests_inside, roll_limit_m=roll_limit_m)


def test_where_every_ball_runs_away_all_are_placed() -> None:
    found = drop_chances(lateral(), 12, ground_named("fairway"), reliefs=300)
    assert (found.outside, found.dropped_again, found.placed) == (1.0, 1.0, 1.0)
    assert found.error_of(found.placed) == 0


def test_on_flat_ground_only_balls_near_an_edge_are_dropped_again() -> None:
    """A ball that rests 0.08 m off, any way, leaves a half disc of 2.336 m only from a strip along its edge: of perimeter
    (pi + 2) 2.336 = 12.0 m and area 8.57 m2, a convex edge is crossed with chance about perimeter x mean step / (pi area)."""
    found = drop_chances(lateral(), 0, ground_named("fairway"), reliefs=20_000)
    mean_step = drop_balls(KNEE_M, 0, ground_named("fairway"), drops=20_000, seed=6).distance_m.mean()
    assert found.outside == pytest.approx(12.0 * mean_step / (np.pi * 8.57), rel=0.1)
    assert found.dropped_again == pytest.approx(found.outside, abs=0.005)
    assert found.placed == pytest.approx(found.outside**2, abs=0.002)


def test_more_drops_place_fewer_and_one_drop_is_never_made_again() -> None:
    once, twice, thrice = (drop_chances(lateral(drops), 6, ground_named("fairway"), reliefs=4000) for drops in (1, 2, 3))
    assert once.dropped_again == 0
    assert once.placed == twice.dropped_again == thrice.dropped_again
    assert once.placed > twice.placed > thrice.placed > 0
    assert thrice.repeated == (twice.dropped_again, twice.placed)


def test_a_ball_that_need_not_rest_in_the_area_stays_more_often() -> None:
    inside = drop_chances(lateral(), 6, ground_named("fairway"), reliefs=4000)
    free = drop_chances(lateral(rests_inside=False), 6, ground_named("fairway"), reliefs=4000)
    limited = drop_chances(lateral(rests_inside=False, roll_limit_m=0.3), 6, ground_named("fairway"), reliefs=4000)
    assert 0 < free.outside < inside.outside  # nearer the hole is still not allowed
    assert limited.outside > free.outside
    far = drop_chances(lateral(rests_inside=False, roll_limit_m=10.0), 6, ground_named("fairway"), reliefs=4000)
    assert far.outside == free.outside


def test_what_cannot_be_dropped_is_refused() -> None:
    for height, slope, said in ((0, 5, "from 0 m"), (4, 5, "from 4 m"), (0.5, 40, "slope of 40")):
        with pytest.raises(StudyError, match=said):
            drop_balls(height, slope, grounds()["fairway"], drops=10, seed=1)
    with pytest.raises(StudyError, match="no ground called"):
        ground_named("sand")
    with pytest.raises(StudyError, match="0 drops"):
        drop_chances(lateral(0), 5, grounds()["fairway"])
