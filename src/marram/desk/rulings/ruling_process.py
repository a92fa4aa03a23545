"""Processes that make pages and rulings, each with courses kept warm; the server itself never rules."""

from __future__ import annotations

import asyncio
import multiprocessing
import signal
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from marram.desk.pages.page import Desk, Page
    from marram.desk.pages.posted import Posted

T = TypeVar("T")
_RULING = 2
"""Two even where there is one core: a long answer is then shared with a short one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DeskAsked:
    """What desk was asked for.

    Attributes:
        folder: The folder of courses, trials and days.
        books: The books that are asked where an address names none.
    """

    folder: Path
    books: tuple[str, ...] = ()


class RulingProcesses:
    """One or two processes, and one more for what takes long once that is asked; made anew when one of them dies."""

    def __init__(self, asked: DeskAsked, takes_long: frozenset[str] = frozenset()) -> None:
        self._asked = asked
        self._takes_long = takes_long
        self._pool = self._made(_RULING)
        self._long_pool: ProcessPoolExecutor | None = None

    def _made(self, count: int) -> ProcessPoolExecutor:
        # A fresh interpreter for each: one that is split off from a running server would share its sockets.
        return ProcessPoolExecutor(count, mp_context=multiprocessing.get_context("spawn"), initializer=_open, initargs=(self._asked,))

    async def do(self, name: str, text: str) -> Page:
        """Do a job of the desk.

        Args:
            name: Name of the job.
            text: The query of a page, or the body of a request.
        """
        return await self.run(_job, name, text, takes_long=name in self._takes_long)

    async def do_posted(self, name: str, posted: Posted) -> Page:
        """Do something with a form.

        Args:
            name: Name of the job.
            posted: The form.
        """
        return await self.run(_posted_job, name, posted, takes_long=name in self._takes_long)

    async def run(self, work: Callable[..., T], *given: object, takes_long: bool = False) -> T:
        """Run something in one of the processes; if that one dies, once more in a new one.

        Args:
            work: A function of a module.
            given: What it takes.
            takes_long: Whether it goes to the process of what takes long.
        """
        pool = self._for(takes_long)
        try:
            return await asyncio.get_running_loop().run_in_executor(pool, work, *given)
        except BrokenProcessPool:
            self._renew(pool)
            return await asyncio.get_running_loop().run_in_executor(self._for(takes_long), work, *given)

    def _for(self, takes_long: bool) -> ProcessPoolExecutor:
        if not takes_long:
            return self._pool
        self._long_pool = self._long_pool or self._made(1)
        return self._long_pool

    def _renew(self, broken: ProcessPoolExecutor) -> None:
        if self._pool is broken:
            self._pool = self._made(_RULING)
        elif self._long_pool is broken:
            self._long_pool = None

    async def warm(self) -> None:
        """Start every process, so that nobody waits for it later."""
        await asyncio.gather(*(self.do("home", "") for _ in range(_RULING)))

    def close(self) -> None:
        """Stop the processes."""
        for pool in filter(None, (self._pool, self._long_pool)):
            pool.shutdown(wait=True, cancel_futures=True)


_DESK: list[Desk] = []
"""The desk of this process, opened once when the process starts."""


def open_desk(asked: DeskAsked) -> Desk:
    """Open the desk that was asked for.

    Args:
        asked: What was asked for.

    Raises:
        DataError: There is no such folder or book.
    """
    from marram.desk.pages.page import Desk
    from marram.office.at_desk.stated_case import open_books
    from marram.office.workroom import Workroom

    room = Workroom()
    folder = room.desk_folder(asked.folder)
    open_books(room, folder, asked.books)
    return Desk(room=room, folder=folder, books=asked.books)


def _open(asked: DeskAsked) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the server is the one to be stopped, and stops these
    _DESK[:] = [open_desk(asked)]


def _job(name: str, text: str) -> Page:
    from marram.desk.rulings.desk_jobs import do_job

    return do_job(_DESK[0], name, text)


def _posted_job(name: str, posted: Posted) -> Page:
    from marram.desk.rulings.desk_jobs import do_posted

    return do_posted(_DESK[0], name, posted)
