"""Entries: who plays, from which tee, off which handicap, in which division."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from marram.core.words import plain_name
from marram.events.event_terms import EventTerms
from marram.scoring.cards.card import Card


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A player who has entered.

    Attributes:
        player: The name.
        side: The side; empty where the player plays alone.
        tee: Name of the tee; empty where the terms have one only.
        handicap_index: Handicap Index; None where none is stated. A plus handicap is below zero.
        course_handicap: Course Handicap as stated; None where none is.
        playing_handicap: Playing Handicap as stated; None where none is.
        team: The team, whose best scores are added up; empty where there is none.
        division: The division as stated; empty where it follows from the terms, or there is none.
        row: Its row in the table.
    """

    player: str
    side: str = ""
    tee: str = ""
    handicap_index: Fraction | None = None
    course_handicap: Fraction | None = None
    playing_handicap: int | None = None
    team: str = ""
    division: str = ""
    row: int = 0

    @property
    def key(self) -> str:
        """What tells players apart."""
        return plain_name(self.player)

    @property
    def handicap(self) -> Fraction | None:
        """What a draw by handicap goes by: the Playing or Course Handicap as stated, else the Index."""
        stated = self.playing_handicap if self.playing_handicap is not None else self.course_handicap
        return self.handicap_index if stated is None else Fraction(stated)

    def as_card(self) -> Card:
        """The card that the player is handed: nothing on it yet but what the entry says."""
        return Card(
            player=self.player,
            entries=(),
            row=self.row,
            side=self.side,
            tee=self.tee,
            handicap_index=self.handicap_index,
            course_handicap=self.course_handicap,
            playing_handicap=self.playing_handicap,
        )


def division_of(terms: EventTerms, entry: Entry) -> str:
    """The division of a player: the one that is stated, else the first that takes the tee and the Index; empty where none does.

    Args:
        terms: The terms.
        entry: The entry.
    """
    if entry.division:
        return entry.division
    tee = terms.terms.tee_of(entry.tee).name
    return next((division.name for division in terms.divisions if division.takes(tee, entry.handicap_index)), "")


def find_doubles(entries: Sequence[Entry]) -> Iterable[tuple[Entry, Entry]]:
    """Pairs of entries of one player: the first, and each one after it.

    Args:
        entries: The entries, in order.
    """
    seen: dict[str, Entry] = {}
    for entry in entries:
        if entry.key and entry.key in seen:
            yield seen[entry.key], entry
        seen.setdefault(entry.key, entry)


def by_key(entries: Iterable[Entry]) -> Mapping[str, Entry]:
    """Entries by what tells players apart."""
    return {entry.key: entry for entry in entries}
