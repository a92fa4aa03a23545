"""The check of a marking beside the same work done with shapely, on one dense invented course in the same run.

10,000 crossing points on the edges of ponds and streams, one hole each: the ground in the crescent by kind. The program's way is the
compiled kernel on small rings. Beside it: shapely's arrays (all crescents built at once, one query, one intersection), and shapely's calls
in a loop, as a script would have them, on a sample and scaled to the same number of points. The loop runs twice: with circles as `buffer`
draws them, which is wrong by some tenths of a square metre, and with circles drawn finely enough to agree. Every way has its search tree
made beforehand.
"""

from __future__ import annotations

import math
import statistics
import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Point, Polygon

from marram.relief import crescent_sums as sums
from marram.relief import marking_kernel
from marram.relief.marking import measure_table
from marram.relief.marking_ground import Ground, Rings, cut_into_rings

POINTS = 10_000
SAMPLE = 1_000
REPEATS = 7
SIZE_M = 2 * 46 * 0.0254
QUAD_SEGS = (16, 256)
CORNERS = (8, 16, 32, 64, 10_000)
Floats = NDArray[np.float64]
Whole = NDArray[np.int64]
Result = TypeVar("Result")


@dataclass(frozen=True, kw_only=True)
class Bench:
    """One invented course and its crossing points."""

    grounds: tuple[Ground, ...]
    points: Floats
    owners: Whole
    point_holes: Whole
    holes: Floats


def blob(rng: np.random.Generator, x: float, y: float, radius_m: float) -> Polygon:
    """A smooth outline of 100 to 300 corners."""
    turns = np.linspace(0, 2 * math.pi, int(rng.integers(100, 301)), endpoint=False)
    waves = sum(rng.uniform(-0.12, 0.12) * np.cos(k * turns + rng.uniform(0, 6)) for k in (2, 3, 4, 5))
    return Polygon(np.column_stack([x + radius_m * (1 + waves) * np.cos(turns), y + radius_m * (1 + waves) * np.sin(turns)]))


def stream(rng: np.random.Generator, x: float, y: float) -> Polygon:
    """A stream of 3 m along one side of a hole."""
    along = np.linspace(0, 300, 140)
    bends = np.column_stack([x + 4 * np.sin(along / rng.uniform(9, 16) + rng.uniform(0, 6)), y + along])
    return Polygon(LineString(bends).buffer(1.5, quad_segs=2).exterior)


def bench() -> Bench:
    """18 holes of 90 by 340 m; on each a green, six ponds, a stream, and bunkers, some of them against the water."""
    rng = np.random.default_rng(42)
    water: list[Polygon] = []
    dry: list[tuple[Polygon, int, int]] = []
    holes = []
    for number in range(18):
        x, y = 90.0 * (number % 6), 340.0 * (number // 6)
        holes.append((x + 45.0, y + 320.0))
        dry.append((blob(rng, x + 45, y + 320, 13), sums.PUTTING_GREEN, 1 << number))
        water.append(stream(rng, x + 6, y + 20))
        for pond in range(6):
            px, py = x + rng.uniform(25, 75), y + 30 + 45 * pond
            water.append(blob(rng, px, py, rng.uniform(7, 11)))
            dry.append((blob(rng, px + rng.uniform(9, 14), py + rng.uniform(-6, 6), rng.uniform(3, 5)), sums.BUNKER, -1))
    joined = [part for part in shapely.get_parts(shapely.union_all(water)) if isinstance(part, Polygon)]
    wet = shapely.union_all(joined)
    grounds = [Ground(geometry=shapely.box(-5, -5, 545, 1030), column=sums.COURSE)]
    grounds += [Ground(geometry=area, column=sums.OTHER_PENALTY_AREA, owner=owner) for owner, area in enumerate(joined)]
    for polygon, column, serves in dry:
        left = polygon.difference(wet)
        largest = max(shapely.get_parts(left), key=lambda part: part.area)
        grounds.append(Ground(geometry=largest, column=column, serves=serves))
    points, owners, point_holes = crossing_points(joined)
    return Bench(grounds=tuple(grounds), points=points, owners=owners, point_holes=point_holes, holes=np.array(holes))


def crossing_points(areas: list[Polygon]) -> tuple[Floats, Whole, Whole]:
    """Points at equal steps along all edges, in the order of the edges, with the number of their area and of the hole on whose ground."""
    lengths_m = np.array([area.exterior.length for area in areas])
    ends_m = np.cumsum(lengths_m)
    at_m = (np.arange(POINTS) + 0.5) * ends_m[-1] / POINTS
    owners = np.searchsorted(ends_m, at_m).astype(np.int64)
    rings = np.array([area.exterior for area in areas])[owners]
    points = shapely.get_coordinates(shapely.line_interpolate_point(rings, at_m - (ends_m - lengths_m)[owners]))
    holes = np.clip(points[:, 0] // 90, 0, 5) + 6 * np.clip(points[:, 1] // 340, 0, 2)
    return points, owners, holes.astype(np.int64)


def by_kernel(data: Bench, rings: Rings) -> Floats:
    """Areas by column: the program's way."""
    return measure_table(rings, data.points, data.owners, data.point_holes, data.holes, SIZE_M, marking_kernel.measure_crescents)


def _column(data: Bench, ground: int, point: int) -> int | None:
    """The column that a ground counts to for a point, or none."""
    found = data.grounds[ground]
    if not (found.serves >> int(data.point_holes[point])) & 1:
        return None
    return sums.OWN_PENALTY_AREA if found.owner == data.owners[point] >= 0 else found.column


def by_loop(data: Bench, tree: shapely.STRtree, count: int, quad_segs: int) -> Floats:
    """The same with shapely's calls in a loop, for every so many-th point; circles have so many edges a quadrant."""
    table = np.zeros((count, sums.COLUMNS))
    for row, point in enumerate(range(0, POINTS, POINTS // count)):
        at, hole = Point(data.points[point]), Point(data.holes[data.point_holes[point]])
        crescent = at.buffer(SIZE_M, quad_segs=quad_segs).difference(hole.buffer(at.distance(hole), quad_segs=quad_segs))
        table[row, sums.CRESCENT] = crescent.area
        for ground in tree.query(crescent):
            column = _column(data, int(ground), point)
            if column is not None:
                table[row, column] += crescent.intersection(data.grounds[ground].geometry).area
    return table


def crescents(data: Bench) -> NDArray[np.object_]:
    """All crescents as polygons of 64 + 8 edges, built at once."""
    to_hole = data.holes[data.point_holes] - data.points
    away_m = np.hypot(to_hole[:, 0], to_hole[:, 1])
    back = np.arctan2(-to_hole[:, 1], -to_hole[:, 0])
    half_outer, half_inner = np.arccos(-SIZE_M / (2 * away_m)), 2 * np.arcsin(SIZE_M / (2 * away_m))
    outer = back[:, None] + half_outer[:, None] * np.linspace(-1, 1, 65)
    inner = back[:, None] + half_inner[:, None] * np.linspace(1, -1, 9)[1:-1]
    rings = np.concatenate(
        [
            data.points[:, None, :] + SIZE_M * np.stack([np.cos(outer), np.sin(outer)], axis=2),
            data.holes[data.point_holes][:, None, :] + away_m[:, None, None] * np.stack([np.cos(inner), np.sin(inner)], axis=2),
        ],
        axis=1,
    )
    return np.asarray(shapely.polygons(rings))


def by_arrays(data: Bench, tree: shapely.STRtree, geometries: NDArray[np.object_]) -> Floats:
    """The same with shapely's arrays."""
    shapes = crescents(data)
    table = np.zeros((POINTS, sums.COLUMNS))
    table[:, sums.CRESCENT] = shapely.area(shapes)
    point, ground = tree.query(shapes)
    owner, column, serves = (np.array([getattr(each, name) for each in data.grounds]) for name in ("owner", "column", "serves"))
    counts = (serves[ground] >> data.point_holes[point]) & 1 == 1
    point, ground = point[counts], ground[counts]
    areas_m2 = shapely.area(shapely.intersection(shapes[point], geometries[ground]))
    is_own = owner[ground] == data.owners[point]
    np.add.at(table, (point, np.where(is_own, sums.OWN_PENALTY_AREA, column[ground])), areas_m2)
    return table


def seconds(work: Callable[[], object], repeats: int = REPEATS) -> float:
    """Median time of some runs."""
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def timed(work: Callable[[], Result]) -> tuple[float, Result]:
    """Seconds that one run takes, and what it gives."""
    start = time.perf_counter()
    result = work()
    return time.perf_counter() - start, result


def loops(data: Bench, tree: shapely.STRtree, table: Floats) -> dict[str, float]:
    """Seconds for all points by each loop, from a sample of them."""
    found = {}
    for quad_segs in QUAD_SEGS:
        start = time.perf_counter()
        other = by_loop(data, tree, SAMPLE, quad_segs)
        found[f"shapely calls in a loop, {quad_segs} edges a quadrant"] = (time.perf_counter() - start) * POINTS / SAMPLE
        off_m2 = np.abs(other - table[:: POINTS // SAMPLE]).max()
        print(f"              circles of {quad_segs} edges a quadrant: areas differ by up to {off_m2:.3f} m²")
    return found


def measure() -> list[dict[str, str | float | int]]:
    """Time all ways; refuse where the finer ones disagree by more than drawn circles explain.

    Raises:
        AssertionError: A way gives another area.
    """
    data = bench()
    geometries = np.array([ground.geometry for ground in data.grounds], dtype=object)
    tree = shapely.STRtree(geometries)
    cut_s, rings = timed(lambda: cut_into_rings(data.grounds))
    first_s, table = timed(lambda: by_kernel(data, rings))
    ours_s = seconds(lambda: by_kernel(data, rings))
    print(f"marking audit {1000 * ours_s:5.1f} ms for {POINTS} points, first call {first_s:.2f} s")
    print(f"              finding rings {1000 * seconds(lambda: rings.near(data.points, SIZE_M)):.1f} ms of it; cut once in {cut_s:.2f} s:")
    print(f"              {len(geometries)} outlines, {sum(shapely.get_num_coordinates(geometries))} corners, {len(rings.columns)} rings")
    arrays_s = seconds(lambda: by_arrays(data, tree, geometries), 3)
    apart_m2 = float(np.abs(by_arrays(data, tree, geometries) - table).max())
    assert apart_m2 < 0.03, f"arrays and kernel differ by {apart_m2:.3f} m²"
    print(f"              arrays (crescents of 64 + 8 edges): areas differ by up to {apart_m2:.3f} m²")
    results: list[dict[str, str | float | int]] = []
    for name, other_s in (loops(data, tree, table) | {"shapely arrays": arrays_s}).items():
        print(f"              {name} {other_s:.2f} s   ratio {other_s / ours_s:.0f}")
        results.append(
            {"name": "marking audit", "ours_s": ours_s, "other": name, "other_s": other_s, "ratio": other_s / ours_s, "n": POINTS}
        )
    return results


def ring_sizes() -> None:
    """How long the audit takes by the most corners that a ring may have."""
    data = bench()
    for most in CORNERS:
        rings = cut_into_rings(data.grounds, most_corners=most)
        by_kernel(data, rings)
        print(f"              rings of up to {most:>5} corners {1000 * seconds(lambda rings=rings: by_kernel(data, rings)):6.1f} ms")  # type: ignore[misc]


if __name__ == "__main__":
    measure()
    ring_sizes()
