"""An overlay written as the file that `read_overlay` reads: the same whether it was typed, asked for, or filled in on a sheet."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from datetime import date

from marram.rulebook.overlays.additions import Additions
from marram.rulebook.overlays.overlay import Change, Overlay, Standing
from marram.rulebook.overlays.trial_terms import Clarification, Guard, Status
from marram.rulebook.reading.cell_reading import table_of
from marram.rulebook.values import plain_value

_TABLES, _RADIUS = ("conditions", "add"), "radius_m"
"""Members of a change that are written as tables of their own, after all others."""


def write_overlay(overlay: Overlay) -> str:
    """The text of an overlay file."""
    return "\n".join([*_head(overlay), *(line for change in overlay.changes for line in change_lines(change_members(change)))]) + "\n"


def _head(overlay: Overlay) -> Iterator[str]:
    yield f"title = {toml_value(overlay.title)}"
    yield f"dated = {overlay.dated.isoformat()}"
    yield f"on = {toml_value(list(overlay.on))}"
    if overlay.after:
        yield f"after = {toml_value(list(overlay.after))}"
    life = overlay.life
    if life.status is not Status.DRAFT:
        yield f"status = {toml_value(life.status.value)}"
    days: tuple[tuple[str, date | None], ...] = (
        ("from", life.first_day),
        ("until", life.last_day),
        ("answers_until", life.answers_until),
        ("in_force_from", life.in_force_from),
    )
    yield from (f"{name} = {day.isoformat()}" for name, day in days if day is not None)
    for entry in life.clarifications:
        yield from _clarification(entry)


def _clarification(entry: Clarification) -> Iterator[str]:
    yield from ("", "[[clarification]]", f"dated = {entry.dated.isoformat()}")
    if entry.change is not None:
        yield f"change = {entry.change}"
    yield f"text = {toml_value(entry.text)}"


def change_lines(members: Mapping[str, object]) -> Iterator[str]:
    """The lines of one change, from its members as a file has them; an empty line before it and before each table of it.

    Args:
        members: What the change says, each member as plain data; what is left out is not written.
    """
    yield from ("", "[[change]]")
    yield from (f"{name} = {toml_value(value)}" for name, value in members.items() if name not in _TABLES)
    for group in _TABLES:
        for name, table in table_of(members, group).items():
            yield from ("", f"[change.{group}.{toml_value(name)}]")
            yield from (f"{part} = {_part_text(part, value)}" for part, value in table_of({name: table}, name).items())


def _part_text(part: str, value: object) -> str:
    """A part of a row or a condition; how large a condition is stands with its point."""
    return repr(value) if part == _RADIUS else toml_value(value)


def change_members(change: Change) -> dict[str, object]:
    """What a change says, as the members of its file; what is usual is left out."""
    found: dict[str, object] = {}
    if not change.adds.rows:
        found |= {"key": change.key, "was": plain_value(change.was), "now": plain_value(change.now)}
    found["because"] = change.because
    if change.standing is not Standing.UNOFFICIAL:
        found["standing"] = change.standing.value
    if change.aim:
        found["aim"] = change.aim
    if change.expects is not None:
        expects = change.expects
        found["expects"] = {"outcome": expects.outcome, "direction": expects.direction.value, "matters": expects.matters}
    if change.guards:
        found["guards"] = [_guard(guard) for guard in change.guards]
    found |= {"observes": list(change.observes)} if change.observes else {}
    found |= {"asks": list(change.asks)} if change.asks else {}
    return found | _additions(change.adds)


def _additions(adds: Additions) -> dict[str, object]:
    """What a change adds: its conditions and its rows, each part as it is stated or by default."""
    kinds = {kind.name: {"means": kind.means} | ({} if kind.radius_m is None else {"radius_m": kind.radius_m}) for kind in adds.conditions}
    rows = {row.id: {"means": row.means} | {part: plain_value(value) for part, value in sorted(row.added.items())} for row in adds.rows}
    return ({"conditions": kinds} if kinds else {}) | ({"add": rows} if rows else {})


def _guard(guard: Guard) -> dict[str, object]:
    """A guard; which way is worse only where the trial says so itself."""
    return {"outcome": guard.outcome, "margin": guard.margin} | ({"worse": guard.worse} if guard.worse else {})


def toml_value(value: object) -> str:
    """A value as TOML writes it."""
    match value:
        case bool():
            return "true" if value else "false"
        case str():
            return json.dumps(value, ensure_ascii=False).replace(
                "\x7f", "\\u007f"
            )  # the one sign that JSON writes as it is and TOML does not
        case list():
            return f"[{', '.join(map(toml_value, value))}]"
        case dict():
            return f"{{ {', '.join(f'{name} = {toml_value(entry)}' for name, entry in value.items())} }}" if value else "{}"
        case float():
            short = f"{value:g}"
            return short if float(short) == value else repr(value)
        case _:
            return str(value)
