"""What a change of one key reaches: the relief procedures that it alters."""

from __future__ import annotations

from marram.rulebook.book import Book, know_each_other
from marram.rulebook.catalogue import Row
from marram.rulebook.differences.compare import look_up

_RELIEF_PART = "shape"
"""A row with this part is a relief procedure."""


def procedures_altered(before: Book, now: Book) -> tuple[str, ...]:
    """The relief procedures in which a book says something else than another, in the order of the rule data.

    A size that follows another key is altered where that key is.

    Args:
        before: The book before.
        now: The book with changes on top.

    Returns:
        Names of the rows, without their family.
    """
    before, now = know_each_other((before, now))
    rows = [row for row in before.catalogue.rows.values() if _RELIEF_PART in row.parts and row.id.startswith("relief.")]
    return tuple(row.id.removeprefix("relief.") for row in rows if _is_altered(row, before, now))


def _is_altered(row: Row, before: Book, now: Book) -> bool:
    keys = [f"{row.id}.{name}" for name, spec in row.parts.items() if spec.decides]
    return any(look_up(before, key).value != look_up(now, key).value for key in keys)
