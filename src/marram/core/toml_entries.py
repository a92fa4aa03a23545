"""Entries of a TOML file put in and taken out, while the rest of the file stays as somebody wrote it, remarks included."""

from __future__ import annotations

import datetime
import json
import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence

_HEADER = re.compile(r"""\s*\[\[?\s*[\w."' -]+\s*\]?\]\s*(#.*)?$""")


def with_entry(text: str, table: str, members: Mapping[str, object]) -> str:
    """The text with one more entry at the end of an array of tables.

    Args:
        text: TOML that can be read.
        table: Name of the array.
        members: Members of the entry.
    """
    whole = tomllib.loads(text)
    wanted = whole | {table: [*_entries(whole, table), dict(members)]}
    lines = "\n".join([f"[[{table}]]", *(f"{_key(name)} = {toml_value(value)}" for name, value in members.items())])
    bare = re.sub(rf"(?m)^\s*{re.escape(table)}\s*=\s*\[\s*\]\s*$", "", text)  # an empty array cannot be added to
    return _as_wanted(f"{bare.rstrip()}\n\n{lines}\n", wanted)


def without_entry(text: str, table: str, number: int) -> str:
    """The text without an entry of an array of tables.

    Args:
        text: TOML that can be read.
        table: Name of the array.
        number: Which entry, from 1.
    """
    whole = tomllib.loads(text)
    kept = [entry for place, entry in enumerate(_entries(whole, table), start=1) if place != number]
    return _as_wanted(_cut(text, table, number), whole | {table: kept})


def _entries(whole: Mapping[str, object], table: str) -> Sequence[object]:
    found = whole.get(table, [])
    return found if isinstance(found, list) else []


def _cut(text: str, table: str, number: int) -> str:
    """The text without the lines of an entry; remarks that stand before the next header belong to that."""
    lines = text.splitlines()
    own = [at for at, line in enumerate(lines) if re.match(rf"\s*\[\[\s*{re.escape(table)}\s*\]\]", line)]
    if len(own) < number:
        return text
    start = own[number - 1]
    end = next((at for at in range(start + 1, len(lines)) if _HEADER.match(lines[at])), len(lines))
    while end < len(lines) and end - 1 > start and lines[end - 1].lstrip().startswith("#"):
        end -= 1
    before = lines[:start]
    while before and not before[-1].strip():
        before.pop()
    rest = lines[end:]
    return "\n".join([*before, *([""] if rest and before else []), *rest]) + "\n"


def _as_wanted(text: str, wanted: Mapping[str, object]) -> str:
    """The text if it says what is wanted, else what is wanted written anew: a file may be written in ways that lines do not show."""
    try:
        is_so = _without_empty(tomllib.loads(text)) == _without_empty(wanted)
    except ValueError:
        is_so = False
    return text if is_so else "\n".join(_written(wanted)) + "\n"


def _without_empty(whole: Mapping[str, object]) -> dict[str, object]:
    return {name: value for name, value in whole.items() if value != []}


def _written(whole: Mapping[str, object]) -> Iterator[str]:
    """A file of plain members and arrays of tables."""
    arrays = {name: value for name, value in whole.items() if isinstance(value, list) and value and all(isinstance(e, dict) for e in value)}
    yield from (f"{_key(name)} = {toml_value(value)}" for name, value in whole.items() if name not in arrays)
    for name, entries in arrays.items():
        for entry in entries:
            yield from ("", f"[[{name}]]", *(f"{_key(member)} = {toml_value(value)}" for member, value in entry.items()))


def toml_value(value: object) -> str:
    """A value as TOML writes it.

    Args:
        value: Text, a truth, a number, a date, or a list or a table of such.
    """
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")  # the same escapes, but for a sign that only TOML bars
    if isinstance(value, datetime.date | datetime.time):
        return value.isoformat()
    if isinstance(value, Mapping):
        return "{ " + ", ".join(f"{_key(name)} = {toml_value(inner)}" for name, inner in value.items()) + " }"
    if isinstance(value, Sequence):
        return f"[{', '.join(map(toml_value, value))}]"
    return repr(value)


def _key(name: str) -> str:
    return name if re.fullmatch(r"[A-Za-z0-9_-]+", name) else toml_value(name)
