"""The command that goes on from what was found, made from its kind and id, and what that command needs to be told besides."""

from __future__ import annotations

from shlex import quote
from typing import TYPE_CHECKING

from marram.office.play.ask import Kind

if TYPE_CHECKING:
    from collections.abc import Sequence

    from marram.office.play.ask import Entry, Found, Lead

_RULE = "marram rule INCIDENT.toml --course COURSE.geojson"
_OF_ID = {Kind.ACT: "marram act {name}", Kind.OBJECT: "marram object {name}", Kind.FORM: "marram form {name}"}
_WHOLE = {Kind.DROP: "marram drop --list", Kind.SEARCH: "marram search --list", Kind.SUSPENSION: "marram suspension", Kind.NOT_COVERED: ""}
"""Commands of what is asked by its name, and of what is asked as a whole."""


def go_on(lead: Lead) -> tuple[str, str]:
    """The command that goes on from an entry under the books that have it, and what it needs to be told besides."""
    return command_under(lead.found.entry, lead.books), needs_of(lead.found)


def command_of(entry: Entry) -> str:
    """The command that goes on from an entry, without its books; empty where nothing does."""
    if entry.kind in _WHOLE:
        return _WHOLE[entry.kind]
    if entry.kind in _OF_ID:
        return _OF_ID[entry.kind].format(name=entry.id.partition(".")[2])
    return f"marram book show {entry.key}" if entry.key else _RULE


def command_under(entry: Entry, books: Sequence[str]) -> str:
    """The command that goes on from an entry under some books; a local rule is laid on them.

    Args:
        entry: What was found.
        books: The books that have it, as they were asked about.
    """
    if entry.kind is Kind.LOCAL_RULE:
        name = entry.id.partition(".")[2]
        books = [under if name in under.split("+") else f"{under}+{name}" for under in books or [entry.editions[-1]]]
    return " ".join([command_of(entry), *(f"--book {quote(under)}" for under in books)])


def needs_of(found: Found) -> str:
    """What that command needs to be told besides; of several situations the best, the others by number, since a question means one."""
    entry = found.entry
    if entry.kind is Kind.LOCAL_RULE:
        return f"a ruling with it in force: --book {entry.editions[-1]}+{entry.id.partition('.')[2]} with any command"
    if not found.situations:
        return ""
    best, *others = found.situations
    besides = f', or "{others[0]}"' if others else ""
    besides += f", or {len(others) - 1} more (marram rule --situations)" if len(others) > 1 else ""
    return f'an incident file with hole, ball and situation = "{best}"{besides}'
