"""A case as an incident file: what is made at the desk can be kept and ruled on by the command line."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping

from marram.office.at_desk.stated_case import StatedCase


def incident_text(case: StatedCase) -> str:
    """An incident file as ``docs/formats/incident.md`` describes it.

    Args:
        case: The case; its books, course and day are named in a remark, since the command line is told them apart.
    """
    named = [f"course {case.course}", *([f"day {case.day}"] if case.day else []), *(f"book {book}" for book in case.books)]
    head = [f"# {_one_line(', '.join(named))}"]
    plain = {name: value for name, value in case.incident.items() if not isinstance(value, Mapping | list)}
    tables = {name: value for name, value in case.incident.items() if isinstance(value, Mapping)}
    lists = {name: value for name, value in case.incident.items() if isinstance(value, list)}
    ball = tables.pop("ball", {})
    lines = [*(f"{name} = {_value(value)}" for name, value in plain.items()), *([f"ball = {_value(ball)}"] if ball else [])]
    for name, table in tables.items():
        lines += ["", f"[{name}]", *(f"{member} = {_value(value)}" for member, value in table.items())]
    for name, entries in lists.items():
        lines += [line for entry in entries for line in _entry(name, entry)]
    return "\n".join([*head, *lines]) + "\n"


def _entry(name: str, entry: Mapping[str, object]) -> Iterator[str]:
    yield from ("", f"[[{name}]]")
    yield from (f"{member} = {_value(value)}" for member, value in entry.items())


def _value(value: object) -> str:
    """A value as TOML has it."""
    match value:
        case bool():
            return "true" if value else "false"
        case int() | float():
            return repr(value)
        case Mapping():
            return "{ " + ", ".join(f"{name} = {_value(inner)}" for name, inner in value.items()) + " }"
        case list():
            return "[" + ", ".join(map(_value, value)) + "]"
        case _:
            return json.dumps(str(value))  # a basic string of TOML is written as one of JSON


def _one_line(text: str) -> str:
    return " ".join(text.split())
