"""The log of a season's incidents as a TOML file: under which book they were ruled, over how many rounds, and each ball."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from pathlib import Path

from marram.core.errors import IncidentError
from marram.core.toml_text import read_toml
from marram.course.course import Course
from marram.interchange.field.incident_file import incident_of
from marram.interchange.tables.reading import LARGEST_TEXT_BYTES, read_text
from marram.rulings.case.incident import Incident

_HINT = "See docs/formats/incident-log.md."
_MEMBERS = {"book", "rounds", "incident"}
_MOST_ROUNDS = 1_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class LoggedIncident:
    """A ball that came up, under its name in the log."""

    id: str
    incident: Incident


@dataclass(frozen=True, slots=True, kw_only=True)
class IncidentLog:
    """The incidents of a season.

    Attributes:
        book: Name of the book that they were ruled under.
        rounds: In how many rounds of a player they came up; None where nobody counted.
        incidents: The balls, in order.
    """

    book: str
    rounds: int | None
    incidents: tuple[LoggedIncident, ...]


def read_log_book(path: Path) -> str:
    """Name of the book that a log says its incidents were ruled under.

    Raises:
        IncidentError: The file cannot be read, or names no book.
    """
    return _book(_raw(path), path.name)


def read_log(path: Path, course: Course, *, known_facts: frozenset[str], added_kinds: Collection[str] = ()) -> IncidentLog:
    """Read a log and place its incidents on a course.

    Args:
        path: The log.
        course: The course.
        known_facts: Names of the facts that the rule data may ask for.
        added_kinds: Kinds of condition that the books asked add.

    Raises:
        IncidentError: The file, or one of its incidents, cannot be used.
        SurveyError: The course has no such hole.
    """
    raw = _raw(path)
    rounds = raw.get("rounds")
    if rounds is not None and (not isinstance(rounds, int) or isinstance(rounds, bool) or not 0 < rounds <= _MOST_ROUNDS):
        raise IncidentError(f"{str(rounds)[:40]} rounds cannot be.", where=f"{path.name}, rounds", hint="Give a whole number above zero.")
    entries = raw.get("incident")
    if not isinstance(entries, list) or not entries or not all(isinstance(entry, dict) for entry in entries):
        raise IncidentError("The log holds no incident.", where=path.name, hint=f"Write [[incident]] for each. {_HINT}")
    found: dict[str, LoggedIncident] = {}
    for number, entry in enumerate(entries, start=1):
        name = entry.get("id")
        place = f"{path.name}, incident {number}"
        if not isinstance(name, str) or not name.strip() or name in found:
            raise IncidentError("An incident needs an id of its own.", where=place, hint='Write id = "2026-05-02-7", or the like.')
        members = {member: value for member, value in entry.items() if member != "id"}
        incident = incident_of(members, course, where=f"{path.name}, {name}", known_facts=known_facts, added_kinds=added_kinds)
        found[name] = LoggedIncident(id=name, incident=incident)
    return IncidentLog(book=_book(raw, path.name), rounds=rounds, incidents=tuple(found.values()))


def _raw(path: Path) -> Mapping[str, object]:
    text = read_text(path, what="a log of incidents", largest_bytes=LARGEST_TEXT_BYTES, error=IncidentError)
    raw = read_toml(text, where=path.name, hint=_HINT, error=IncidentError)
    unknown = sorted(raw.keys() - _MEMBERS)
    if unknown:
        raise IncidentError(f"There is no member {unknown[0]!r} here.", where=path.name, hint=f"Known: {', '.join(sorted(_MEMBERS))}.")
    return raw


def _book(raw: Mapping[str, object], where: str) -> str:
    book = raw.get("book")
    if not isinstance(book, str) or not book.strip():
        raise IncidentError("The log does not say which book was in force.", where=where, hint='Write book = "2023", or the like.')
    return book
