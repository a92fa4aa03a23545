"""All benchmarks: whole processes beside a bare interpreter, then the searches and audits beside other ways of doing the same."""

from __future__ import annotations

import json
import statistics
import subprocess
import sys
import time
from pathlib import Path

from benchmarks import marking, nearest_point

ROOT = Path(__file__).resolve().parents[1]
MAIN = "from marram.cli.main import main; main()"
RULE = ["rule", "examples/incidents/pond-7.toml", "--course", "examples/courses/thimble-moor.geojson", "--book", "2023", "--json"]
RUNS = 7


def seconds(words: list[str]) -> float:
    """Median time of a process."""
    times = []
    for _ in range(RUNS):
        start = time.perf_counter()
        subprocess.run([sys.executable, *words], cwd=ROOT, check=True, capture_output=True)
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def main() -> None:
    """Measure, print, and write benchmarks/results.json."""
    bare_s = seconds(["-c", "pass"])
    results: list[dict[str, str | float | int]] = []
    for name, words in (("marram --help", ["--help"]), ("cold rule", RULE)):
        ours_s = seconds(["-c", MAIN, *words])
        print(f"{name:<16}{ours_s:7.3f} s   bare interpreter {bare_s:.3f} s   ratio {ours_s / bare_s:.1f}")
        results.append(
            {"name": name, "ours_s": ours_s, "other": "bare interpreter", "other_s": bare_s, "ratio": ours_s / bare_s, "n": RUNS}
        )
    results += nearest_point.measure()
    results += marking.measure()
    (ROOT / "benchmarks" / "results.json").write_text(json.dumps(results, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
