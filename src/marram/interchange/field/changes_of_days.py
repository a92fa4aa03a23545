"""Which changes of a trial were on on a day, as the table of days says it."""

from __future__ import annotations

import re

from marram.interchange.tables.table_rows import RowReader
from marram.records.rows import Arm

_NONE = frozenset({"none", "no", "0", "-"})
_APART = re.compile(r"[\s,;+]+")


def changes_on(row: RowReader, changes: int) -> tuple[int, ...] | None:
    """Numbers of the changes that were on, faults noted; None where the table does not say, so that all of the trial were.

    Args:
        row: A row of the table of days.
        changes: How many changes the trial has.
    """
    text = row.text("changes").strip().lower()
    if not text:
        return None
    if text in _NONE:
        return ()
    found = [part for part in _APART.split(text) if part]
    odd = [part for part in found if not (part.isascii() and part.isdigit() and 1 <= int(part[:4]) <= changes)]
    if odd:
        row.fault("changes", f"{odd[0]!r}; expected numbers of changes from 1 to {changes} such as 1 3, or none")
        return ()
    if len(set(found)) < len(found):
        row.fault("changes", f"{text!r} names a change twice")
    return tuple(sorted({int(part) for part in found}))


def rules_of(row: RowReader, on: tuple[int, ...] | None) -> str:
    """Under which rules the day was played: as it says, else by whether any change was on; a fault is noted where the two disagree."""
    told = row.text("rules").lower()
    if on is None:
        return told
    rules = Arm.TRIAL if on else Arm.ORDINARY
    if told and told != rules:
        row.fault("rules", f"{told!r} and changes {' '.join(map(str, on)) or 'none'}; expected {rules.value}, or nothing")
    return rules.value
