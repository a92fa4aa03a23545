"""Who was asked for answers, as officials write it down: how many players of each kind, or on each day; every fault told by row."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from marram.core.errors import RecordError
from marram.interchange.tables.table_rows import Faults, RowReader
from marram.interchange.tables.tables import read_rows, read_table
from marram.records.outcomes import outcomes
from marram.records.rows import Arm, AskedPlayers, Observation, TrialDay

KIND_NAMES = ["player kind", "band", "handicap band"]
"""Other headings of the kind of player."""
_COLUMNS: dict[str, list[str]] = {"kind": KIND_NAMES, "day": [], "asked": ["invited", "forms"]}
_MOST_ASKED, _MOST_LISTED = 100_000, 8
_HINT = "See docs/formats/trial-records.md."
_MET = "change_met"

Cell = tuple[str, str]
"""A kind of player on a day; either may be empty."""


def read_asked(
    path: Path, days: Sequence[TrialDay], observations: Sequence[Observation]
) -> tuple[tuple[AskedPlayers, ...], Sequence[Observation]]:
    """Read who was asked, and hold the answers against it.

    Args:
        path: The table: kind of player, or day, or both, and how many were asked.
        days: The days of the trial.
        observations: What was recorded.

    Returns:
        Who was asked, and what was recorded with the kind of player on each answer.

    Raises:
        RecordError: Rows have faults, or answers cannot belong to those asked; all of them are told by row.
    """
    needed = [["kind", "asked"], ["day", "asked"]]
    table = read_table(path, _COLUMNS, needed, what="a table of who was asked", error=RecordError)
    faults = Faults(where=table.where, error=RecordError, hint=_HINT)
    found: list[AskedPlayers] = []
    by = [column for column in ("kind", "day") if column in table.columns]
    read_rows(table, faults, lambda row: found.extend(_asked(row, by, days, table.where)))
    if not table.rows:
        faults.add("the table", "has no row below its heading")
    first: dict[Cell, str] = {}
    for entry in found:
        before = first.setdefault((_same(entry.kind), entry.day), entry.where)
        if before != entry.where:
            faults.add(entry.where, f"{_named(entry)} is told in {before} already: one row for each")
    faults.refuse()
    arms = {day.day: day.arm for day in days}
    sides = {arms.get(entry.day, Arm.TRIAL) for entry in found}
    kinds = _hold_against(
        found, [entry for entry in observations if _is_of_a_player_asked(entry) and (entry.arm or arms[entry.day]) in sides]
    )
    return tuple(found), [replace(entry, kind=kinds[entry.where]) if entry.where in kinds else entry for entry in observations]


def _asked(row: RowReader, by: Sequence[str], days: Sequence[TrialDay], where: str) -> list[AskedPlayers]:
    kind, day = row.text("kind"), row.text("day")
    for column in by:
        if not row.text(column):
            row.fault(column, "is empty")
    if day and day not in {one.day for one in days}:
        row.fault("day", f"{day!r} is not in the table of days")
        return []
    if day and next(one.arm for one in days if one.day == day) is None:
        row.fault("day", f"on {day} rules differ within the day; leave the days out and count who was asked under the trial rules")
        return []
    asked = row.whole("asked", least=0, most=_MOST_ASKED)
    if not row.text("asked"):
        row.fault("asked", "is empty; write 0 where nobody was asked")
    if asked is None or not all(row.text(column) for column in by):
        return []
    return [AskedPlayers(kind=kind, day=day, asked=asked, where=f"{where}, row {row.row.number}")]


def _same(kind: str) -> str:
    """A kind of player however it is written: case and spaces do not count."""
    return " ".join(kind.casefold().split())


def _named(entry: AskedPlayers | Observation) -> str:
    return " on day ".join(filter(None, (entry.kind, entry.day))) if entry.kind else f"day {entry.day}"


def _is_of_a_player_asked(entry: Observation) -> bool:
    """Whether a row is the answer of a player, or says that he has none to give because he did not meet the change."""
    return outcomes()[entry.outcome].is_answer or (entry.outcome == _MET and entry.value == 0 and bool(entry.player))


def _hold_against(asked: Sequence[AskedPlayers], rows: Sequence[Observation]) -> dict[str, str]:
    """See that each row belongs to somebody who was asked, and that no more answer than were asked.

    Returns:
        The kind of player of each row, by where it stands, written as the table of who was asked has it.
    """
    told = {(_same(entry.kind), entry.day): entry for entry in asked}
    faults = Faults(where="The answers and who was asked", error=RecordError, hint=_HINT)
    has_kinds, has_days = any(entry.kind for entry in asked), any(entry.day for entry in asked)
    kinds = _kinds_of_players(rows, faults) if has_kinds else {}
    found: dict[str, str] = {}
    cells: dict[Cell, list[Observation]] = defaultdict(list)
    for entry in rows:
        cell = (_same(entry.kind) or kinds.get((entry.day, entry.player), "") if has_kinds else "", entry.day if has_days else "")
        if has_kinds and not cell[0]:
            faults.add(entry.where, "column kind: is empty: who was asked is told by kind, and nothing says of what kind this player is")
        elif cell not in told:
            faults.add(entry.where, f"nobody was asked of {_named(entry) if has_kinds else f'day {entry.day}'}; {_listed(asked)}")
        else:
            cells[cell].append(entry)
            found[entry.where] = told[cell].kind
    for cell, entries in cells.items():
        _refuse_more_than_asked(told[cell], entries, faults)
    faults.refuse()
    return found


def _kinds_of_players(rows: Sequence[Observation], faults: Faults) -> Mapping[tuple[str, str], str]:
    """Of each player on each day the kind, which need stand in one row only."""
    kinds: dict[tuple[str, str], str] = {}
    for entry in rows:
        if entry.player and entry.kind:
            kept = kinds.setdefault((entry.day, entry.player), _same(entry.kind))
            if kept != _same(entry.kind):
                faults.add(entry.where, f"column kind: player {entry.player} is {entry.kind} here and {kept} in another row of that day")
    return kinds


def _refuse_more_than_asked(told: AskedPlayers, rows: Sequence[Observation], faults: Faults) -> None:
    """No more players can answer a question, or say that they did not meet its change, than were asked."""
    who: dict[tuple[str, int | None, int | None], set[str]] = defaultdict(set)
    for entry in rows:
        # A second answer of a player is queried when the trial is weighed; one that was looked at again counts.
        who[entry.outcome, entry.change, entry.question].add(
            f"{entry.day} {entry.round} {entry.player}" if entry.player and not entry.is_checked else entry.where
        )
    for (outcome, change, question), players in who.items():
        if outcome == _MET:
            continue
        all_told = players.union(*(who.get((_MET, of, None), set()) for of in {change, None}))
        if len(all_told) > told.asked:
            asks = f", question {question}" if question else ""
            faults.add(
                told.where,
                f"{told.asked} were asked of {_named(told)}, and {len(all_told)} answered {outcome} of change {change or 'none'}{asks} "
                "or said that they did not meet it",
            )


def _listed(asked: Sequence[AskedPlayers]) -> str:
    """What may stand there, the first few."""
    names = list(dict.fromkeys(map(_named, asked)))
    return f"who was asked lists {', '.join(names[:_MOST_LISTED])}{', …' * (len(names) > _MOST_LISTED)}"
