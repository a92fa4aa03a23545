"""The rules as a spreadsheet: a row for each key with its present value and an empty column for a new one; and that sheet read back."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import datetime
from io import BytesIO
from pathlib import Path
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from marram.core.errors import RecordError, RuleDataError
from marram.interchange.books.value_text import read_written, takes, written
from marram.interchange.tables.table_rows import Faults, RowReader
from marram.interchange.tables.tables import read_rows, read_table
from marram.records.outcomes import Weighing, find_outcome, outcomes
from marram.rulebook.book import Book
from marram.rulebook.overlays.overlay import Change, Standing
from marram.rulebook.overlays.trial_terms import Direction, Expectation, Guard

COLUMNS = (
    ("key", 34), ("about", 46), ("what", 46), ("takes", 40), ("present", 24), ("rule", 26), ("seen", 30), ("now", 24), ("reason", 46),
    ("aim", 36), ("shown by", 18), ("direction", 11), ("matters", 11), ("not worse", 18), ("margin", 11), ("question", 46),
    ("standing", 24),
)  # fmt: skip
_READ = {"reason": ["because"], "shown by": ["outcome", "expects"], "not worse": ["guard"], "question": ["asks"]}
_NAMES = {name: _READ.get(name, []) for name, _ in COLUMNS}
_FILLED = ("reason", "aim", "shown by", "direction", "matters", "not worse", "margin", "question", "standing")
_MOST = 1e9
_PROPERTIES, _MODIFIED = "docProps/core.xml", re.compile(rb"(<dcterms:modified[^>]*>)[^<]*")
_NO_DAY = (1980, 1, 1, 0, 0, 0)
"""The earliest that a part of a ZIP file can carry (PKWARE, .ZIP File Format Specification, 4.4.6)."""


def write_rule_sheet(book: Book) -> bytes:
    """The rules of a book as a workbook, with a second sheet that lists the outcomes a change may be judged by."""
    from openpyxl import Workbook
    from openpyxl.styles import Alignment, Font
    from openpyxl.utils import get_column_letter

    workbook = Workbook()
    workbook.properties.created = datetime(2000, 1, 1)
    workbook.remove(workbook.worksheets[0])
    sheet = workbook.create_sheet("rules")
    wrapped = Alignment(wrap_text=True, vertical="top")
    sheet.append([name for name, _ in COLUMNS])
    for row in _rows(book):
        sheet.append(row)
    for number, (_, width) in enumerate(COLUMNS, start=1):
        sheet.column_dimensions[get_column_letter(number)].width = width
        sheet.cell(row=1, column=number).font = Font(bold=True)
    for cells in sheet.iter_rows(min_row=2, min_col=2, max_col=7):
        for cell in cells:
            cell.alignment = wrapped
    sheet.freeze_panes = "B2"
    listed = workbook.create_sheet("outcomes")
    listed.append(["outcome", "what", "unit", "for each", "recorded by"])
    for outcome in outcomes().values():
        listed.append([outcome.key, outcome.means, outcome.unit, outcome.per.value, outcome.by])
    for number, width in enumerate((22, 60, 12, 16, 50), start=1):
        listed.column_dimensions[get_column_letter(number)].width = width
        listed.cell(row=1, column=number).font = Font(bold=True)
    written_to = BytesIO()
    workbook.save(written_to)
    return _without_clock(written_to.getvalue())


def _without_clock(workbook: bytes) -> bytes:
    """A workbook whose parts and properties carry no time of writing, so that equal input gives equal bytes."""
    written_to = BytesIO()
    with ZipFile(BytesIO(workbook)) as made, ZipFile(written_to, "w", ZIP_DEFLATED) as kept:
        for name in made.namelist():
            part = made.read(name)
            part = _MODIFIED.sub(rb"\g<1>2000-01-01T00:00:00Z", part) if name == _PROPERTIES else part
            kept.writestr(ZipInfo(name, _NO_DAY), part, ZIP_DEFLATED)
    return written_to.getvalue()


def _rows(book: Book) -> Iterator[list[str]]:
    for key, (row, spec) in book.catalogue.keys.items():
        if spec.decides and book.has(key):
            found = book.cited(key)
            citation = found.citations[0]
            present = written(found.value)
            yield [key, row.means, spec.means, takes(spec), present, citation.reference, citation.provenance] + [""] * (len(COLUMNS) - 7)


def read_rule_sheet(path: Path, book: Book) -> tuple[Change, ...]:
    """The changes on a filled sheet: every row with something under *now*.

    Args:
        path: The workbook or CSV file.
        book: The book that the changes are to lie on.

    Raises:
        RuleDataError: Rows have faults, all of them told by row and column, or nothing is filled in.
    """
    table = read_table(path, _NAMES, [["key", "now"]], what="a sheet of rules", error=RuleDataError)
    faults = Faults(where=table.where, error=RuleDataError, hint="See docs/how-to/a-trial.md.")
    changes: list[Change] = []
    read_rows(table, faults, lambda row: changes.extend(_change(row, book, len(changes) + 1)))
    faults.refuse()
    if not changes:
        raise RuleDataError("No row has anything under `now`.", where=table.where, hint="Type the new value of each key that is to change.")
    return tuple(changes)


def _change(row: RowReader, book: Book, number: int) -> list[Change]:
    typed, key = row.text("now"), row.text("key")
    if not typed:
        filled = [name for name in _FILLED if row.text(name)]
        if filled:
            row.fault("now", f"is empty, and {', '.join(filled)} {'are' if len(filled) > 1 else 'is'} filled in: give the new value")
        return []
    try:
        _, spec = book.catalogue.find_key(key)
    except RuleDataError as problem:
        row.fault("key", f"{key!r}: {problem.message} {problem.hint}")
        return []
    if not book.has(key):
        row.fault("key", f"{book.name} has no value for {key}")
        return []
    was = book.cited(key).value
    now, fault = read_written(typed, spec, book.catalogue)
    if now is None:
        row.fault("now", fault)
        return []
    if now == was:
        row.fault("now", f"{typed!r} is what {book.name} holds already")
    if row.text("present") and row.text("present") != written(was):
        row.fault("present", f"{row.text('present')!r} stands here, and {book.name} holds {written(was)!r}: export the sheet anew")
    if not row.text("reason"):
        row.fault("reason", "a change needs its reason")
    expects, guard = _expects(row), _guard(row)
    return [
        Change(
            number=number,
            key=key,
            was=was,
            now=now,
            because=row.text("reason"),
            standing=_standing(row),
            aim=row.text("aim"),
            expects=expects,
            guards=() if guard is None else (guard,),
            observes=tuple(dict.fromkeys(entry.outcome for entry in (expects, guard) if entry is not None)),
            asks=(row.text("question"),) if row.text("question") else (),
        )
    ]


def _outcome(row: RowReader, column: str) -> str:
    if not row.text(column):
        return ""
    try:
        return find_outcome(row.text(column)).key
    except RecordError as problem:
        row.fault(column, f"{problem.message} {problem.hint}")
        return ""


def _expects(row: RowReader) -> Expectation | None:
    outcome = _outcome(row, "shown by")
    if not outcome:
        return None
    direction, matters = row.text("direction"), row.number("matters", least=0, most=_MOST)
    if direction not in list(Direction):
        row.fault("direction", f"{direction!r}; expected one of {', '.join(Direction)}")
        return None
    if not matters or (outcomes()[outcome].kind is Weighing.SHARE and matters >= 1):
        row.fault("matters", f"the smallest effect that matters is needed, in {outcomes()[outcome].unit_words}, above zero")
        return None
    return Expectation(outcome=outcome, direction=Direction(direction), matters=matters)


def _guard(row: RowReader) -> Guard | None:
    outcome = _outcome(row, "not worse")
    if not outcome:
        return None
    margin = row.number("margin", least=0, most=_MOST)
    if not margin:
        row.fault("margin", "a guard needs its margin, above zero")
        return None
    return Guard(outcome=outcome, margin=margin)


def _standing(row: RowReader) -> Standing:
    given = row.text("standing") or Standing.UNOFFICIAL.value
    if given not in list(Standing):
        row.fault("standing", f"{given!r}; expected one of {', '.join(Standing)}")
        return Standing.UNOFFICIAL
    return Standing(given)
