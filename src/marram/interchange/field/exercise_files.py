"""Clarity exercises and stations as files: what is to be ruled or done, and the tables that people fill in and bring back."""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from io import StringIO
from pathlib import Path
from typing import TypeVar

import msgspec
from msgspec import Struct

from marram.core.errors import RecordError
from marram.core.toml_text import read_toml
from marram.evidence.clarity.assignment import Assigned
from marram.evidence.clarity.exercise import Ruled, Wording
from marram.evidence.clarity.stations import Tried
from marram.interchange.tables.file_faults import structure_fault
from marram.interchange.tables.reading import LARGEST_TEXT_BYTES, read_text
from marram.interchange.tables.table_rows import Faults, RowReader
from marram.interchange.tables.tables import read_rows, read_table
from marram.records.outcomes import outcomes
from marram.rulebook.overlays.overlay import Overlay

_HINT = "See docs/formats/exercises.md."
_RULED: Mapping[str, list[str]] = {"official": [], "place": [], "incident": [], "text": [], "answer": [], "seconds": []}
_TRIED: Mapping[str, list[str]] = {"player": [], "place": [], "task": [], "text": [], "value": []}
_LONGEST_S = 3600.0
Kind = TypeVar("Kind", bound=Struct)


class WrittenIncident(Struct, forbid_unknown_fields=True, frozen=True):
    """A written incident: what happened, the answers that may be given, and the act by which Marram rules on it."""

    name: str
    text: str
    answers: tuple[str, ...]
    act: str = ""
    facts: dict[str, bool] = msgspec.field(default_factory=dict)
    meant: dict[str, str] = msgspec.field(default_factory=dict)


class Task(Struct, forbid_unknown_fields=True, frozen=True):
    """A task at a station: what the player does, and which change it is about."""

    name: str
    text: str
    change: int


class _Incidents(Struct, forbid_unknown_fields=True):
    incident: tuple[WrittenIncident, ...]


class _Tasks(Struct, forbid_unknown_fields=True):
    task: tuple[Task, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BroughtBack:
    """A table that was brought back.

    Attributes:
        rulings: What was ruled; empty for stations.
        tries: What was done at stations; empty for incidents.
        blank: Rows in which nothing was filled in.
    """

    rulings: tuple[Ruled, ...] = ()
    tries: tuple[Tried, ...] = ()
    blank: int = 0


def read_incidents(path: Path) -> tuple[WrittenIncident, ...]:
    """Read written incidents.

    Raises:
        RecordError: The file cannot be used.
    """
    found = _converted(path, _Incidents, "a file of written incidents").incident
    faults = [f"incident {one.name}: fewer than two answers to choose from" for one in found if len(set(one.answers)) < 2]
    faults += [
        f"incident {one.name}, meant.{text}: {answer!r}; expected one of its answers under {' or '.join(Wording)}"
        for one in found
        for text, answer in one.meant.items()
        if text not in list(Wording) or answer not in one.answers
    ]
    _refuse(path, faults, [one.name for one in found])
    return found


def read_tasks(path: Path, trial: Overlay) -> tuple[Task, ...]:
    """Read tasks of stations.

    Raises:
        RecordError: The file cannot be used, or a task is about no change of the trial that expects something.
    """
    found = _converted(path, _Tasks, "a file of tasks").task
    faults = []
    for one in found:
        if not 1 <= one.change <= len(trial.changes):
            faults.append(f"task {one.name}, change: {one.change}; the trial has changes 1 to {len(trial.changes)}")
        elif trial.changes[one.change - 1].expects is None:
            faults.append(f"task {one.name}: change {one.change} expects nothing that could be measured")
    _refuse(path, faults, [one.name for one in found])
    return found


def _converted(path: Path, kind: type[Kind], what: str) -> Kind:
    text = read_text(path, what=what, largest_bytes=LARGEST_TEXT_BYTES, error=RecordError)
    try:
        return msgspec.convert(dict(read_toml(text, where=path.name, hint=_HINT, error=RecordError)), kind)
    except msgspec.ValidationError as problem:
        said, place = structure_fault(str(problem))
        raise RecordError(said, where=", ".join(filter(None, (path.name, place))), hint=_HINT) from None


def _refuse(path: Path, faults: list[str], names: Sequence[str]) -> None:
    faults += [f"{name!r} is named twice or not at all" for name in dict.fromkeys(names) if names.count(name) > 1 or not name.strip()]
    if faults or not names:
        raise RecordError("; ".join(faults) or "Nothing stands in the file.", where=path.name, hint=_HINT)


def blank_table(assigned: Sequence[Assigned], *, is_station: bool) -> str:
    """The table to be filled in, as CSV: one row for each thing to be done, in each person's order."""
    text = StringIO()
    out = csv.writer(text, lineterminator="\n")
    out.writerow(_TRIED if is_station else _RULED)
    for entry in assigned:
        out.writerow([entry.person, entry.place, entry.item, entry.wording.value, *([""] if is_station else ["", ""])])
    return text.getvalue()


def read_rulings(path: Path, incidents: Sequence[WrittenIncident]) -> BroughtBack:
    """Read what officials ruled; rows without an answer are counted.

    Raises:
        RecordError: Rows have faults, all of them told by row and column.
    """
    table = read_table(path, _RULED, [["official", "incident", "text", "answer"]], what="a table of rulings", error=RecordError)
    faults = Faults(where=table.where, error=RecordError, hint=_HINT)
    answers = {one.name: {answer.casefold(): answer for answer in one.answers} for one in incidents}
    found: list[Ruled] = []
    blank: list[int] = []

    def take(row: RowReader) -> None:
        if not row.text("answer"):
            blank.append(row.row.number)
            return
        name, text = row.text("incident"), row.text("text").casefold()
        answer = answers.get(name, {}).get(row.text("answer").casefold(), "")
        if name not in answers:
            row.fault("incident", f"{name!r} is none of the incidents of the exercise")
        elif not answer:
            row.fault("answer", f"{row.text('answer')!r}; expected one of {', '.join(answers[name].values())}")
        if _known_text(row, text) and answer and row.text("official"):
            seconds = row.number("seconds", least=0, most=_LONGEST_S, unit="s")
            found.append(Ruled(official=row.text("official"), incident=name, wording=Wording(text), answer=answer, seconds=seconds))

    read_rows(table, faults, take)
    faults.refuse()
    return BroughtBack(rulings=tuple(found), blank=len(blank))


def read_tries(path: Path, tasks: Sequence[Task], trial: Overlay) -> BroughtBack:
    """Read what came of the tasks; rows without a value are counted.

    Raises:
        RecordError: Rows have faults, all of them told by row and column.
    """
    table = read_table(path, _TRIED, [["player", "task", "text", "value"]], what="a table of stations", error=RecordError)
    faults = Faults(where=table.where, error=RecordError, hint=_HINT)
    changes = {one.name: one.change for one in tasks}
    found: list[Tried] = []
    blank: list[int] = []

    def take(row: RowReader) -> None:
        if not row.text("value"):
            blank.append(row.row.number)
            return
        name, text = row.text("task"), row.text("text").casefold()
        if name not in changes:
            row.fault("task", f"{name!r} is none of the tasks of the exercise")
            return
        expects = trial.changes[changes[name] - 1].expects
        assert expects is not None
        outcome = outcomes()[expects.outcome]
        value = row.number("value", least=outcome.least, most=outcome.most, unit=outcome.unit)
        if _known_text(row, text) and value is not None and row.text("player"):
            found.append(Tried(player=row.text("player"), task=name, change=changes[name], wording=Wording(text), value=value))

    read_rows(table, faults, take)
    faults.refuse()
    return BroughtBack(tries=tuple(found), blank=len(blank))


def _known_text(row: RowReader, text: str) -> bool:
    if text not in list(Wording):
        row.fault("text", f"{text!r}; expected one of {', '.join(Wording)}")
    return text in list(Wording)
