"""Which tests run each line of a package, and how long each takes: recorded once, so that a fault is shown only to tests that can see it.

Run as ``python -m builders.mutants.reached OUT PACKAGES TEST...`` inside the tree that is looked at. What a cached function, a shared
fixture or a module of tests does when it is first used counts for each test that uses it, not for the first one alone.
"""

from __future__ import annotations

import functools
import importlib
import json
import pkgutil
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from coverage import Coverage

IMPORTED = "import"
Wrapped = Callable[..., object]


class Contexts:
    """Says to the measuring of lines who runs them now, and keeps who uses what."""

    def __init__(self, coverage: Coverage) -> None:
        self.coverage = coverage
        self.stack = [IMPORTED]
        self.uses: dict[str, set[str]] = {}
        self.took_s: dict[str, float] = {}

    def use(self, name: str) -> None:
        """Whoever runs now uses what that name did, now or before."""
        self.uses.setdefault(self.stack[-1], set()).add(name)

    def enter(self, name: str) -> None:
        """From now on lines are run by that name."""
        self.stack.append(name)
        self.coverage.switch_context(name)

    def leave(self) -> None:
        """Lines are run again by whoever ran before."""
        self.stack.pop()
        self.coverage.switch_context(self.stack[-1])

    def watch_caches(self) -> None:
        """Make each cached function say who calls it, and run under its own name when it must work."""
        plain = functools.lru_cache

        def watched(maxsize: int | Wrapped | None = 128, typed: bool = False) -> object:  # noqa: FBT001, FBT002
            if callable(maxsize):
                return self.watched(maxsize, plain)
            return lambda function: self.watched(function, plain(maxsize, typed))

        functools.lru_cache = watched  # type: ignore[assignment]

    def watched(self, function: Wrapped, keep: Callable[[Wrapped], Wrapped]) -> Wrapped:
        name = f"cache:{function.__module__}.{function.__qualname__}"

        def work(*args: object, **kwargs: object) -> object:
            self.enter(name)
            try:
                return function(*args, **kwargs)
            finally:
                self.leave()

        kept = keep(work)

        @functools.wraps(function)
        def call(*args: object, **kwargs: object) -> object:
            self.use(name)
            return kept(*args, **kwargs)

        call.cache_clear = kept.cache_clear  # type: ignore[attr-defined]
        return call


class Recorder:
    """The hooks of pytest that tell whose turn it is."""

    def __init__(self, contexts: Contexts) -> None:
        self.contexts = contexts

    @pytest.hookimpl(wrapper=True)
    def pytest_make_collect_report(self, collector: pytest.Collector) -> Iterator[None]:
        self.contexts.enter(f"collect:{collector.nodeid.partition('::')[0]}")
        try:
            return (yield)
        finally:
            self.contexts.leave()

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Iterator[None]:
        began = time.process_time()
        self.contexts.enter(item.nodeid)
        self.contexts.use(f"collect:{item.nodeid.partition('::')[0]}")
        for fixture in getattr(item, "fixturenames", []):
            self.contexts.use(f"fixture:{item.nodeid.partition('::')[0]}:{fixture}")
        try:
            return (yield)
        finally:
            self.contexts.leave()
            self.contexts.took_s[item.nodeid] = round(time.process_time() - began, 3)

    @pytest.hookimpl(wrapper=True)
    def pytest_fixture_setup(self, fixturedef: pytest.FixtureDef[object], request: pytest.FixtureRequest) -> Iterator[None]:
        self.contexts.enter(f"fixture:{request.node.nodeid.partition('::')[0]}:{fixturedef.argname}")
        try:
            return (yield)
        finally:
            self.contexts.leave()


def record(out: Path, tests: list[str], packages: tuple[str, ...]) -> int:
    """Run the tests once; write which of them reach each line, and the CPU seconds that each took."""
    root = Path("src/marram").resolve()
    coverage = Coverage(data_file=None, source=[str(root / package) for package in packages], config_file=False)
    contexts = Contexts(coverage)
    contexts.watch_caches()
    coverage.start()
    coverage.switch_context(IMPORTED)
    import_all()
    status = int(pytest.main(["-q", "-p", "no:cacheprovider", "-m", "not long", *tests], plugins=[Recorder(contexts)]))
    coverage.stop()
    data = coverage.get_data()
    lines = {Path(name).relative_to(root).as_posix(): data.contexts_by_lineno(name) for name in data.measured_files()}
    users = find_users(contexts)
    reached = {name: {str(line): sorted(gather(by, users)) for line, by in found.items()} for name, found in lines.items()}
    out.write_text(json.dumps({"reached": reached, "took_s": contexts.took_s}), encoding="utf-8")
    return status


def import_all() -> None:
    """Import the whole package, so that no test seems to run what an import runs."""
    package = importlib.import_module("marram")
    for module in pkgutil.walk_packages(package.__path__, "marram."):
        if not module.name.endswith("__main__"):
            importlib.import_module(module.name)


def find_users(contexts: Contexts) -> dict[str, set[str]]:
    """For each name, the tests that use it, straight or through others."""
    users: dict[str, set[str]] = {}
    for test in contexts.took_s:
        waiting, seen = [test], {test}
        while waiting:
            new = contexts.uses.get(waiting.pop(), set()) - seen
            seen |= new
            waiting += new
        for name in seen:
            users.setdefault(name, set()).add(test)
    return users


def gather(names: list[str], users: dict[str, set[str]]) -> set[str]:
    """The tests behind some names; an import stays what it is."""
    return {test for name in names for test in ({IMPORTED} if name in ("", IMPORTED) else users.get(name, set()))}


if __name__ == "__main__":
    sys.exit(record(Path(sys.argv[1]), sys.argv[3:], tuple(sys.argv[2].split(","))))
