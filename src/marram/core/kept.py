"""What is worked out once, and no sooner than somebody asks: kept under a key, up to a number, or by whoever hands it on."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from functools import cached_property
from threading import RLock
from typing import Generic, TypeVar, cast

T = TypeVar("T")
_MOST = 512


class Kept:
    """A keeper for one owner: a course, a book, a ruling. Several threads may ask it; each thing is worked out by one of them."""

    def __init__(self, most: int = _MOST) -> None:
        """Keep nothing yet.

        Args:
            most: So many things are kept; then the one that was asked for longest ago goes.
        """
        self._most = most
        self._found: dict[Hashable, object] = {}
        self._lock = RLock()

    def once(self, key: Hashable, work: Callable[[], T]) -> T:
        """What is kept under a key; worked out and kept where it is not there yet.

        Args:
            key: All that the work depends on. What is named in it by its identity must be held by what is kept.
            work: Works it out; what it raises is raised, and nothing is kept.
        """
        with self._lock:
            found = self._found.pop(key, self)
            if found is self:
                found = work()
                while len(self._found) >= self._most:
                    del self._found[next(iter(self._found))]
            self._found[key] = found  # what was asked for last goes last
            return cast(T, found)


class OnRequest(Generic[T]):
    """What is worked out when it is first asked for, and then known."""

    def __init__(self, work: Callable[[], T]) -> None:
        """Work out nothing yet.

        Args:
            work: Works it out; two threads that ask at once may both do so, and get the same.
        """
        self._work = work

    @cached_property
    def found(self) -> T:
        """What was asked for."""
        return self._work()
