"""Processes that make pages and rulings, each with courses kept warm; the server itself never rules."""

from __future__ import annotations

import asyncio
import multiprocessing
import os
import signal
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from marram.desk.pages.page import Desk, Page

T = TypeVar("T")
_AT_MOST = 2


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
    """One or two processes, made anew when one of them dies."""

    def __init__(self, asked: DeskAsked) -> None:
        self._asked = asked
        self._pool = self._made()

    def _made(self) -> ProcessPoolExecutor:
        count = min(_AT_MOST, os.cpu_count() or 1) if (os.cpu_count() or 1) > 1 else _AT_MOST
        # A fresh interpreter for each: one that is split off from a running server would share its sockets.
        return ProcessPoolExecutor(count, mp_context=multiprocessing.get_context("spawn"), initializer=_open, initargs=(self._asked,))

    async def do(self, name: str, text: str) -> Page:
        """Do a job of the desk.

        Args:
            name: Name of the job.
            text: The query of a page, or the body of a request.
        """
        return await self.run(_job, name, text)

    async def run(self, work: Callable[..., T], *given: object) -> T:
        """Run something in one of the processes; if that one dies, once more in a new one.

        Args:
            work: A function of a module.
            given: What it takes.
        """
        pool = self._pool
        try:
            return await asyncio.get_running_loop().run_in_executor(pool, work, *given)
        except BrokenProcessPool:
            if self._pool is pool:
                self._pool = self._made()
            return await asyncio.get_running_loop().run_in_executor(self._pool, work, *given)

    async def warm(self) -> None:
        """Start every process, so that nobody waits for it later."""
        await asyncio.gather(*(self.do("home", "") for _ in range(_AT_MOST)))

    def close(self) -> None:
        """Stop the processes."""
        self._pool.shutdown(wait=True, cancel_futures=True)


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
    from marram.desk.pages.jobs import do_job

    return do_job(_DESK[0], name, text)
