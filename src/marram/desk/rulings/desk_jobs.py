"""Everything that can be asked of the desk, by name, and done so that no fault of ours reaches a reader as a traceback."""

from __future__ import annotations

import logging
from collections.abc import Callable
from dataclasses import replace
from functools import cache

from marram.answers.error_answer import usage_answer
from marram.core.errors import MarramError
from marram.desk.pages.case_address import Address
from marram.desk.pages.chapter_list import jobs_of_chapters
from marram.desk.pages.page import Desk, Page, error_as_page, json_page
from marram.desk.pages.page_jobs import PAGE_JOBS
from marram.desk.pages.posted import Posted

_LOG = logging.getLogger("marram.desk")
_OUR_FAULT = 500
_EVERY_FRAME = "moving"
"""The job that is done while a ball moves: the folder is not looked through for it."""


@cache
def looking_jobs() -> dict[str, Callable[[Desk, str], Page]]:
    """Jobs that make a page, or an answer, from a text."""
    return PAGE_JOBS | {name: job for chapter in jobs_of_chapters() for name, job in chapter.looks.items()}


@cache
def doing_jobs() -> dict[str, Callable[[Desk, Posted], Page]]:
    """Jobs that do something with a posted form."""
    return {name: job for chapter in jobs_of_chapters() for name, job in chapter.does.items()}


def do_job(desk: Desk, name: str, text: str) -> Page:
    """Make a page; what goes wrong in Marram itself is written down here and told without a traceback.

    Args:
        desk: What pages are made with.
        name: Name of the job.
        text: The query of a page, or the body of a request.
    """
    return _told(name, lambda: _looking(name)(desk if name == _EVERY_FRAME else _as_it_is(desk), text))


def do_posted(desk: Desk, name: str, posted: Posted) -> Page:
    """Do something with a form, likewise.

    Args:
        desk: What pages are made with.
        name: Name of the job.
        posted: The form.
    """
    return _told(name, lambda: doing_jobs()[name](_as_it_is(desk), posted))


def _looking(name: str) -> Callable[[Desk, str], Page]:
    """A job by its name; for the pages of the ruling no chapter is loaded."""
    return PAGE_JOBS.get(name) or looking_jobs()[name]


def _as_it_is(desk: Desk) -> Desk:
    """The desk with its folder as it is now: another page, or somebody's hand, may have written to it."""
    return replace(desk, folder=desk.room.desk_folder(desk.folder.root))


def _told(name: str, do: Callable[[], Page]) -> Page:
    try:
        return do()
    except MarramError as problem:
        return error_as_page(problem, Address(values={}))
    except Exception:
        _LOG.exception("The job %s failed.", name)
        told = usage_answer("Something went wrong in Marram itself.", where="desk", hint="The window in which the desk runs tells more.")
        return json_page(told, _OUR_FAULT)
