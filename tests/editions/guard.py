"""How many of the values on which editions differ are guarded: exchanging one for another edition's breaks a test.

Run by ``make long``, or as ``python -m tests.editions.guard``; ``--open`` lists what is not guarded, ``--by`` what guards the rest. Each
test without fixtures runs once, and what it reads of the rule data is noted. Then every differing value is exchanged in turn, and the
tests that read it run again, quickest first, until one of them breaks.
"""

from __future__ import annotations

import sys
from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from contextlib import redirect_stdout
from dataclasses import dataclass, field
from io import StringIO
from time import perf_counter

import pytest

from tests.support.exchange import Exchange, Place, Recorded, caches_of_answers, exchanged, exchanges, record_reads

WHERE = ("tests/editions", "tests/published", "tests/unit/rulings", "tests/unit/relief", "tests/unit/rulebook", "tests/unit/core")
MOST_SECONDS = 3.0
"""Longest time that the tests of one value may take before it counts as open."""
SLOW_S = 1.0
"""A test that takes longer is not run again and again."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reader:
    """A test that can run again and again, with what it reads and how long it takes."""

    name: str
    run: Callable[[], object]
    reads: frozenset[Place]
    takes_s: float


@dataclass
class Collected:
    """Takes the tests that pytest collects."""

    items: list[pytest.Function] = field(default_factory=list)

    def pytest_collection_finish(self, session: pytest.Session) -> None:
        """Keep every test that needs no fixture; one of random examples, or a long one, is left alone."""
        self.items = [item for item in session.items if isinstance(item, pytest.Function) and _runs_alone(item)]


def _runs_alone(item: pytest.Function) -> bool:
    given = set(item.callspec.params) if hasattr(item, "callspec") else set()
    is_random = hasattr(item.obj, "hypothesis")
    return set(item.fixturenames) <= given | {"request"} and not is_random and item.get_closest_marker("long") is None


def collect() -> list[pytest.Function]:
    """Every test that can run alone."""
    found = Collected()
    with redirect_stdout(StringIO()):
        pytest.main(["--collect-only", "-qqq", *WHERE], plugins=[found])
    return found.items


def readers_of(items: Sequence[pytest.Function]) -> list[Reader]:
    """Run each test once; one that does not hold as things are is left out and told."""
    readers = []
    for item in items:
        parameters = dict(item.callspec.params) if hasattr(item, "callspec") else {}

        def run(item: pytest.Function = item, parameters: Mapping[str, object] = parameters) -> None:
            item.obj(**parameters)

        Recorded.reads.clear()
        _forget()
        began = perf_counter()
        if _breaks(run):
            print(f"does not hold as things are: {item.nodeid}", file=sys.stderr)
            continue
        readers.append(Reader(name=item.nodeid, run=run, reads=frozenset(Recorded.reads), takes_s=perf_counter() - began))
    return readers


def _breaks(run: Callable[[], object]) -> bool:
    try:
        run()
    except (Exception, pytest.fail.Exception, pytest.skip.Exception):
        return True
    return False


def _forget() -> None:
    for cache in _CACHES:
        cache()


_CACHES: list[Callable[[], None]] = []


def guard_of(exchange: Exchange, readers: Sequence[Reader]) -> str:
    """The first test that breaks; empty where none does."""
    left_s = MOST_SECONDS
    with exchanged(exchange):
        for reader in readers:
            if left_s < 0:
                break
            _forget()
            if _breaks(reader.run):
                return reader.name
            left_s -= reader.takes_s
    return ""


def main(arguments: Sequence[str]) -> int:
    """Print how many values are guarded; the exit code is 0 whatever the number."""
    record_reads()
    items = collect()
    _CACHES.extend(caches_of_answers())
    readers = sorted((reader for reader in readers_of(items) if reader.takes_s < SLOW_S), key=lambda reader: reader.takes_s)
    print(f"{len(readers)} tests run alone", file=sys.stderr)
    by_place: dict[Place, list[Reader]] = defaultdict(list)
    for reader in readers:
        for place in reader.reads:
            by_place[place].append(reader)
    tried = [(exchange, guard_of(exchange, by_place[exchange.place])) for exchange in exchanges()]
    for exchange, guard in tried:
        if guard and "--by" in arguments:
            print(f"{exchange.name}: {guard}")
        if not guard and "--open" in arguments:
            print(f"open: {exchange.name} ({len(by_place[exchange.place])} tests read it)")
    print(f"guarded: {sum(bool(guard) for _, guard in tried)} of {len(tried)}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
