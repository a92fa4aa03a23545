"""The check of a marking beside the same work done with shapely, on one dense invented course in the same run.

10,000 crossing points on the edges of ponds and streams, one hole each: the ground in the crescent by kind. The program's way is the
compiled kernel on small rings. Beside it the same crescents as polygons of 64 + 8 edges, which agree to 0.004 m²: in a loop over the
points, with the grounds prepared and in a search tree, on a sample and scaled to the same number of points; and with shapely's arrays, all
crescents at once. The plain functions, which a small course is measured with, are timed on the same sample.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from importlib import import_module
from typing import TypeVar

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Polygon

from benchmarks.timing import Row, row, side_by_side
from marram.relief.area import crescent_sums as sums
from marram.relief.marking.edges import Measuring, measure_table
from marram.relief.marking.small_rings import Ground, Rings, cut_into_rings

POINTS = 10_000
SAMPLE = 1_000
ROUNDS = 7
SIZE_M = 2 * 46 * 0.0254
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


def by_kernel(data: Bench, rings: Rings, kernel: Measuring) -> Floats:
    """Areas by column: the program's way."""
    return measure_table(rings, data.points, data.owners, data.point_holes, data.holes, SIZE_M, kernel)


def _column(data: Bench, ground: int, point: int) -> int | None:
    """The column that a ground counts to for a point, or none."""
    found = data.grounds[ground]
    if not (found.serves >> int(data.point_holes[point])) & 1:
        return None
    return sums.OWN_PENALTY_AREA if found.owner == data.owners[point] >= 0 else found.column


def crescents(points: Floats, holes: Floats) -> NDArray[np.object_]:
    """The crescents of some points, each with its hole, as polygons of 64 + 8 edges, built at once."""
    to_hole = holes - points
    away_m = np.hypot(to_hole[:, 0], to_hole[:, 1])
    back = np.arctan2(-to_hole[:, 1], -to_hole[:, 0])
    half_outer, half_inner = np.arccos(-SIZE_M / (2 * away_m)), 2 * np.arcsin(SIZE_M / (2 * away_m))
    outer = back[:, None] + half_outer[:, None] * np.linspace(-1, 1, 65)
    inner = back[:, None] + half_inner[:, None] * np.linspace(1, -1, 9)[1:-1]
    rings = np.concatenate(
        [
            points[:, None, :] + SIZE_M * np.stack([np.cos(outer), np.sin(outer)], axis=2),
            holes[:, None, :] + away_m[:, None, None] * np.stack([np.cos(inner), np.sin(inner)], axis=2),
        ],
        axis=1,
    )
    return np.asarray(shapely.polygons(rings))


def by_loop(data: Bench, tree: shapely.STRtree, geometries: NDArray[np.object_], rows: Whole) -> Floats:
    """The same in a loop over some of the points; the crescents are built at once, and ground that covers one is not cut."""
    table = np.zeros((len(rows), sums.COLUMNS))
    shapes = crescents(data.points[rows], data.holes[data.point_holes[rows]])
    for row_number, (point, crescent) in enumerate(zip(rows, shapes, strict=True)):
        table[row_number, sums.CRESCENT] = crescent.area
        for ground in tree.query(crescent, predicate="intersects"):
            column = _column(data, int(ground), int(point))
            if column is not None:
                whole = geometries[ground]
                part = crescent if whole.covers(crescent) else whole.intersection(crescent)
                table[row_number, column] += part.area
    return table


def by_arrays(data: Bench, tree: shapely.STRtree, geometries: NDArray[np.object_]) -> Floats:
    """The same with shapely's arrays."""
    shapes = crescents(data.points, data.holes[data.point_holes])
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


def timed(work: Callable[[], Result]) -> tuple[float, Result]:
    """Seconds that one run takes, and what it gives."""
    start = time.perf_counter()
    result = work()
    return time.perf_counter() - start, result


def by_plain(data: Bench, rings: Rings) -> Floats:
    """The first points of the course by the plain functions."""
    few = (data.points[:SAMPLE], data.owners[:SAMPLE], data.point_holes[:SAMPLE])
    return measure_table(rings, *few, data.holes, SIZE_M, sums.measure_crescents)


def measure() -> list[Row]:
    """Time all ways; refuse where they disagree by more than drawn circles explain.

    Raises:
        AssertionError: A way gives another area.
    """
    data = bench()
    geometries = np.array([ground.geometry for ground in data.grounds], dtype=object)
    shapely.prepare(geometries)
    tree = shapely.STRtree(geometries)
    sample = np.arange(0, POINTS, POINTS // SAMPLE)
    cut_s, rings = timed(lambda: cut_into_rings(data.grounds))
    load_s, kernel = timed(lambda: import_module("marram.relief.marking.kernel").measure_crescents)
    first_s, table = timed(lambda: by_kernel(data, rings, kernel))
    print(f"marking audit: {len(geometries)} outlines, {sum(shapely.get_num_coordinates(geometries))} corners, {len(rings.columns)} rings,")
    print(f"               cut once in {cut_s:.2f} s; kernel imported in {load_s:.2f} s; first call {first_s:.2f} s")
    apart_m2 = float(np.abs(by_arrays(data, tree, geometries) - table).max())
    assert apart_m2 < 0.03, f"shapely and the kernel differ by {apart_m2:.3f} m²"
    assert np.abs(by_loop(data, tree, geometries, sample) - table[sample]).max() <= apart_m2 + 1e-9, "the loop differs from the arrays"
    assert np.abs(by_plain(data, rings) - table[:SAMPLE]).max() < 1e-9, "the plain functions and the kernel differ"
    print(f"               areas differ by up to {apart_m2:.3f} m² from crescents of 64 + 8 edges")
    median_s = side_by_side(
        {
            "ours": lambda: by_kernel(data, rings, kernel),
            "near": lambda: rings.near(data.points, SIZE_M),
            "loop": lambda: by_loop(data, tree, geometries, sample),
            "arrays": lambda: by_arrays(data, tree, geometries),
            "plain": lambda: by_plain(data, rings),
        },
        ROUNDS,
    )
    print(f"               finding rings {1000 * median_s['near']:.2f} ms of it")
    name, share = "marking audit", POINTS / SAMPLE
    return [
        row(name, median_s["ours"], "shapely loop, crescents of 64 + 8 edges", median_s["loop"] * share, POINTS),
        row(name, median_s["ours"], "shapely arrays, crescents of 64 + 8 edges", median_s["arrays"], POINTS),
        row(name, median_s["ours"], "our plain functions", median_s["plain"] * share, POINTS),
    ]


def ring_sizes() -> None:
    """How long the audit takes by the most corners that a ring may have."""
    data = bench()
    kernel = import_module("marram.relief.marking.kernel").measure_crescents
    cut = {f"rings of up to {most} corners": cut_into_rings(data.grounds, most_corners=most) for most in CORNERS}
    ways = {name: partial(by_kernel, data, rings, kernel) for name, rings in cut.items()}
    for name, median_s in side_by_side(ways, ROUNDS).items():
        print(f"               {name:<32}{1000 * median_s:6.1f} ms")


if __name__ == "__main__":
    measure()
    ring_sizes()
