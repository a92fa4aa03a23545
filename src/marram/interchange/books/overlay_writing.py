"""An overlay written as the file that `read_overlay` reads: the same whether it was typed, asked for, or filled in on a sheet."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date

from marram.rulebook.overlays.additions import Additions
from marram.rulebook.overlays.overlay import Change, Overlay, Standing
from marram.rulebook.overlays.trial_terms import Clarification, Guard, Status
from marram.rulebook.values import plain_value


def write_overlay(overlay: Overlay) -> str:
    """The text of an overlay file."""
    return "\n".join([*_head(overlay), *(line for change in overlay.changes for line in _change(change))]) + "\n"


def _head(overlay: Overlay) -> Iterator[str]:
    yield f"title = {_text(overlay.title)}"
    yield f"dated = {overlay.dated.isoformat()}"
    yield f"on = {_text(list(overlay.on))}"
    if overlay.after:
        yield f"after = {_text(list(overlay.after))}"
    life = overlay.life
    if life.status is not Status.DRAFT:
        yield f"status = {_text(life.status.value)}"
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
    yield f"text = {_text(entry.text)}"


def _change(change: Change) -> Iterator[str]:
    yield from ("", "[[change]]")
    if not change.adds.rows:
        yield f"key = {_text(change.key)}"
        yield f"was = {_text(plain_value(change.was))}"
        yield f"now = {_text(plain_value(change.now))}"
    yield f"because = {_text(change.because)}"
    if change.standing is not Standing.UNOFFICIAL:
        yield f"standing = {_text(change.standing.value)}"
    if change.aim:
        yield f"aim = {_text(change.aim)}"
    if change.expects is not None:
        expects = {"outcome": change.expects.outcome, "direction": change.expects.direction.value, "matters": change.expects.matters}
        yield f"expects = {_text(expects)}"
    if change.guards:
        yield f"guards = {_text([_guard(guard) for guard in change.guards])}"
    if change.observes:
        yield f"observes = {_text(list(change.observes))}"
    if change.asks:
        yield f"asks = {_text(list(change.asks))}"
    yield from _additions(change.adds)


def _additions(adds: Additions) -> Iterator[str]:
    """What a change adds: its conditions and its rows, each part as it is stated or by default."""
    for kind in adds.conditions:
        yield from ("", f"[change.conditions.{_text(kind.name)}]", f"means = {_text(kind.means)}")
        if kind.radius_m is not None:
            yield f"radius_m = {kind.radius_m!r}"
    for row in adds.rows:
        yield from ("", f"[change.add.{_text(row.id)}]", f"means = {_text(row.means)}")
        yield from (f"{part} = {_text(plain_value(value))}" for part, value in sorted(row.added.items()))


def _guard(guard: Guard) -> dict[str, object]:
    """A guard; which way is worse only where the trial says so itself."""
    return {"outcome": guard.outcome, "margin": guard.margin} | ({"worse": guard.worse} if guard.worse else {})


def _text(value: object) -> str:
    """A value as TOML writes it."""
    match value:
        case bool():
            return "true" if value else "false"
        case str():
            return json.dumps(value, ensure_ascii=False)
        case list():
            return f"[{', '.join(map(_text, value))}]"
        case dict():
            return f"{{ {', '.join(f'{name} = {_text(entry)}' for name, entry in value.items())} }}" if value else "{}"
        case float():
            return f"{value:g}"
        case _:
            return str(value)
