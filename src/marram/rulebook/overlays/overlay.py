"""Overlays: a trial, a local rule or a clarification, written as numbered changes on top of an edition."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from enum import StrEnum

from marram.core.errors import RecordError, RuleDataError
from marram.core.toml_text import read_toml
from marram.core.words import fault_list, odd_sign, shortly
from marram.records.outcomes import Weighing, Worse, find_outcome, outcomes
from marram.rulebook.catalogue import Catalogue
from marram.rulebook.facts import unknown_fact
from marram.rulebook.overlays.additions import AdditionReader, Additions
from marram.rulebook.overlays.honest_way import honest_way
from marram.rulebook.overlays.trial_terms import Clarification, Direction, Expectation, Guard, Life, Status
from marram.rulebook.values import ABSENT, Value, facts_named, parse_stated

_DAYS = ("from", "until", "answers_until", "in_force_from")
_MEMBERS = {"title", "dated", "on", "after", "change", "status", "clarification", *_DAYS}
_CHANGE_MEMBERS = {"key", "was", "now", "add", "conditions", "because", "standing", "aim", "expects", "guards", "observes", "asks"}
_ADDING, _CHANGING = {"add", "conditions"}, {"key", "was", "now"}
_EXPECTS_MEMBERS = {"outcome", "direction", "matters"}
_GUARD_MEMBERS, _GUARD_WORSE = {"outcome", "margin"}, "worse"
_MOST = 1e9
_CLARIFICATION_MEMBERS = {"dated", "change", "text"}


class Standing(StrEnum):
    """Whether a Committee may adopt a change for an ordinary competition."""

    LOCAL_RULE = "allowed as a local rule"
    UNOFFICIAL = "unofficial only"


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One numbered change of an overlay.

    Attributes:
        number: Its number within the overlay, from 1.
        key: The key that it changes.
        was: What the base must hold.
        now: What holds from now on.
        because: Why.
        standing: Whether a Committee may adopt it.
        aim: What it is for.
        expects: What would show that it works; None where nothing is expected yet.
        guards: What it must not make worse.
        observes: Outcomes to be recorded.
        asks: Questions for players.
        adds: Rows and conditions that it adds; where there are any, the key is the one by which the first row is spoken of.
    """

    number: int
    key: str
    was: Value
    now: Value
    because: str
    standing: Standing
    aim: str = ""
    expects: Expectation | None = None
    guards: tuple[Guard, ...] = ()
    observes: tuple[str, ...] = ()
    asks: tuple[str, ...] = ()
    adds: Additions = field(default_factory=Additions)

    def by_key(self) -> Iterator[Change]:
        """The change of each key: its own, and one for every part of the rows that it adds."""
        for row in self.adds.rows:
            yield from (replace(self, key=f"{row.id}.{part}", was=ABSENT, now=value) for part, value in row.added.items())
        if not self.adds.rows:
            yield self


@dataclass(frozen=True, slots=True, kw_only=True)
class Overlay:
    """A titled, dated list of changes.

    Attributes:
        name: Short name, taken from the file.
        title: Full title.
        dated: Day from which this text holds.
        on: Editions that it is written for.
        after: Names of the overlays that it may lie on top of.
        changes: The changes, in order.
        life: When it is played and where it stands.
    """

    name: str
    title: str
    dated: date
    on: tuple[str, ...]
    after: tuple[str, ...]
    changes: tuple[Change, ...]
    life: Life = field(default_factory=Life)

    def laid_in(self, catalogue: Catalogue) -> Catalogue:
        """The rule data with the rows and conditions that the overlay adds."""
        for change in self.changes:
            rows = {row.id: row for row in change.adds.rows}
            catalogue = catalogue.with_added(rows, {kind.name: kind for kind in change.adds.conditions})
        return catalogue


class _OverlayReader:
    def __init__(self, name: str, catalogue: Catalogue) -> None:
        self.name = name
        self.additions = AdditionReader(name, catalogue)
        self.faults: list[str] = []

    @property
    def catalogue(self) -> Catalogue:
        """The rule data with what has been added so far."""
        return self.additions.catalogue

    def read(self, raw: Mapping[str, object]) -> Overlay:
        self._refuse_odd_signs(raw)
        for member in raw.keys() - _MEMBERS:
            self.faults.append(f"unknown member {member!r}; an overlay has {', '.join(sorted(_MEMBERS))}")
        on = self._strings(raw, "on")
        for edition in on:
            if edition not in self.catalogue.editions:
                self.faults.append(f"on: unknown edition {edition!r}; known: {', '.join(self.catalogue.editions)}")
        dated = raw.get("dated")
        if not isinstance(dated, date):
            self.faults.append("dated: a date is needed, such as 2026-03-01 without quotes")
            dated = date.min
        tables = raw.get("change", [])
        if not isinstance(tables, list) or not tables:
            self.faults.append("change: at least one [[change]] is needed")
            tables = []
        changes = [self._change(number, table) for number, table in enumerate(tables, start=1)]
        self._refuse_doubles([change for change in changes if change])
        return Overlay(
            name=self.name,
            title=self._sentence(raw, "title", "title"),
            dated=dated,
            on=on,
            after=self._strings(raw, "after"),
            changes=tuple(change for change in changes if change),
            life=self._life(raw, len(changes)),
        )

    def _refuse_odd_signs(self, raw: Mapping[str, object]) -> None:
        """Refuse signs that are not seen, wherever they stand; a title stands on one line."""
        left: list[tuple[str, object]] = [(member, value) for member, value in raw.items() if member != "title"]
        signs = [("title", odd_sign(str(raw.get("title", ""))))]
        while left:
            member, value = left.pop()
            if isinstance(value, dict):
                left += [(f"{member}.{name}", entry) for name, entry in value.items()]
                signs += [(member, odd_sign(name)) for name in value]
            elif isinstance(value, list):
                left += [(member, entry) for entry in value]
            elif isinstance(value, str):
                signs.append((member, odd_sign(value, is_name=False)))
        self.faults += [f"{member}: it holds the sign {sign}, which is not seen; write it without" for member, sign in signs if sign]

    def _life(self, raw: Mapping[str, object], changes: int) -> Life:
        days = {name: self._day(raw, name) for name in _DAYS}
        first, last, answers = days["from"], days["until"], days["answers_until"]
        if first and last and last < first:
            self.faults.append(f"until: {last} lies before from, {first}")
        if answers and first and answers < first:
            self.faults.append(f"answers_until: {answers} lies before from, {first}")
        status = raw.get("status", Status.DRAFT.value)
        if status not in list(Status):
            self.faults.append(f"status: {status!r}; expected one of {', '.join(Status)}")
            status = Status.DRAFT.value
        tables = raw.get("clarification", [])
        listed = tables if isinstance(tables, list) else [None]
        found = [self._clarification(number, table, changes) for number, table in enumerate(listed, start=1)]
        return Life(
            status=Status(str(status)),
            first_day=first,
            last_day=last,
            answers_until=answers,
            in_force_from=days["in_force_from"],
            clarifications=tuple(entry for entry in found if entry),
        )

    def _day(self, raw: Mapping[str, object], name: str) -> date | None:
        day = raw.get(name)
        if day is None or (isinstance(day, date) and not isinstance(day, datetime)):
            return day
        self.faults.append(f"{name}: a date is needed, such as 2026-03-01 without quotes")
        return None

    def _clarification(self, number: int, raw: object, changes: int) -> Clarification | None:
        where = f"clarification {number}"
        if not isinstance(raw, dict) or not raw.keys() <= _CLARIFICATION_MEMBERS:
            self.faults.append(f"{where}: a table with {', '.join(sorted(_CLARIFICATION_MEMBERS))} is expected")
            return None
        change = raw.get("change")
        if change is not None and (not isinstance(change, int) or not 1 <= change <= changes):
            self.faults.append(f"{where}, change: {change!r}; expected the number of a change, 1 to {changes}")
        dated = self._day(raw, "dated")
        if dated is None:
            self.faults.append(f"{where}, dated: a date is needed")
        text = self._sentence(raw, "text", f"{where}, text")
        return Clarification(dated=dated, text=text, change=change) if dated and text else None

    def _change(self, number: int, raw: object) -> Change | None:
        where = f"change {number}"
        if not isinstance(raw, dict):
            self.faults.append(f"{where}: a change is a table")
            return None
        for member in raw.keys() - _CHANGE_MEMBERS:
            self.faults.append(f"{where}: unknown member {member!r}; a change has {', '.join(sorted(_CHANGE_MEMBERS))}")
        adds = self._adds(where, raw)
        key, was, now = self._values(where, raw) if not adds.rows else (adds.head[0], ABSENT, adds.head[1])
        if was is None or now is None:
            return None
        return Change(
            number=number,
            key=key,
            was=was,
            now=now,
            adds=adds,
            because=self._sentence(raw, "because", f"{where}, because"),
            standing=self._standing(where, raw),
            aim=str(raw.get("aim", "")),
            expects=self._expectation(where, raw.get("expects")),
            guards=self._guards(where, raw.get("guards", [])),
            observes=self._outcomes(where, raw),
            asks=self._strings(raw, "asks"),
        )

    def _adds(self, where: str, raw: Mapping[str, object]) -> Additions:
        """What a change adds, its faults noted; nothing where it changes a key."""
        if not raw.keys() & _ADDING:
            return Additions()
        both = sorted(raw.keys() & _CHANGING)
        if both:
            self.faults.append(f"{where}: it has add or conditions, and {', '.join(both)} besides; give each a [[change]] of its own")
        if not isinstance(raw.get("add"), dict):
            self.faults.append(f'{where}, add: tables of rows are expected, such as [change.add."situation.NAME"]')
        before = len(self.additions.faults)
        found = self.additions.read(where, raw)
        self.faults += self.additions.faults[before:]
        return found or Additions()

    def _values(self, where: str, raw: Mapping[str, object]) -> tuple[str, Value | None, Value | None]:
        key = str(raw.get("key", ""))
        if raw.keys() & _ADDING:
            return key, None, None
        try:
            _, spec = self.catalogue.find_key(key)
        except RuleDataError as problem:
            self.faults.append(f"{where}, key: {problem}")
            return key, None, None
        values: list[Value | None] = []
        for member in ("was", "now"):
            value = parse_stated(raw.get(member), spec)
            if value is None:
                given = repr(raw[member]) if member in raw else "missing"
                way = honest_way(raw.get(member), spec)
                expected = f"{raw['key']} takes {spec.expects}, or {{ absent = true }}"
                self.faults.append(f"{where}, {member}: {given}; {expected}{f'. {way}' if way else ''}")
            else:
                unknown = (unknown_fact(name, self.catalogue.facts) for name in facts_named(value))
                self.faults += [f"{where}, {member}: {fault}" for fault in unknown if fault]
            values.append(value)
        return key, values[0], values[1]

    def _standing(self, where: str, raw: Mapping[str, object]) -> Standing:
        given = raw.get("standing", Standing.UNOFFICIAL.value)
        if given not in list(Standing):
            self.faults.append(f"{where}, standing: {given!r}; expected one of {', '.join(Standing)}")
            return Standing.UNOFFICIAL
        return Standing(str(given))

    def _expectation(self, where: str, raw: object) -> Expectation | None:
        if raw is None:
            return None
        if not isinstance(raw, dict) or raw.keys() != _EXPECTS_MEMBERS:
            self.faults.append(f"{where}, expects: needs exactly {', '.join(sorted(_EXPECTS_MEMBERS))}")
            return None
        matters = raw["matters"]
        if not isinstance(matters, int | float) or isinstance(matters, bool) or not 0 < matters <= _MOST:
            self.faults.append(f"{where}, expects.matters: {shortly(matters)}; expected a number above zero")
            return None
        if raw["direction"] not in list(Direction):
            self.faults.append(f"{where}, expects.direction: {raw['direction']!r}; expected one of {', '.join(Direction)}")
            return None
        outcome = self._outcome(f"{where}, expects.outcome", raw["outcome"])
        self._refuse_no_part(f"{where}, expects.matters", outcome, float(matters))
        return Expectation(outcome=outcome, direction=Direction(raw["direction"]), matters=float(matters)) if outcome else None

    def _outcome(self, where: str, key: object) -> str:
        """The name of an outcome of the catalogue; empty, with a fault noted, where there is no such outcome."""
        try:
            return find_outcome(str(key)).key
        except RecordError as problem:
            self.faults.append(f"{where}: {problem.message} {problem.hint}")
            return ""

    def _refuse_no_part(self, where: str, outcome: str, amount: float) -> None:
        """What is yes or no is weighed by its share, and a share is a part of one."""
        if outcome and outcomes()[outcome].kind is Weighing.SHARE and amount >= 1:
            self.faults.append(f"{where}: {amount:g}; {outcome} is a share of all: give a part of one, such as 0.1 for ten in a hundred")

    def _outcomes(self, where: str, raw: Mapping[str, object]) -> tuple[str, ...]:
        found = [self._outcome(f"{where}, observes", key) for key in self._strings(raw, "observes")]
        return tuple(key for key in found if key)

    def _guards(self, where: str, raw: object) -> tuple[Guard, ...]:
        tables = raw if isinstance(raw, list) else [raw]
        found = []
        for table in tables:
            if not isinstance(table, dict) or table.keys() - {_GUARD_WORSE} != _GUARD_MEMBERS:
                self.faults.append(f"{where}, guards: each needs {', '.join(sorted(_GUARD_MEMBERS))}, and may say {_GUARD_WORSE}")
                continue
            worse = table.get(_GUARD_WORSE, "")
            if worse and worse not in list(Worse):
                self.faults.append(f"{where}, guards.{_GUARD_WORSE}: {worse!r}; expected one of {', '.join(Worse)}")
                continue
            outcome, margin = self._outcome(f"{where}, guards.outcome", table["outcome"]), table["margin"]
            if not isinstance(margin, int | float) or isinstance(margin, bool) or not 0 < margin <= _MOST:
                self.faults.append(f"{where}, guards.margin: {shortly(margin)}; expected a number above zero")
            elif outcome:
                self._refuse_no_part(f"{where}, guards.margin", outcome, float(margin))
                found.append(Guard(outcome=outcome, margin=float(margin), worse=str(worse)))
        return tuple(found)

    def _refuse_doubles(self, changes: Sequence[Change]) -> None:
        seen: dict[str, int] = {}
        for change in changes:
            if change.key in seen:
                self.faults.append(f"change {change.number}: {change.key} is changed by change {seen[change.key]} too")
            seen[change.key] = change.number

    def _sentence(self, raw: Mapping[str, object], member: str, where: str) -> str:
        value = raw.get(member)
        if not isinstance(value, str) or not value.strip():
            self.faults.append(f"{where}: a sentence is needed")
            return ""
        return value

    def _strings(self, raw: Mapping[str, object], member: str) -> tuple[str, ...]:
        value = raw.get(member, [])
        if isinstance(value, list) and all(isinstance(entry, str) for entry in value):
            return tuple(value)
        self.faults.append(f"{member}: a list of names in quotes is expected")
        return ()


def read_overlay(text: str, *, name: str, catalogue: Catalogue) -> Overlay:
    """Read an overlay from TOML.

    Args:
        text: Content of the file.
        name: Short name of the overlay, normally the file's name without its ending.
        catalogue: The rule data that its keys must stand in.

    Raises:
        RuleDataError: The text has faults; the message lists all of them.
    """
    raw = read_toml(text, where=name, hint="Words stand in quotes, lengths in braces: docs/formats/overlay.md.", error=RuleDataError)
    overlay, faults = read_members(raw, name=name, catalogue=catalogue)
    if faults:
        raise RuleDataError(f"The overlay has {fault_list(faults)}", where=name, hint="See docs/formats/overlay.md.")
    return overlay


def read_members(raw: Mapping[str, object], *, name: str, catalogue: Catalogue) -> tuple[Overlay, tuple[str, ...]]:
    """Read an overlay that may be unfinished.

    Args:
        raw: Its members, as a file has them.
        name: Short name of the overlay.
        catalogue: The rule data that its keys must stand in.

    Returns:
        The overlay as far as it can be read, and every fault; it is whole only where there is none.
    """
    reader = _OverlayReader(name, catalogue)
    overlay = reader.read(raw)
    return overlay, tuple(reader.faults)
