"""The chapters of the desk: each is a folder of its own under ``chapters``, found by being there."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from marram.desk.pages.page import Desk, Page
    from marram.desk.pages.posted import Posted

GROUPS = ("today", "trial", "sheets")
"""The groups of the head, in the order of the job."""
_CHAPTERS = "marram.desk.chapters"


@dataclass(frozen=True, slots=True, kw_only=True)
class Chapter:
    """A chapter, as the server knows it: names alone, so that the server loads nothing of what it does.

    Attributes:
        name: Name of its folder; ``chapter.NAME`` among its words is what the head calls it.
        number: Its number in the head; 0 for a chapter that the head does not show.
        group: The group that it stands in.
        looks: The job that makes the page of each address; the first address is where the chapter begins.
        does: The job that is done with a form posted to each address.
        takes_files: Addresses to which files may be posted, and the most that one request may hold, bytes.
        takes_long: Jobs that take seconds: they are done in a process of their own, so that rulings wait for none of them.
    """

    name: str
    number: int
    group: str
    looks: Mapping[str, str]
    does: Mapping[str, str] = field(default_factory=dict)
    takes_files: Mapping[str, int] = field(default_factory=dict)
    takes_long: frozenset[str] = frozenset()

    @property
    def begins(self) -> str:
        """The address where it begins."""
        return next(iter(self.looks))


@dataclass(frozen=True, slots=True, kw_only=True)
class ChapterJobs:
    """What a chapter does.

    Attributes:
        looks: Jobs that make a page from the query of an address.
        does: Jobs that do something with a posted form.
    """

    looks: Mapping[str, Callable[[Desk, str], Page]]
    does: Mapping[str, Callable[[Desk, Posted], Page]] = field(default_factory=dict)


RULING = Chapter(name="ruling", number=1, group="today", looks={"/ruling": "ruling"})


def chapter_names() -> tuple[str, ...]:
    """Names of the folders."""
    package = importlib.import_module(_CHAPTERS)
    return tuple(sorted(found.name for found in pkgutil.iter_modules(package.__path__) if found.ispkg))


@cache
def chapters() -> tuple[Chapter, ...]:
    """The chapters besides the ruling, in the order of their numbers."""
    found: list[Chapter] = [importlib.import_module(f"{_CHAPTERS}.{name}").CHAPTER for name in chapter_names()]
    return tuple(sorted(found, key=lambda chapter: (chapter.number, chapter.name)))


def in_head() -> dict[str, tuple[Chapter, ...]]:
    """The chapters that the head shows, by group."""
    shown = [chapter for chapter in (RULING, *chapters()) if chapter.number]
    return {group: told for group in GROUPS if (told := tuple(chapter for chapter in shown if chapter.group == group))}


@cache
def jobs_of_chapters() -> tuple[ChapterJobs, ...]:
    """What the chapters do; only where pages are made."""
    return tuple(importlib.import_module(f"{_CHAPTERS}.{name}.{name}_jobs").JOBS for name in chapter_names())
