"""Which properties and values of a file from elsewhere mean what."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches

from marram.core.errors import SurveyError
from marram.core.field_names import Field
from marram.core.terms import FeatureKind, Mark
from marram.core.words import on_one_line
from marram.interchange.tables.table_rows import Faults

KNOWN = ("id", "kind", "holes", "mark", "what", "tee", "serves", "par", "stroke_index", "sigma_m", "width_m", "radius_m")
_WORDS = (*(kind.value for kind in FeatureKind), *(mark.value for mark in Mark))
_EXPLAINED = frozenset({"kind", "mark"})
_HINT = "See docs/formats/foreign.md."


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """The names of a file from elsewhere.

    Attributes:
        properties: Marram's property to the name that it has in the file.
        values: A value of the file to the kind or mark that it means.
    """

    properties: Mapping[str, str] = field(default_factory=dict)
    values: Mapping[str, str] = field(default_factory=dict)

    def property_of(self, name: str) -> str:
        """The name that one of Marram's properties has in the file."""
        return self.properties.get(name, name)

    def value(self, theirs: Mapping[str, object], name: str) -> str:
        """The value of a property, a kind or mark in Marram's words; empty where there is none."""
        raw = theirs.get(self.property_of(name))
        text = on_one_line(str(raw)) if isinstance(raw, str | int | float) and not isinstance(raw, bool) else ""
        return self.values.get(text, text) if name in _EXPLAINED else text

    def number(self, theirs: Mapping[str, object], name: str, where: str, faults: Faults) -> float | None:
        """The number that a property holds; None where it holds none."""
        raw = theirs.get(self.property_of(name))
        if raw is None or raw == "":
            return None
        try:
            found = float(raw) if isinstance(raw, str | int | float) and not isinstance(raw, bool) else math.nan
        except (ValueError, OverflowError):
            found = math.nan
        if math.isfinite(found) and found >= 0 and (found > 0 or name == "sigma_m"):
            return found
        faults.add(where, f"{self.property_of(name)} is {raw!r}; expected a number above 0")
        return None

    def holes(self, theirs: Mapping[str, object], where: str, faults: Faults) -> list[int]:
        """The numbers of the holes: a list, one number, or text such as ``7`` or ``7, 16``."""
        raw = theirs.get(self.property_of("holes"))
        parts = raw if isinstance(raw, list) else [] if raw is None or raw == "" else re.split(r"[,;/+\s]+", str(raw).strip())
        whole = [re.fullmatch(r"(\d{1,2})(\.0)?", str(part), re.ASCII) for part in parts]
        numbers = [int(found[1]) for found in whole if found is not None]
        if len(numbers) == len(parts) and all(numbers):
            return numbers
        faults.add(where, f"{self.property_of('holes')} is {raw!r}; expected hole numbers such as 7 or 7, 16")
        return []


def read_terms(properties: Sequence[str], values: Sequence[str]) -> Terms:
    """Read which means what, as the official gives it.

    Args:
        properties: Such as ``kind=surface_type``: Marram's name, then the file's.
        values: Such as ``fairway_cut=fairway``: the file's value, then Marram's kind or mark.

    Raises:
        SurveyError: An entry has no ``=``, or names nothing that Marram knows.
    """
    ours = dict(_pair(entry, Field.PROPERTIES, "kind=surface_type") for entry in properties)
    theirs = dict(_pair(entry, Field.VALUES, "fairway_cut=fairway") for entry in values)
    for name in ours:
        _refuse_unknown(name, KNOWN, Field.PROPERTIES)
    for word in theirs.values():
        _refuse_unknown(word, _WORDS, Field.VALUES)
    return Terms(properties=ours, values=theirs)


def _pair(entry: str, asked: Field, example: str) -> tuple[str, str]:
    first, sign, second = entry.partition("=")
    if not sign or not first.strip() or not second.strip():
        raise SurveyError(f"{entry!r} is no pair.", field=asked, hint=f"Give it as in `{asked}={example}`.")
    return first.strip(), second.strip()


def _refuse_unknown(name: str, known: Sequence[str], asked: Field) -> None:
    if name not in known:
        near = ", ".join(get_close_matches(name, known, n=3, cutoff=0.0))
        raise SurveyError(f"There is nothing called {name!r}.", field=asked, hint=f"Nearest: {near}. {_HINT}")
