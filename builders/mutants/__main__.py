"""Put 300 small faults into what decides and see which of them the tests of their own package notice; writes docs/mutants.md.

Run as ``python -m builders.mutants``. Options for one who writes tests: one package, whose part of the page alone is written anew; fewer
faults, and no page is written; a record kept.
"""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
import tempfile
import tomllib
from pathlib import Path

from builders.mutants import bench
from builders.mutants.choice import Record, choose_tests
from builders.mutants.faults import Fault, choose_faults
from builders.mutants.found import keep_found, read_found
from builders.mutants.page import PAGE, Outcome, write_page

ROOT = Path(__file__).resolve().parents[2]
KEPT = Path(__file__).parent / "outcomes"
SEED = "marram-2026"
EACH, CONTROLS = 60, 50
PROPERTIES = {
    "relief": ("test_areas.py", "test_bands_and_arcs.py", "test_lines.py", "test_line_of_play.py"),
    "rulings": ("test_sums_of_acts.py",),
    "rulebook": (),
    "evidence": (),
    "course": (),
}
"""The packages looked at, each with the property tests that are its own and quick; tests/unit/<package> counts anyway."""


def list_tests(package: str) -> list[str]:
    """The tests that are a package's own."""
    return [f"tests/unit/{package}", *(f"tests/properties/{name}" for name in PROPERTIES[package])]


def record(tree: Path, package: str, kept: Path) -> Record:
    """Which tests reach each line, from the file kept or from a run of the tests in the copy."""
    if not kept.exists():
        paths = {"PYTHONPATH": f"{tree / 'src'}{os.pathsep}{tree}"}
        command = [sys.executable, "-m", "builders.mutants.reached", str(kept), package, *list_tests(package)]
        subprocess.run(command, cwd=tree, env=os.environ | paths, check=True)
    read = json.loads(kept.read_text(encoding="utf-8"))
    return Record(reached=read["reached"], took_s=read["took_s"])


def look_at(tree: Path, package: str, faults: list[Fault], kept: Path) -> list[Outcome]:
    """Show each fault of a package to its tests and tell how it went."""
    recorded = record(tree, package, kept)
    begin(tree, package, recorded.took_s)
    same = {tuple(row[key] for key in ("file", "function", "before", "after")) for row in list_same()}
    outcomes = []
    for number, fault in enumerate(faults, start=1):
        tests = choose_tests(tree, fault, recorded)
        usual_s = sum(recorded.took_s[test] for test in tests)
        noticed = bench.is_noticed(tree, fault, tests, usual_s)
        outcomes.append(Outcome(package=package, fault=fault, noticed=noticed, is_same=fault.name in same))
        if not noticed:
            print(f"{package} {number}: not noticed by {len(tests)} tests: {fault.file}:{fault.line} {fault.function}", flush=True)
            print(f"    {fault.before}\n    {fault.after}", flush=True)
    return outcomes


def begin(tree: Path, package: str, took_s: dict[str, float]) -> None:
    """See that the quickest tests pass where nothing is wrong: else each fault would seem noticed."""
    quickest = sorted(took_s, key=lambda test: (took_s[test], test))[:CONTROLS]
    if not bench.is_green(tree, quickest, 0.0):
        raise SystemExit(f"mutants: tests of {package} fail without any fault; make test says which")


def write_found(outcomes: list[Outcome]) -> None:
    """Keep what whole runs of packages found and write the page of all that was ever kept."""
    keep_found(KEPT, outcomes)
    same = list_same()
    kept = read_found(KEPT, list(PROPERTIES), {tuple(row[key] for key in ("file", "function", "before", "after")) for row in same})
    not_run = [package for package in PROPERTIES if package not in {one.package for one in kept}]
    (ROOT / PAGE).write_text(write_page(kept, SEED, same, not_run), encoding="utf-8")


def list_same() -> list[dict[str, str]]:
    """The changes that change nothing, by name and with a reason."""
    rows = tomllib.loads((Path(__file__).parent / "same.toml").read_text(encoding="utf-8"))["same"]
    assert isinstance(rows, list)
    return rows


def main() -> int:
    """Put the faults in, print what was not noticed, and write the page after a whole run."""
    parser = argparse.ArgumentParser(prog="python -m builders.mutants", description=__doc__)
    parser.add_argument("--package", choices=PROPERTIES, action="append", help="this package alone")
    parser.add_argument("--each", type=int, default=EACH, help="faults for each package")
    parser.add_argument("--record", type=Path, help="folder in which the record of reached lines is kept and looked for")
    chosen = parser.parse_args()
    os.environ["CI"] = "1"  # hypothesis draws the same examples on each run
    bench.warm_up()
    outcomes, ran = [], chosen.package or list(PROPERTIES)
    with tempfile.TemporaryDirectory() as place:
        tree = bench.copy_tree(ROOT, Path(place))
        for package in ran:
            faults = choose_faults(tree / "src" / "marram", package, SEED, chosen.each)
            found = look_at(tree, package, faults, (chosen.record or Path(place)) / f"reached-{package}.json")
            print(f"{package}: {sum(one.noticed for one in found)} of {len(found)} noticed", flush=True)
            outcomes += found
    if chosen.each == EACH:
        write_found(outcomes)
    return 0 if sum(one.noticed for one in outcomes) >= 0.85 * len(outcomes) else 1


if __name__ == "__main__":
    sys.exit(main())
