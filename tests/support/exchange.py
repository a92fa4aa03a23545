"""Exchanging a value of the rule data for that of another edition, and knowing which values a test reads.

A test guards a value when it breaks once the value is that of another edition. Reads are recorded where they are made by name; going
through all values at once, as a stamp does, is not a reading of any of them.
"""

from __future__ import annotations

import gc
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from functools import _lru_cache_wrapper
from typing import TypeVar

from marram.rulebook import packaged_catalogue
from marram.rulebook.catalogue import EditionRow, Row
from marram.rulebook.values import Value

Place = tuple[str, str, str]
"""Row, edition, and part; the part is empty for the row as a whole."""
WHOLE_ROW = ""
_GIVEN = "allowed"
V = TypeVar("V")


class Recorded(dict[str, V]):
    """A table that notes which of its entries are read by name."""

    reads: set[Place] = set()
    """What has been read since it was last cleared; one set for all tables."""

    def __init__(self, entries: Mapping[str, V], row: str, edition: str | None) -> None:
        super().__init__(entries)
        self._row, self._edition = row, edition

    def _note(self, name: str) -> None:
        Recorded.reads.add((self._row, name, WHOLE_ROW) if self._edition is None else (self._row, self._edition, name))

    def __getitem__(self, name: str) -> V:
        self._note(name)
        return super().__getitem__(name)

    def get(self, name: str, default: V | None = None) -> V | None:  # type: ignore[override]
        self._note(name)
        return super().get(name, default)

    def __contains__(self, name: object) -> bool:
        self._note(str(name))
        return super().__contains__(name)


def record_reads() -> None:
    """From now on note every reading of the packaged rule data. There is no way back in this process."""
    for row in packaged_catalogue().rows.values():
        for edition, cell in row.editions.items():
            object.__setattr__(cell, "values", Recorded(cell.values, row.id, edition))
        object.__setattr__(row, "editions", Recorded(row.editions, row.id, None))


@dataclass(frozen=True, slots=True, kw_only=True)
class Exchange:
    """A value, or a whole row, of one edition that is to be that of another.

    Attributes:
        place: What is exchanged.
        other: The edition whose value takes its place.
    """

    place: Place
    other: str

    @property
    def name(self) -> str:
        """The exchange as it is listed."""
        row, edition, part = self.place
        return f"{row}{'.' + part if part else ' (the row)'}, {edition} as in {self.other}"


def exchanges() -> Iterator[Exchange]:
    """Every exchange that changes what an edition says; two editions that say the same count once."""
    for row in packaged_catalogue().rows.values():
        for edition, cell in row.editions.items():
            told: list[tuple[str, object]] = []
            for other, their in row.editions.items():
                for part in _differing(row, cell, their):
                    now = (part, _all_of(row, their) if part == WHOLE_ROW else dict(their.values.items()).get(part))
                    if now not in told:
                        told.append(now)
                        yield Exchange(place=(row.id, edition, part), other=other)


def _differing(row: Row, cell: EditionRow, their: EditionRow) -> list[str]:
    if bool(cell.absent) != bool(their.absent):
        return [WHOLE_ROW]
    if cell.absent:
        return []
    if dict(cell.values.items()).get(_GIVEN) is False:  # how a relief is measured that the edition does not give decides nothing in it
        return [_GIVEN] if dict(their.values.items()).get(_GIVEN) is not False else []
    mine, yours = dict(cell.values.items()), dict(their.values.items())
    return [name for name, spec in row.parts.items() if spec.decides and mine.get(name) != yours.get(name)]


def _all_of(row: Row, cell: EditionRow) -> dict[str, Value]:
    return {name: value for name, value in cell.values.items() if row.parts[name].decides}


@contextmanager
def exchanged(exchange: Exchange) -> Iterator[None]:
    """The packaged rule data with one exchange made in it; put back at the end."""
    row_id, edition, part = exchange.place
    editions = packaged_catalogue().rows[row_id].editions
    assert isinstance(editions, dict)
    held, other = dict.__getitem__(editions, edition), dict.__getitem__(editions, exchange.other)
    values = held.values
    assert isinstance(values, dict)
    before = dict(values.items())
    try:
        if part == WHOLE_ROW:
            dict.__setitem__(editions, edition, other)
        elif part in dict(other.values.items()):
            dict.__setitem__(values, part, dict(other.values.items())[part])
        else:
            dict.__delitem__(values, part)
        yield
    finally:
        dict.__setitem__(editions, edition, held)
        dict.clear(values)
        dict.update(values, before)


def caches_of_answers() -> list[Callable[[], None]]:
    """What empties each cache of answers, so that what is asked again is worked out again; the rule data itself stays."""
    found = [thing for thing in gc.get_objects() if isinstance(thing, _lru_cache_wrapper)]
    ours = [thing for thing in found if str(getattr(thing, "__module__", "")).startswith(("marram", "tests", "test_"))]
    return [thing.cache_clear for thing in ours if getattr(thing, "__name__", "") != packaged_catalogue.__name__]
