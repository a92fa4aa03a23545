"""The terms of an event as a TOML file: what cards are scored by, and what entries, draw and starting times need besides."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date, datetime, time
from fractions import Fraction
from pathlib import Path

from marram.core.errors import CardError, HandicapError
from marram.core.toml_text import read_toml
from marram.core.words import counted, shortly
from marram.events.event_terms import NINE_MIN, Division, EventTerms, Starting, Way
from marram.handicaps.written_handicaps import read_handicap
from marram.interchange.cards.further_terms import read_cut, read_team
from marram.interchange.cards.terms_file import HINT, TermsReader
from marram.interchange.tables.reading import LARGEST_TEXT_BYTES, read_text
from marram.interchange.tables.table_rows import Faults

__all__ = ["HINT", "read_terms", "read_terms_text"]
_START_MEMBERS = frozenset({"first", "interval_min", "group_size", "holes", "way", "gap_after", "nine_min"})
_DIVISION_MEMBERS = frozenset({"name", "index_from", "index_to", "tees"})
_TIME = re.compile(r"([01]?\d|2[0-3])[:.]([0-5]\d)")
_MOST_INTERVAL_MIN, _MOST_DIVISIONS = 60, 20


def read_terms(path: Path, faults: Faults) -> EventTerms | None:
    """Read the terms of a competition.

    Args:
        path: The file.
        faults: Where faults are noted.

    Returns:
        The terms; None where so much is wrong that no card can be held against them.

    Raises:
        CardError: The file cannot be read as TOML.
    """
    text = read_text(path, what="the terms of a competition", largest_bytes=LARGEST_TEXT_BYTES, error=CardError)
    return read_terms_text(text, path.name, faults)


def read_terms_text(text: str, where: str, faults: Faults) -> EventTerms | None:
    """Read the terms of a competition from their text.

    Args:
        text: The text.
        where: The file that it stood in.
        faults: Where faults are noted.

    Returns:
        The terms; None where so much is wrong that no card can be held against them.

    Raises:
        CardError: The text is no TOML.
    """
    raw = read_toml(text, where=where, hint=HINT, error=CardError)
    return _EventTermsReader(raw, faults).terms()


class _EventTermsReader:
    def __init__(self, raw: Mapping[str, object], faults: Faults) -> None:
        self.raw = raw
        self.faults = faults
        self.read = TermsReader(raw, faults)

    def terms(self) -> EventTerms | None:
        terms = self.read.terms()
        holes = next(iter(terms.tees.values())).holes if terms is not None else 18
        tees = tuple(terms.tees) if terms is not None else ()
        course, book = (self.read.text(member, needed=False) for member in ("course", "book"))
        days, starting, divisions = self._days(terms.rounds if terms is not None else 1), self._starting(holes), self._divisions(tees)
        cut, team = read_cut(self.read, self.raw, self.faults, terms), read_team(self.read, self.raw, self.faults, terms)
        if terms is None:
            return None
        return EventTerms(
            terms=terms,
            course=course,
            day=next(iter(days), None),
            days=days,
            book=book,
            divisions=divisions,
            starting=starting,
            cut=cut,
            team=team,
        )

    def _days(self, rounds: int) -> tuple[date, ...]:
        """The day, or the day of each round in order."""
        value = self.raw.get("day")
        if value is None:
            return ()
        listed = value if isinstance(value, list) else [value]
        sound = tuple(one for one in listed if isinstance(one, date) and not isinstance(one, datetime))
        for one in listed:
            if one not in sound:
                self.faults.add("day", f"{shortly(one)}; expected a date without quotes, such as 2026-06-13")
        if isinstance(value, list) and len(sound) == len(listed) and (len(sound) != rounds or list(sound) != sorted(sound)):
            self.faults.add("day", f"{counted(len(sound), 'date')}; expected one date, or one for each of {rounds} rounds, in order")
        return sound

    def _starting(self, holes: int) -> Starting | None:
        table = self.raw.get("start")
        if table is None:
            return None
        if not isinstance(table, dict):
            self.faults.add("start", "a table [start] is expected")
            return None
        self.read.unknown("start.", table, _START_MEMBERS)
        way = self.read.word(table, "way", Way, Way.TIMES, "start.")
        return Starting(
            first_min=self._first(table),
            interval_min=self.read.whole(table, "interval_min", 10, 1, _MOST_INTERVAL_MIN, "start."),
            group_size=self.read.whole(table, "group_size", 3, 1, 4, "start."),
            holes=self._holes(table, way, holes),
            way=way,
            nine_min=self.read.whole(table, "nine_min", NINE_MIN, 60, 240, "start."),
            gap_after=self.read.whole(table, "gap_after", 1, 1, 100, "start.") if "gap_after" in table else None,
        )

    def _first(self, table: Mapping[str, object]) -> int:
        value = table.get("first")
        if isinstance(value, time):
            return value.hour * 60 + value.minute
        found = _TIME.fullmatch(value.strip()) if isinstance(value, str) else None
        if found is None:
            told = "a time is needed" if value is None else f"{shortly(value)} is no time of day"
            self.faults.add("start.first", f'{told}; expected one such as "08:00"')
            return 0
        return int(found[1]) * 60 + int(found[2])

    def _holes(self, table: Mapping[str, object], way: Way, holes: int) -> tuple[int, ...]:
        usual = list(range(1, holes + 1)) if way is Way.SHOTGUN else [1]
        value = table.get("holes", usual)
        is_sound = isinstance(value, list) and value and all(isinstance(one, int) and 1 <= one <= holes for one in value)
        if not is_sound or not isinstance(value, list) or len(set(value)) != len(value):
            self.faults.add("start.holes", f"{shortly(value)}; expected different holes from 1 to {holes}, such as [1, 10]")
            return (1,)
        if way is Way.TIMES and len(value) > 2:
            self.faults.add("start.holes", 'groups start by times from one hole or two; for more write way = "shotgun"')
        return tuple(value)

    def _divisions(self, tees: tuple[str, ...]) -> tuple[Division, ...]:
        tables = self.raw.get("division", [])
        if not isinstance(tables, list) or len(tables) > _MOST_DIVISIONS or not all(isinstance(table, dict) for table in tables):
            self.faults.add("division", f"tables [[division]] are expected, {_MOST_DIVISIONS} at most")
            return ()
        found = tuple(self._division(number, table, tees) for number, table in enumerate(tables, start=1))
        names = [division.name.casefold() for division in found if division.name]
        for name in sorted({name for name in names if names.count(name) > 1}):
            self.faults.add("division", f"two divisions are called {name}")
        return found

    def _division(self, number: int, table: Mapping[str, object], tees: tuple[str, ...]) -> Division:
        where = f"division {number}, "
        self.read.unknown(where, table, _DIVISION_MEMBERS)
        name = table.get("name")
        if not isinstance(name, str) or not name.strip():
            self.faults.add(f"{where}name", "a name is needed")
        least, most = (self._index(table, member, where) for member in ("index_from", "index_to"))
        if least is not None and most is not None and least > most:
            self.faults.add(where.rstrip(", "), "index_from is above index_to, so nobody is in it")
        named = table.get("tees", [])
        if not isinstance(named, list) or (tees and not all(tee in tees for tee in named)):
            self.faults.add(f"{where}tees", f"{shortly(named)}; expected tees of the terms: {', '.join(tees)}")
            named = []
        return Division(name=str(name or "").strip(), least_index=least, most_index=most, tees=tuple(map(str, named)))

    def _index(self, table: Mapping[str, object], member: str, where: str) -> Fraction | None:
        value = table.get(member)
        if value is None:
            return None
        try:
            # a plus handicap is written as text, since TOML drops the plus of a number
            found = read_handicap(str(value), decimals=1) if isinstance(value, int | float | str) and not isinstance(value, bool) else None
        except HandicapError as problem:
            self.faults.add(f"{where}{member}", f"{problem.message} {problem.hint}".strip())
            return None
        if found is None or not -20 <= found <= 54:
            self.faults.add(f"{where}{member}", f'{shortly(value)}; expected a Handicap Index such as 12.4 or "+1.2"')
            return None
        return found
