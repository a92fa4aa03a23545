"""The log of a day as a table, one thing that was observed a row: every fault by row and column, in one pass."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path

from marram.core.errors import EventError, RecordError
from marram.core.words import shortly
from marram.events.observed.log_entry import WATCHED_FOR, LogEntry, Mark, Thing, Watched, may_be_measured_of
from marram.interchange.field.written_values import YES, clock_s, value_written
from marram.interchange.tables.table_rows import Faults, Row, RowReader
from marram.interchange.tables.tables import read_rows, read_table
from marram.records.outcomes import outcomes
from marram.records.recording import outcome_written, written_outcomes

HINT = "See docs/formats/event-log.md."
WATCHED = "watched"
"""What stands under *what* where somebody watched for something all round."""
MOST_HOLE, MOST_ROUND, MOST_GROUP = 18, 8, 9_999
_MOST_ROWS, _FAR_M, _LONGEST = 50_000, 1_000_000.0, 400
_DISPUTED = "disputes"
_OWN = ("id", "group", "player", "hole", "round", "ruling", "act", "spot", "feature", "x_m", "y_m", "at", *Mark, "change", "question")
_WORDS = ("form", "kind", "recorder", "checked", "says", "outcomes")
_OTHERS = {"what": ("observed", "thing"), "recorder": ("observer",), "at": ("time",)}


@dataclass(frozen=True, slots=True, kw_only=True)
class LogRead:
    """A log as it was read; what tells entries apart is given where they are written down.

    Attributes:
        entries: What was observed, each with its row.
        watched: What was watched for, each with its row.
        remarks: What is no fault and still worth a look.
    """

    entries: tuple[tuple[int, LogEntry], ...]
    watched: tuple[tuple[int, Watched], ...]
    remarks: tuple[str, ...] = ()


def read_log_table(path: Path) -> LogRead:
    """Read the log of a day.

    Args:
        path: A CSV file or a workbook.

    Raises:
        EventError: The file cannot be used; every fault is told with its row and column.
    """
    faults = Faults(where=path.name, error=RecordError, hint=HINT)
    table = read_table(path, _columns(), [("what",)], what="a log of a day", error=RecordError, faults=faults)
    if not table.rows:
        faults.add("the table", "there is no row below the heading")
    if len(table.rows) > _MOST_ROWS:
        faults.add("the table", f"it holds {len(table.rows)} rows; {_MOST_ROWS:,} at most are read")
    entries: list[tuple[int, LogEntry]] = []
    watched: list[tuple[int, Watched]] = []

    def take(row: RowReader) -> None:
        if row.text("what").casefold() == WATCHED:
            watched.extend((row.row.number, one) for one in _watched(row))
        elif (entry := _entry(row)) is not None:
            entries.append((row.row.number, entry))

    read_rows(table, faults, take)
    faults.refuse()
    remarks = tuple(f"Not read: column {name}." for name in table.not_read)
    return LogRead(entries=tuple(entries), watched=tuple(watched), remarks=remarks)


class _Asked(RowReader):
    """A row that was typed as a command: its cells are fields."""

    def place(self, column: str) -> str:
        """The field."""
        return column


def read_one(cells: Mapping[str, str]) -> LogEntry:
    """Read one thing that was observed.

    Args:
        cells: What is said of it, by the names of the columns of the table.

    Raises:
        RecordError: It cannot be used; every fault is told with its field.
    """
    faults = Faults(where="", error=RecordError, hint=HINT)
    known = set(_columns())
    unknown = [name for name in cells if name not in known]
    for name in unknown:
        faults.add(name, f"nothing of that name is written down; nearest: {', '.join(get_close_matches(name, known, n=3, cutoff=0.0))}")
    row = _Asked(Row(number=1, cells={name: text for name, text in cells.items() if text and name in known}), faults, may_be_comma=False)
    entry = _entry(row)
    faults.refuse()
    assert entry is not None, "an entry without a fault"
    return entry


def outcomes_watched(names: Iterable[str]) -> tuple[str, ...]:
    """Outcomes that can be watched for, by their names or what stands over their columns.

    Args:
        names: The names.

    Raises:
        EventError: One of them cannot be watched for.
    """
    return tuple(_watched_for(name) for name in names)


def _watched_for(name: str) -> str:
    try:
        key = outcome_written(name).key
    except RecordError:
        key = ""
    if key not in WATCHED_FOR:
        told = f"{shortly(name)} is nothing that is watched for all round."
        raise EventError(told, hint=f"Known: {', '.join(WATCHED_FOR)}.")
    return key


def _columns() -> dict[str, tuple[str, ...]]:
    """Names of all columns: those of the log, and every outcome by its name or by what stands over it on paper."""
    own = {str(name): _OTHERS.get(name, ()) for name in ("what", *_OWN, *_WORDS)}
    headings = {key: (written_outcomes()[key].called,) for key in outcomes()}
    taken = {name.casefold() for name in own}
    return own | {key: tuple(name for name in names if name.casefold() not in taken) for key, names in headings.items()}


def _watched(row: RowReader) -> list[Watched]:
    group, number = _whole(row, "group", MOST_GROUP), _whole(row, "round", MOST_ROUND)
    found = []
    names = row.text("outcomes").replace(",", " ").replace(";", " ").split()
    if not names:
        row.fault("outcomes", f"is empty; expected what was watched for: {', '.join(WATCHED_FOR)}")
    for name in names:
        try:
            found.append(Watched(outcome=_watched_for(name), group=group, round=number or 1))
        except EventError as problem:
            row.fault("outcomes", f"{problem.message} {problem.hint}")
    return found


def _entry(row: RowReader) -> LogEntry | None:
    typed = row.text("what").casefold()
    if typed not in list(Thing):
        row.fault("what", f"{shortly(typed) if typed else 'it is empty'}; expected {', '.join(Thing)} or {WATCHED}")
        return None
    thing = Thing(typed)
    checked = row.text("checked").casefold()
    if checked and checked not in YES:
        row.fault("checked", f"{shortly(checked)}; expected yes or no")
    return LogEntry(
        id=row.text("id"),
        thing=thing,
        group=_whole(row, "group", MOST_GROUP),
        player=_words(row, "player"),
        ruling=_words(row, "ruling"),
        act=_words(row, "act"),
        spot=_words(row, "spot"),
        feature=_words(row, "feature"),
        form=_words(row, "form"),
        kind=_words(row, "kind"),
        recorder=_words(row, "recorder"),
        says=_words(row, "says"),
        hole=_whole(row, "hole", MOST_HOLE),
        round=_whole(row, "round", MOST_ROUND) or 1,
        x_m=row.number("x_m", least=-_FAR_M, most=_FAR_M, unit="m"),
        y_m=row.number("y_m", least=-_FAR_M, most=_FAR_M, unit="m"),
        at_s=clock_s(row, "at") if row.text("at") else None,
        times_s=_times(row),
        values=_values(row, thing),
        change=_whole(row, "change", MOST_GROUP),
        question=_whole(row, "question", MOST_GROUP),
        is_checked=YES.get(checked, 0.0) > 0,
    )


def _words(row: RowReader, column: str) -> str:
    text = row.text(column)
    if len(text) > _LONGEST:
        row.fault(column, f"it holds {len(text)} signs; {_LONGEST} at most")
    return text


def _whole(row: RowReader, column: str, most: int) -> int | None:
    return row.whole(column, least=1, most=most)


def _times(row: RowReader) -> Mapping[Mark, int]:
    """When the group was where; times that run backwards are a fault."""
    found = {mark: time for mark in Mark if row.text(mark) and (time := clock_s(row, mark)) is not None}
    known = list(found)
    for before, after in zip(known, known[1:], strict=False):
        if found[after] < found[before]:
            row.fault(after, f"{row.text(after)} comes before {row.text(before)} under {before}: times run backwards")
    return found


def _values(row: RowReader, thing: Thing) -> Mapping[str, float]:
    """What was measured; what cannot be measured of such a thing is a fault."""
    may = {outcome.key for outcome in may_be_measured_of(thing)}
    found: dict[str, float] = {}
    for key, outcome in outcomes().items():
        if not row.text(key):
            continue
        if key not in may:
            row.fault(key, f"it is not measured of a {thing}; of one are: {', '.join(sorted(may))}")
        elif thing is Thing.RULING and key == _DISPUTED and row.text(key).casefold() in YES:
            found[key] = YES[row.text(key).casefold()]
        elif (value := value_written(row, key, outcome)) is not None:
            found[key] = value
    return found
