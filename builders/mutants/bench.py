"""Runs the tests of a package against one fault after the other, in a copy of the tree: a warm process forks for each fault.

A fault is noticed when a test fails, or when the tests need far longer than they do without it.
"""

from __future__ import annotations

import importlib
import os
import resource
import shutil
import signal
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from builders.mutants.faults import Fault

# Not hypothesis: its plugin must find it new.
HEAVY = ("numpy", "shapely", "scipy.stats", "pandas", "statsmodels.api", "numba", "pyproj", "yaml")
LEFT_OUT = shutil.ignore_patterns(".git", ".venv", ".hypothesis", ".*_cache", "out")
SPARE_S, TIMES_AS_LONG = 10, 5


def copy_tree(root: Path, place: Path) -> Path:
    """A copy of the repository in which files may be broken."""
    return Path(shutil.copytree(root, place / "tree", ignore=LEFT_OUT))


def warm_up() -> None:
    """Import what is large and none of ours, so that each fork begins with it."""
    for name in HEAVY:
        importlib.import_module(name)


def is_noticed(tree: Path, fault: Fault, tests: list[str], usual_s: float) -> bool:
    """Whether any of the tests fails with the fault in the copy; the tests run in the order given, up to the first that fails."""
    if not tests:
        return False
    with put_in(tree / "src" / "marram" / fault.file, fault.source):
        return not is_green(tree, tests, usual_s)


def is_green(tree: Path, tests: list[str], usual_s: float) -> bool:
    """Whether all of the tests pass in the copy as it stands, within the time they may take."""
    child = os.fork()
    if child == 0:
        try:
            run_tests(tree, tests, int(usual_s * TIMES_AS_LONG) + SPARE_S)
        finally:
            os._exit(1)  # nothing of what the parent has open may be closed or cleared here
    return os.waitpid(child, 0)[1] == 0


@contextmanager
def put_in(path: Path, source: str) -> Iterator[None]:
    """The fault in its file, and afterwards what was there; compiled files of the same second are not trusted."""
    old, stat = path.read_text(encoding="utf-8"), path.stat()
    compiled = list(path.parent.glob(f"__pycache__/{path.stem}.*"))
    for file in compiled:
        file.unlink()
    path.write_text(source, encoding="utf-8")
    try:
        yield
    finally:
        for file in path.parent.glob(f"__pycache__/{path.stem}.*"):
            file.unlink()
        path.write_text(old, encoding="utf-8")
        os.utime(path, ns=(stat.st_atime_ns, stat.st_mtime_ns))


def run_tests(tree: Path, tests: list[str], most_s: int) -> None:
    """In a process of its own: run the tests in the copy and end with how it went."""
    resource.setrlimit(resource.RLIMIT_CPU, (most_s, most_s))
    signal.signal(signal.SIGXCPU, signal.SIG_DFL)
    os.chdir(tree)
    sys.path[:0] = [str(tree / "src"), str(tree)]
    os.environ["PYTHONPATH"] = f"{tree / 'src'}{os.pathsep}{tree}"
    nothing = os.open(os.devnull, os.O_WRONLY)
    for stream in (1, 2):
        os.dup2(nothing, stream)
    files = list(dict.fromkeys(test.partition("::")[0] for test in tests))
    status = pytest.main(["-x", "-q", "-p", "no:cacheprovider", "--tb=no", "-m", "not long", *files], plugins=[Order(tests)])
    os._exit(0 if status == pytest.ExitCode.OK else 1)


class Order:
    """Keeps the tests that can see the fault, in the order given: the fastest first."""

    def __init__(self, tests: list[str]) -> None:
        self.place = {test: number for number, test in enumerate(tests)}

    @pytest.hookimpl(trylast=True)
    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        items[:] = sorted((item for item in items if item.nodeid in self.place), key=lambda item: self.place[item.nodeid])
