"""The small faults of `make mutants`: the same seed gives the same list, and a fault that stands out is noticed."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from builders.mutants.choice import Record, choose_tests
from builders.mutants.faults import choose_faults, find_places, name_place
from builders.mutants.found import keep_found, read_found
from builders.mutants.page import Outcome, write_page

SOURCE = '''"""Sums."""

LEAST = 2


def total(values: list[int], *, least: int | None = None) -> int:
    """Add what is large enough."""
    return sum(value for value in values if value >= (least or LEAST))
'''
TEST = """from marram.sums.add import total


def test_total() -> None:
    assert total([1, 2, 3]) == 5
"""


@pytest.fixture
def tree(tmp_path: Path) -> Path:
    """A small package with one test."""
    for name, text in {
        "src/marram/__init__.py": "",
        "src/marram/sums/__init__.py": "",
        "src/marram/sums/add.py": SOURCE,
        "tests/unit/sums/test_add.py": TEST,
    }.items():
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return tmp_path


def test_the_same_seed_gives_the_same_faults_and_another_seed_others(tree: Path) -> None:
    root = tree / "src" / "marram"
    first, again, other = (choose_faults(root, "sums", seed, 2) for seed in ("a", "a", "b"))
    assert first == again
    assert len(first) == 2
    assert len({tuple(fault.name for fault in choose_faults(root, "sums", seed, 2)) for seed in "abcdefgh"}) > 1
    assert all(fault.source != SOURCE for fault in (*first, *other))


def test_a_line_above_does_not_move_the_choice(tree: Path) -> None:
    root = tree / "src" / "marram"
    before = [fault.name for fault in choose_faults(root, "sums", "a", 3)]
    (root / "sums" / "add.py").write_text(SOURCE.replace("LEAST = 2", 'WORDS = "none"\nLEAST = 2'), encoding="utf-8")
    assert [fault.name for fault in choose_faults(root, "sums", "a", 3)] == before


def test_types_and_the_bare_star_are_left_alone() -> None:
    """Four places of the source can be wrong: the 2, the comparison, the condition of the sum has none besides, and the or."""
    lines = {line for line, _ in find_places(SOURCE)}
    assert lines == {3, 8}
    assert len(find_places(SOURCE)) == 3
    assert name_place(SOURCE, 8) == "total"
    assert name_place(SOURCE, 3) == "module"


def test_a_fault_is_shown_to_the_tests_that_reach_its_line_the_fastest_first(tree: Path) -> None:
    (fault,) = [
        fault for fault in choose_faults(tree / "src" / "marram", "sums", "a", 9) if ">" in fault.before and ">=" not in fault.after
    ][:1]
    recorded = Record(reached={"sums/add.py": {"3": ["import"], "8": ["slow", "fast"]}}, took_s={"slow": 2.0, "fast": 0.1, "other": 0.0})
    assert choose_tests(tree, fault, recorded) == ["fast", "slow"]
    (constant,) = [fault for fault in choose_faults(tree / "src" / "marram", "sums", "a", 9) if fault.function == "module"]
    assert choose_tests(tree, constant, recorded) == ["fast", "slow"]
    assert choose_tests(tree, fault, Record(reached={}, took_s={"slow": 2.0})) == []


SHOW = """
import sys
from dataclasses import replace
from pathlib import Path
from builders.mutants import bench
from builders.mutants.faults import Fault
tree = Path(sys.argv[1])
source = (tree / "src/marram/sums/add.py").read_text()
fault = Fault(file="sums/add.py", function="total", line=8, before="", after="", source=source.replace(">=", ">"))
tests = ["tests/unit/sums/test_add.py::test_total"]
print(bench.is_green(tree, tests, 0.0), bench.is_noticed(tree, fault, tests, 0.0), bench.is_noticed(tree, fault, [], 0.0))
print(bench.is_noticed(tree, replace(fault, source=source + "# the same"), tests, 0.0), bench.is_green(tree, tests, 0.0))
print(bench.is_noticed(tree, replace(fault, source=source.replace("return", "while True: pass")), tests, 0.0))
"""


def test_a_fault_that_stands_out_is_noticed_and_the_source_is_put_back(tree: Path) -> None:
    """A comparison that loses its equal sign, in a process of its own, as it forks; so is a loop that never ends."""
    root = Path(__file__).parents[2]
    program = SHOW.replace("tree = ", "bench.SPARE_S = 3\ntree = ", 1)
    command = [sys.executable, "-c", program, str(tree)]
    done = subprocess.run(command, cwd=root, env=os.environ | {"PYTHONPATH": str(root)}, capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["True", "True", "False", "False", "True", "True"]
    assert (tree / "src/marram/sums/add.py").read_text(encoding="utf-8") == SOURCE


def test_what_changes_nothing_is_never_counted_as_noticed(tree: Path) -> None:
    faults = choose_faults(tree / "src" / "marram", "sums", "a", 3)
    outcomes = [Outcome(package="sums", fault=fault, noticed=n == 0, is_same=n == 1) for n, fault in enumerate(faults)]
    keys = ("file", "function", "before", "after")
    same = [dict(zip(keys, faults[1].name, strict=True)) | {"why": "No reason."}]
    page = write_page(outcomes, "a", same, ["other"])
    assert "| sums | 3 | 1 | 33.3 % | 1 | 1 |" in page
    assert "| other | not run | | | | |" in page
    assert page.index("## Not noticed") < page.index(faults[2].after) and "No reason." in page.partition("## Change nothing")[2]
    assert write_page(outcomes, "a", same, ["other"]) == page


def test_what_was_found_in_one_package_stays_when_another_is_looked_at(tree: Path) -> None:
    one, two, three = choose_faults(tree / "src" / "marram", "sums", "a", 3)
    seen = [Outcome(package="sums", fault=fault, noticed=fault is one, is_same=False) for fault in (one, two)]
    keep_found(tree / "found", seen)
    keep_found(tree / "found", [Outcome(package="other", fault=three, noticed=False, is_same=False)])
    kept = read_found(tree / "found", ["other", "never", "sums"], {two.name})
    told = [(each.package, each.fault.name, each.noticed, each.is_same) for each in kept]
    assert told == [("other", three.name, False, False), ("sums", one.name, True, False), ("sums", two.name, False, True)]
    keep_found(tree / "found", [Outcome(package="sums", fault=two, noticed=True, is_same=False)])
    assert [each.fault.name for each in read_found(tree / "found", ["sums"], set())] == [two.name]
