"""The nearest point of complete relief beside a compiled search of a 1 cm grid, on the same ground in the same run.

The grid is written as one would write it to be fast: its places are tried in order of distance, sorted beforehand, and the first clear one
ends the search; a footprint is given up at its first disc in the way. In a second form the disc that was in the way at the last place is
tried first at the next, where it mostly is in the way again. Every way gets only the ground within reach. Ground of two kinds: bending
paths, and patches with corners. The ball's line of play goes to the hole.
"""

from __future__ import annotations

import math
import statistics
from dataclasses import dataclass

import numba
import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import affinity
from shapely.geometry import LineString, Polygon, box

from benchmarks.timing import Row, row, side_by_side
from marram.core.terms import Club, Hand
from marram.course.frame import Position
from marram.relief.clear.nearest import nearest_points_of_relief
from marram.relief.clear.stance import STANCES, Sample, footprint

STEP_M = 0.01
REACH_M = 7.0
SCENES = 40
ROUNDS = 7
PARTS = frozenset({"lie", "stance", "swing"})
ANYWHERE = box(-200, -200, 200, 200)
GRIDS = ("compiled 1 cm grid, nearest places first", "the same, last disc in the way tried first")
Floats = NDArray[np.float64]


@numba.njit(cache=False)
def is_in_way(x: float, y: float, radius_m: float, edges: Floats) -> bool:
    """Whether a disc reaches into a polygon without holes, given its edges: start, step, one by its square, and its east per north."""
    inside = False
    for k in range(len(edges)):
        from_x, from_y = x - edges[k, 0], y - edges[k, 1]
        step_x, step_y = edges[k, 2], edges[k, 3]
        if (from_y < 0) != (from_y < step_y) and from_x < from_y * edges[k, 5]:
            inside = not inside
        share = min(1.0, max(0.0, (from_x * step_x + from_y * step_y) * edges[k, 4]))
        off_x, off_y = from_x - share * step_x, from_y - share * step_y
        if off_x * off_x + off_y * off_y < radius_m * radius_m:
            return True
    return inside


@numba.njit(cache=False)
def grid_distance_m(ball: Floats, hole: Floats, discs: Floats, edges: Floats, places: Floats, keeps_last: bool) -> float:
    """Distance to the first clear place, not nearer the hole, of places in order of distance; the hole is the target."""
    to_hole_m2 = (hole[0] - ball[0]) ** 2 + (hole[1] - ball[1]) ** 2
    first = 0
    for number in range(len(places)):
        x, y = ball[0] + places[number, 0], ball[1] + places[number, 1]
        far_x, far_y = hole[0] - x, hole[1] - y
        far_m2 = far_x * far_x + far_y * far_y
        if far_m2 < to_hole_m2:
            continue
        far_m = math.sqrt(far_m2)
        ux, uy = far_x / far_m, far_y / far_m
        is_clear = True
        for turn in range(len(discs)):
            k = (first + turn) % len(discs)
            ahead_m, left_m = discs[k, 0], discs[k, 1]
            if is_in_way(x + ahead_m * ux - left_m * uy, y + ahead_m * uy + left_m * ux, discs[k, 2], edges):
                is_clear = False
                if keeps_last:
                    first = k
                break
        if is_clear:
            return math.hypot(places[number, 0], places[number, 1])
    return math.inf


def grid_places() -> Floats:
    """The places of the grid, nearest first."""
    count = round(REACH_M / STEP_M)
    east, north = np.meshgrid(*2 * [np.arange(-count, count + 1)])
    order = np.hypot(east, north).ravel().argsort(kind="stable")
    places = STEP_M * np.column_stack([east.ravel()[order], north.ravel()[order]])
    return np.ascontiguousarray(places[np.hypot(places[:, 0], places[:, 1]) < REACH_M])


def edges_of(ground: Polygon) -> Floats:
    """A row for each edge as `is_in_way` wants it."""
    corners = shapely.get_coordinates(ground.exterior)
    steps = np.diff(corners, axis=0)
    east_per_north = np.divide(steps[:, 0], steps[:, 1], out=np.zeros(len(steps)), where=steps[:, 1] != 0)
    return np.column_stack([corners[:-1], steps, 1 / (steps**2).sum(axis=1), east_per_north])


@dataclass(frozen=True, kw_only=True)
class Scene:
    """A ball on ground from which relief is taken."""

    ball: Position
    hole: Position
    ground: Polygon
    samples: tuple[Sample, ...]


def bending_path(rng: np.random.Generator) -> Polygon:
    """A path 2.0 to 3.8 m wide that bends."""
    along = np.linspace(-9, 9, 37)
    bend = LineString(np.column_stack([along, rng.uniform(0.3, 2) * np.sin(along / rng.uniform(3, 8))]))
    return Polygon(shapely.simplify(bend.buffer(rng.uniform(1.0, 1.9), quad_segs=4), 0.005).exterior)


def patch_with_corners(rng: np.random.Generator) -> Polygon:
    """Three slabs, joined, up to 4 m across."""
    slabs = [box(*rng.uniform(-2, -0.3, 2), *rng.uniform(0.3, 2, 2)) for _ in range(3)]
    turned = [affinity.rotate(slab, float(rng.uniform(0, 90)), origin=(0, 0)) for slab in slabs]
    return Polygon(shapely.union_all(turned).exterior)  # type: ignore[attr-defined]


GROUNDS = {"nearest point, bending paths": bending_path, "nearest point, patches with corners": patch_with_corners}


def scene(kind: str, seed: int) -> Scene:
    """Ground of a kind with a ball on it, less than 0.3 m from its middle, and a hole 10 to 250 m away in any direction."""
    rng = np.random.default_rng(seed)
    ball = Position(x_m=rng.uniform(-0.3, 0.3), y_m=rng.uniform(-0.3, 0.3))
    turn, to_hole_m = rng.uniform(0, 2 * math.pi), rng.uniform(10, 250)
    hole = ball.moved(to_hole_m * math.cos(turn), to_hole_m * math.sin(turn))
    samples = footprint(STANCES[list(Club)[seed % 3]], list(Hand)[seed % 2], PARTS)
    return Scene(ball=ball, hole=hole, ground=GROUNDS[kind](rng), samples=samples)


def found_m(given: Scene) -> float:
    """The distance that the program finds; infinite for none."""
    points = nearest_points_of_relief(given.ball, given.hole, given.hole, given.ground, given.samples, ANYWHERE).points
    return points[0].distance_m if points else math.inf


def measure_scene(given: Scene, places: Floats) -> tuple[dict[str, float], float]:
    """Seconds of every way, and by how much the grid's distance is longer than the program's.

    Raises:
        AssertionError: A grid place is nearer than the answer by more than a tenth of a millimetre.
    """
    discs = np.array([[sample.ahead_m, sample.left_m, sample.radius_m] for sample in given.samples])
    args = (np.array(given.ball.xy), np.array(given.hole.xy), discs, edges_of(given.ground), places)
    longer_m = [grid_distance_m(*args, keeps_last) - found_m(given) for keeps_last in (False, True)]
    assert min(longer_m) >= -1e-4, f"the grid found a place {-1000 * min(longer_m):.2f} mm nearer"
    ways = {
        "ours": lambda: found_m(given),
        GRIDS[0]: lambda: grid_distance_m(*args, False),
        GRIDS[1]: lambda: grid_distance_m(*args, True),
    }
    return side_by_side(ways, ROUNDS), longer_m[0]


def measure() -> list[Row]:
    """Time all ways; refuse where the program's distance is longer than the grid's."""
    places = grid_places()
    rows = []
    for kind in GROUNDS:
        measured = [measure_scene(scene(kind, seed), places) for seed in range(SCENES)]
        longer_mm = [1000 * longer_m for _, longer_m in measured]
        print(f"{kind}: shorter than the grid by {min(longer_mm):.2f} to {max(longer_mm):.1f} mm, {SCENES} scenes")
        ours_s = statistics.median(times["ours"] for times, _ in measured)
        rows += [row(kind, ours_s, grid, statistics.median(times[grid] for times, _ in measured), SCENES) for grid in GRIDS]
    return rows


if __name__ == "__main__":
    measure()
