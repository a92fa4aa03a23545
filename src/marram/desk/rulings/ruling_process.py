"""Processes that make pages and rulings, each with courses kept warm; the server itself never rules."""

from __future__ import annotations

import asyncio
import multiprocessing
import signal
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import cache
from multiprocessing.context import BaseContext
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, TypeVar
from urllib.parse import urlencode

if TYPE_CHECKING:
    from marram.desk.pages.page import Desk, Page
    from marram.desk.pages.posted import Posted

T = TypeVar("T")
_SPLIT_OFF = "forkserver"
_RULING = 2
"""Two even where there is one core: a long answer is then shared with a short one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DeskAsked:
    """What desk was asked for.

    Attributes:
        folder: The folder of courses, trials and days.
        books: The books that are asked where an address names none.
        scratch: A folder of the desk's own, for all its processes; None where it has none.
    """

    folder: Path
    books: tuple[str, ...] = ()
    scratch: Path | None = None


class RulingProcesses:
    """One or two processes, and one more for what takes long once that is asked; made anew when one of them dies."""

    def __init__(self, asked: DeskAsked, takes_long: frozenset[str] = frozenset()) -> None:
        self._scratch = TemporaryDirectory(prefix="marram-desk-")
        self._asked = replace(asked, scratch=Path(self._scratch.name))
        self._takes_long = takes_long
        self._pool = self._made(_RULING)
        self._long_pool: ProcessPoolExecutor | None = None
        self._is_asked = asyncio.Event()

    def _made(self, count: int) -> ProcessPoolExecutor:
        return ProcessPoolExecutor(count, mp_context=_context(), initializer=_begin, initargs=(self._asked,))

    def open(self, course: str) -> None:
        """Start the first process, and see that the desk can be opened; its first page is then at hand.

        Args:
            course: Name of the course that is shown first; empty for the first of the folder.

        Raises:
            DataError: There is no such folder, book or course, or it cannot be used.
        """
        self._pool.submit(_opened, course).result()

    async def do(self, name: str, text: str) -> Page:
        """Do a job of the desk.

        Args:
            name: Name of the job.
            text: The query of a page, or the body of a request.
        """
        try:
            return await self.run(_job, name, text, takes_long=name in self._takes_long)
        finally:
            self._is_asked.set()

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

    async def warm(self, patience_s: float = 0.0) -> None:
        """Start every process and load all that rules, so that nobody waits for it later.

        Args:
            patience_s: How long to wait for the first page to be asked, so as not to be in its way.
        """
        with suppress(TimeoutError):
            await asyncio.wait_for(self._is_asked.wait(), patience_s)
        await asyncio.gather(*(self.run(_warmed) for _ in range(_RULING)))

    def close(self) -> None:
        """Stop the processes; what takes long sees that its place is gone, and stops as well."""
        self._scratch.cleanup()
        for pool in filter(None, (self._pool, self._long_pool)):
            pool.shutdown(wait=True, cancel_futures=True)


_ASKED: list[DeskAsked] = []
"""What desk this process was asked for."""


def _context() -> BaseContext:
    """How processes are made: split off from one that has everything at hand, which is none of the server's and shares no socket with it.

    Where a system has no such way, a fresh interpreter for each.
    """
    if _SPLIT_OFF not in multiprocessing.get_all_start_methods():
        return multiprocessing.get_context("spawn")
    context = multiprocessing.get_context(_SPLIT_OFF)
    context.set_forkserver_preload(["marram.desk.rulings.at_hand"])
    return context


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
    return Desk(room=room, folder=folder, books=asked.books, scratch=asked.scratch)


def _begin(asked: DeskAsked) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the server is the one to be stopped, and stops these
    _ASKED[:] = [asked]


@cache
def _desk() -> Desk:
    """The desk of this process, opened when it is first asked for."""
    return open_desk(_ASKED[0])


def _opened(course: str) -> None:
    from marram.office.at_desk.stated_case import open_ground

    desk = _desk()
    if course:
        open_ground(desk.room, desk.folder, course)
    _job("home", urlencode({"course": course}))


def _warmed() -> None:
    from marram.desk.pages import ask_page, ruling_page, told_pages  # noqa: F401 - loaded before somebody waits for them
    from marram.desk.rulings.desk_jobs import looking_jobs

    looking_jobs()
    _job("home", "")


def _job(name: str, text: str) -> Page:
    from marram.desk.rulings.desk_jobs import do_job

    return do_job(_desk(), name, text)


def _posted_job(name: str, posted: Posted) -> Page:
    from marram.desk.rulings.desk_jobs import do_posted

    return do_posted(_desk(), name, posted)
