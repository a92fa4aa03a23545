"""The nearest point of complete relief beside a compiled search of a 1 cm grid, on the same paths in the same run.

The grid is searched row by row within 7 m of the ball, and a footprint is given up at its first disc in the path. It is searched twice:
whole, and passing over every place farther than the best so far.
"""

from __future__ import annotations

import math
import statistics
import time

import numba
import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Polygon, box

from marram.core.terms import Club, Hand
from marram.course.frame import Position
from marram.relief.nearest import nearest_points_of_relief
from marram.relief.stance import STANCES, footprint

STEP_M = 0.01
REACH_M = 7.0
SCENES = 40
REPEATS = 5
PARTS = frozenset({"lie", "stance", "swing"})
ANYWHERE = box(-200, -200, 200, 200)
Floats = NDArray[np.float64]


@numba.njit(cache=False)
def is_in_path(x: float, y: float, radius_m: float, ring: Floats) -> bool:
    """Whether a disc reaches into a polygon without holes."""
    inside = False
    for k in range(len(ring) - 1):
        ax, ay, bx, by = ring[k, 0], ring[k, 1], ring[k + 1, 0], ring[k + 1, 1]
        if (ay > y) != (by > y) and x < ax + (y - ay) * (bx - ax) / (by - ay):
            inside = not inside
        dx, dy = bx - ax, by - ay
        share = min(1.0, max(0.0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy)))
        if (x - ax - share * dx) ** 2 + (y - ay - share * dy) ** 2 < radius_m * radius_m:
            return True
    return inside


@numba.njit(cache=False)
def grid_distance_m(ball: Floats, hole: Floats, discs: Floats, ring: Floats, reach_m: float, step_m: float, passes_over: bool) -> float:
    """Distance to the nearest clear place of a grid that is not nearer the hole; the hole is the target."""
    best_m = reach_m
    to_hole_m = math.hypot(hole[0] - ball[0], hole[1] - ball[1])
    count = int(reach_m / step_m)
    for row in range(-count, count + 1):
        for column in range(-count, count + 1):
            away_m = step_m * math.hypot(row, column)
            if away_m >= (best_m if passes_over else reach_m):
                continue
            x, y = ball[0] + step_m * column, ball[1] + step_m * row
            far_m = math.hypot(hole[0] - x, hole[1] - y)
            if far_m < to_hole_m:
                continue
            ux, uy = (hole[0] - x) / far_m, (hole[1] - y) / far_m
            is_clear = True
            for k in range(len(discs)):
                ahead_m, left_m = discs[k, 0], discs[k, 1]
                if is_in_path(x + ahead_m * ux - left_m * uy, y + ahead_m * uy + left_m * ux, discs[k, 2], ring):
                    is_clear = False
                    break
            if is_clear:
                best_m = min(best_m, away_m)
    return best_m


def scene(seed: int) -> tuple[Position, Position, Polygon, Hand, Club]:
    """A bending path with a ball on it; the part within reach of a footprint, which is all that either way needs."""
    rng = np.random.default_rng(seed)
    along = np.linspace(-15, 15, 61)
    bend = LineString(np.column_stack([along, rng.uniform(0.3, 2) * np.sin(along / rng.uniform(3, 8) + rng.uniform(0, 6))]))
    path = shapely.simplify(bend.buffer(rng.uniform(1.0, 1.9), quad_segs=4), 0.005)
    ball = bend.interpolate(bend.length / 2 + rng.uniform(-3, 3))
    turn, to_hole_m = rng.uniform(0, 2 * math.pi), rng.uniform(10, 250)
    hole = Position(x_m=ball.x + to_hole_m * math.cos(turn), y_m=ball.y + to_hole_m * math.sin(turn))
    return Position(x_m=ball.x, y_m=ball.y), hole, Polygon(path.exterior), list(Hand)[seed % 2], list(Club)[seed % 3]


def grid_run(seed: int, passes_over: bool) -> tuple[float, float]:
    """Seconds that a grid search takes on a scene, and the distance that it finds."""
    ball, hole, path, hand, club = scene(seed)
    samples = footprint(STANCES[club], hand, PARTS)
    discs = np.array([[sample.ahead_m, sample.left_m, sample.radius_m] for sample in samples])
    ring = shapely.get_coordinates(path.exterior)
    start = time.perf_counter()
    found_m = grid_distance_m(np.array(ball.xy), np.array(hole.xy), discs, ring, REACH_M, STEP_M, passes_over)
    return time.perf_counter() - start, float(found_m)


def our_run(seed: int) -> tuple[float, float]:
    """Seconds that the program takes on a scene, median of some runs, and the distance that it finds."""
    ball, hole, path, hand, club = scene(seed)
    samples = footprint(STANCES[club], hand, PARTS)
    times, found_m = [], math.inf
    for _ in range(REPEATS):
        start = time.perf_counter()
        relief = nearest_points_of_relief(ball, hole, hole, path, samples, ANYWHERE)
        times.append(time.perf_counter() - start)
        found_m = relief.points[0].distance_m
    return statistics.median(times), found_m


def measure() -> list[dict[str, str | float | int]]:
    """Time all ways on 40 paths; refuse where the program's way is longer than the grid's.

    Raises:
        AssertionError: A grid place is nearer than the answer by more than a tenth of a millimetre.
    """
    our_run(0)
    grid_run(0, True)  # compiles
    ours = [our_run(seed) for seed in range(SCENES)]
    ours_s = statistics.median(seconds for seconds, _ in ours)
    results: list[dict[str, str | float | int]] = []
    for name, passes_over in (("compiled 1 cm grid", False), ("compiled 1 cm grid, farther places passed over", True)):
        grid = [grid_run(seed, passes_over) for seed in range(SCENES)]
        grid_s = statistics.median(seconds for seconds, _ in grid)
        shorter_mm = [1000 * (theirs[1] - own[1]) for theirs, own in zip(grid, ours, strict=True)]
        assert min(shorter_mm) >= -0.1, f"the grid found a place {-min(shorter_mm):.2f} mm nearer"
        print(f"nearest point {1000 * ours_s:5.1f} ms   {name} {1000 * grid_s:.0f} ms   ratio {grid_s / ours_s:.0f}")
        print(f"              shorter than the grid by {min(shorter_mm):.2f} to {max(shorter_mm):.1f} mm on {SCENES} paths")
        results.append({"name": "nearest point", "ours_s": ours_s, "other": name, "other_s": grid_s, "ratio": grid_s / ours_s, "n": SCENES})
    return results


if __name__ == "__main__":
    measure()
