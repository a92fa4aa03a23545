"""Overlays: a trial, a local rule or a clarification, written as numbered changes on top of an edition."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from marram.core.errors import RuleDataError
from marram.core.toml_text import read_toml
from marram.rulebook.catalogue import Catalogue
from marram.rulebook.values import Value, parse_value

_MEMBERS = {"title", "dated", "on", "after", "change"}
_CHANGE_MEMBERS = {"key", "was", "now", "because", "standing", "aim", "expects", "observes", "asks"}
_EXPECTS_MEMBERS = {"outcome", "direction", "matters"}


class Standing(StrEnum):
    """Whether a Committee may adopt a change for an ordinary competition."""

    LOCAL_RULE = "allowed as a local rule"
    UNOFFICIAL = "unofficial only"


@dataclass(frozen=True, slots=True, kw_only=True)
class Expectation:
    """What a change should do: an outcome, which way, and the smallest effect that matters."""

    outcome: str
    direction: str
    matters: float


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
        observes: Outcomes to be recorded.
        asks: Questions for players.
    """

    number: int
    key: str
    was: Value
    now: Value
    because: str
    standing: Standing
    aim: str = ""
    expects: Expectation | None = None
    observes: tuple[str, ...] = ()
    asks: tuple[str, ...] = ()


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
    """

    name: str
    title: str
    dated: date
    on: tuple[str, ...]
    after: tuple[str, ...]
    changes: tuple[Change, ...]


class _OverlayReader:
    def __init__(self, name: str, catalogue: Catalogue) -> None:
        self.name = name
        self.catalogue = catalogue
        self.faults: list[str] = []

    def read(self, raw: Mapping[str, object]) -> Overlay:
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
        )

    def _change(self, number: int, raw: object) -> Change | None:
        where = f"change {number}"
        if not isinstance(raw, dict):
            self.faults.append(f"{where}: a change is a table")
            return None
        for member in raw.keys() - _CHANGE_MEMBERS:
            self.faults.append(f"{where}: unknown member {member!r}; a change has {', '.join(sorted(_CHANGE_MEMBERS))}")
        was, now = self._values(where, raw)
        if was is None or now is None:
            return None
        return Change(
            number=number,
            key=str(raw["key"]),
            was=was,
            now=now,
            because=self._sentence(raw, "because", f"{where}, because"),
            standing=self._standing(where, raw),
            aim=str(raw.get("aim", "")),
            expects=self._expectation(where, raw.get("expects")),
            observes=self._strings(raw, "observes"),
            asks=self._strings(raw, "asks"),
        )

    def _values(self, where: str, raw: Mapping[str, object]) -> tuple[Value | None, Value | None]:
        try:
            _, spec = self.catalogue.find_key(str(raw.get("key", "")))
        except RuleDataError as problem:
            self.faults.append(f"{where}, key: {problem}")
            return None, None
        values: list[Value | None] = []
        for member in ("was", "now"):
            value = parse_value(raw.get(member), spec)
            if value is None:
                given = repr(raw[member]) if member in raw else "missing"
                self.faults.append(f"{where}, {member}: {given}; {raw['key']} takes {spec.expects}")
            values.append(value)
        return values[0], values[1]

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
        if not isinstance(matters, int | float) or isinstance(matters, bool) or matters <= 0:
            self.faults.append(f"{where}, expects.matters: {matters!r}; expected a number above zero")
            return None
        return Expectation(outcome=str(raw["outcome"]), direction=str(raw["direction"]), matters=float(matters))

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
    raw = read_toml(text, where=name, hint="See docs/formats/overlay.md.", error=RuleDataError)
    reader = _OverlayReader(name, catalogue)
    overlay = reader.read(raw)
    if reader.faults:
        listed = "\n  ".join(reader.faults)
        count = len(reader.faults)
        raise RuleDataError(f"The overlay has {count} fault{'s' * (count > 1)}:\n  {listed}", where=name)
    return overlay
