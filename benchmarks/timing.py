"""Timing side by side: several ways of one job, one after another in every round, so that a busy moment meets them all."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable, Mapping

Row = dict[str, str | float | int]


def side_by_side(ways: Mapping[str, Callable[[], object]], rounds: int) -> dict[str, float]:
    """Median seconds of each way; the processor's own, in which waiting for other programs is not counted."""
    times: dict[str, list[float]] = {name: [] for name in ways}
    for _ in range(rounds):
        for name, work in ways.items():
            start = time.process_time()
            work()
            times[name].append(time.process_time() - start)
    return {name: statistics.median(found) for name, found in times.items()}


def row(name: str, ours_s: float, other: str, other_s: float, count: int) -> Row:
    """One line of the results, printed as well; the ratio says how many times faster ours is."""
    print(f"{name:<34}{1000 * ours_s:10.2f} ms   {other:<44}{1000 * other_s:10.2f} ms   ratio {other_s / ours_s:7.3g}", flush=True)
    return {"name": name, "ours_s": ours_s, "other": other, "other_s": other_s, "ratio": other_s / ours_s, "n": count}
