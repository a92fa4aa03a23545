"""Things that are kept: worked out once, the one asked for longest ago given up, nothing kept of what failed."""

from __future__ import annotations

from collections.abc import Callable
from threading import Barrier, Thread

import pytest

from marram.core.kept import Kept


def counted(done: list[str], name: str) -> Callable[[], str]:
    def work() -> str:
        done.append(name)
        return name

    return work


def test_a_thing_is_worked_out_once() -> None:
    kept, done = Kept(), list[str]()
    assert [kept.once(name, counted(done, name)) for name in "abab"] == ["a", "b", "a", "b"]
    assert done == ["a", "b"]


def test_the_thing_asked_for_longest_ago_goes_first() -> None:
    kept, done = Kept(2), list[str]()
    for name in "abacab":
        kept.once(name, counted(done, name))
    assert done == ["a", "b", "c", "b"]


def test_nothing_is_kept_of_what_failed_and_what_is_none_is_kept() -> None:
    kept, done = Kept(), list[str]()
    with pytest.raises(ZeroDivisionError):
        kept.once("a", lambda: 1 // 0)
    assert kept.once("a", counted(done, "a")) == "a"
    assert kept.once("none", lambda: None) is None
    assert kept.once("none", lambda: done.append("again")) is None
    assert done == ["a"]


def test_several_threads_get_the_same_thing() -> None:
    kept, found, start = Kept(), list[object](), Barrier(8)

    def ask() -> None:
        start.wait()
        found.append(kept.once("thing", object))

    threads = [Thread(target=ask) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(found) == 8 and len(set(map(id, found))) == 1
