"""An incident, a course and books from their files, ruled on in one workroom that every test of a process shares."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from pathlib import Path

from marram.office.play.give_ruling import Rulings, give_rulings
from marram.office.workroom import Workroom


@lru_cache(maxsize=1)
def workroom() -> Workroom:
    return Workroom()


def ruled_files(incident: Path, course: Path, books: Sequence[str]) -> Rulings:
    room = workroom()
    asked, opened = room.books(books), room.course(course)
    return give_rulings(room.incident(incident, opened.course, asked), opened, asked, where=incident.name)
