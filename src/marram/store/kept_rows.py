"""A row as it is kept, what is to be written, and the stamp that ties each row to all before it."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

STAMP_LETTERS = 64
BESIDE_EVENTS = "/"
"""With this begins the name of rows that belong to no event; no event can be called so."""


class Kind(StrEnum):
    """What a row is about."""

    TERMS = "terms"
    ENTRY = "entry"
    DRAW = "draw"
    TIMES = "times"
    CARD = "card"
    OUT = "out"
    PLAY = "play"
    RULING = "ruling"
    STATE = "state"
    OBSERVED = "observed"
    WATCHED = "watched"
    TIME_PAR = "time-par"
    ENQUIRY = "enquiry"
    PSEUDONYM = "pseudonym"
    COUNTS = "counts"
    CUT = "cut"
    PLAY_OFF = "play-off"
    BALLS = "balls"
    MARKER = "marker"
    BRACKET = "bracket"
    MATCH = "match"


@dataclass(frozen=True, slots=True, kw_only=True)
class Hand:
    """Who writes, and by which clock.

    Attributes:
        who: Name of the person.
        clock: Gives the time, ISO 8601 in UTC; it is asked when the store is locked, so that rows stand in the order of their times.
    """

    who: str
    clock: Callable[[], str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Writing:
    """A row to be written.

    Attributes:
        kind: What it is about.
        key: Whose or which it is: a player, or empty where an event has one.
        content: What it says, as JSON text.
        reason: Why, in words.
        supersedes: Number of the row that it takes the place of; None where it is the first of its key.
    """

    kind: Kind
    key: str
    content: str
    reason: str = ""
    supersedes: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptRow:
    """A row as it is kept.

    Attributes:
        event: The event.
        number: Its number within the event, from 1.
        kind: What it is about.
        key: Whose or which it is.
        content: What it says, as JSON text.
        supersedes: Number of the row whose place it took; None where it took none.
        who: Who wrote it.
        at: When, ISO 8601 in UTC.
        reason: Why.
        stamp: Digest of the row and of the stamp before it.
    """

    event: str
    number: int
    kind: str
    key: str
    content: str
    supersedes: int | None
    who: str
    at: str
    reason: str
    stamp: str


def stamp_of(before: str, row: KeptRow) -> str:
    """The stamp that a row must bear.

    Args:
        before: The stamp of the row before it in the event; empty for the first.
        row: The row; its own stamp is not looked at.
    """
    said = [before, row.event, row.number, row.kind, row.key, row.content, row.supersedes, row.who, row.at, row.reason]
    return hashlib.sha256(json.dumps(said, ensure_ascii=True, separators=(",", ":")).encode()).hexdigest()


def short_stamp(stamp: str) -> str:
    """A stamp as it is printed: its first eight signs in two groups."""
    return f"{stamp[:4]} {stamp[4:8]}" if stamp else ""
