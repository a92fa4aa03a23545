"""How an event stands: its results, what is still to come, and how a score came to be."""

from __future__ import annotations

from dataclasses import dataclass, replace

from marram.core.errors import EventError
from marram.core.words import plain_name
from marram.events.decided.cut_made import CutMade
from marram.events.decided.play_off import PlayOff
from marram.events.decided.round_counts import RoundCounts
from marram.events.event_results import EventResults, score_event
from marram.events.happened import LoggedRuling
from marram.events.knockout.match_bracket import MatchBracket
from marram.events.trial_standing import TrialStanding
from marram.office.events.decide.later_rounds import stand_after
from marram.office.events.decide.play_bracket import bracket_of
from marram.office.events.kept_event import KeptEvent
from marram.scoring.competition.terms_of_competition import Terms
from marram.store.contents import read_back
from marram.store.kept_rows import KeptRow, Kind, short_stamp
from marram.store.open_store import Store


@dataclass(frozen=True, slots=True, kw_only=True)
class EventStanding:
    """Results of an event with all that they rest on.

    Attributes:
        name: Name of the event in its store.
        terms: The terms.
        under: What it is played under.
        state: ``provisional``, ``final`` or ``closed``.
        entered: So many have entered.
        found: The results.
        stamp: Stamp of the last row, as it is printed.
        suspended: What is said of a suspension; empty where there was none.
        counts: What was decided of rounds cut short or cancelled.
        cut: The cut; None where none was made.
        play_offs: The play-offs and lots that were held.
        undecided: What the Committee has still to decide, in sentences.
        bracket: The bracket; None where none is drawn.
        after_round: After which round this is so; None for how it stands now.
    """

    name: str
    terms: Terms
    under: TrialStanding
    state: str
    entered: int
    found: EventResults
    stamp: str
    suspended: str
    counts: tuple[RoundCounts, ...]
    cut: CutMade | None
    play_offs: tuple[PlayOff, ...]
    undecided: tuple[str, ...]
    bracket: MatchBracket | None
    after_round: int | None = None

    @property
    def decided(self) -> tuple[str, ...]:
        """What was decided, and what has still to be, in sentences."""
        cut = (self.cut.says,) if self.cut is not None else ()
        return (*(one.says for one in self.counts), *cut, *(held.says for held in self.play_offs), *self.undecided)


def stand_of(event: KeptEvent, after: int | None = None) -> EventStanding:
    """Score what is in.

    Args:
        event: The event.
        after: The round after which results are wanted; None for how they stand now.

    Raises:
        EventError: No card is in, and no bracket is drawn; or there is no such round.
        CardError: A card cannot be scored.
    """
    bracket = bracket_of(event)
    if after is not None:
        found = stand_after(event, after)
    else:
        cards = event.as_ruled()
        if not cards and bracket is None:
            raise EventError("No card is in yet.", where=event.name, hint="Take cards in first.")
        found = score_event(event.book, event.handicapping, event.terms, event.entries, cards)
    if bracket is not None:
        found = replace(found, not_in=())  # a match is awaited there, and not a card of each player
    return EventStanding(
        name=event.name,
        terms=event.terms.terms,
        under=event.under,
        state=event.state.value,
        entered=len(event.entries),
        found=found,
        stamp=event.stamp,
        suspended=event.suspension.says if event.suspension is not None else "",
        counts=event.counts,
        cut=event.cut if after is None or (event.cut is not None and event.cut.after_round < after) else None,
        play_offs=event.play_offs,
        undecided=event.undecided,
        bracket=bracket,
        after_round=after,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class HistoryRow:
    """A row of an event as it is told.

    Attributes:
        number: Its number.
        kind: What it is about.
        key: Whose or which it is.
        says: What it says, as JSON text.
        supersedes: Number of the row whose place it took; None where it took none.
        superseded_by: Number of the row that took its place; None where it stands.
        who: Who wrote it.
        at: When.
        reason: Why.
        stamp: Its stamp, as it is printed.
    """

    number: int
    kind: str
    key: str
    says: str
    supersedes: int | None
    superseded_by: int | None
    who: str
    at: str
    reason: str
    stamp: str


def tell_history(store: Store, name: str, player: str = "") -> tuple[HistoryRow, ...]:
    """Every row of an event, or those of one player, with who wrote it, when and why.

    Args:
        store: The store.
        name: The event.
        player: The player; empty for all rows.

    Raises:
        EventError: The event has no such player.
    """
    rows = store.every_row(name)
    by = {row.supersedes: row.number for row in rows if row.supersedes is not None}
    found = [row for row in rows if not player or _is_of(row, plain_name(player))]
    if player and not any(row.kind not in _OF_ALL for row in found):
        raise EventError(f"Nothing is kept of {player}.", where=name, hint="Give the name as it was entered.")
    return tuple(_told(row, by.get(row.number)) for row in found)


_OF_ALL = frozenset({Kind.COUNTS, Kind.CUT, Kind.PLAY_OFF})
"""Rows that bear on the score or the place of everybody."""
_OF_ONE = frozenset({Kind.ENTRY, Kind.CARD, Kind.OUT, Kind.BALLS, Kind.MARKER})


def _is_of(row: KeptRow, key: str) -> bool:
    if row.kind == Kind.RULING:
        return plain_name(read_back(row.content, LoggedRuling, f"row {row.number}").player) == key
    if row.kind in _OF_ALL:
        return True
    return row.kind in _OF_ONE and row.key.partition("|")[0] == key


def _told(row: KeptRow, superseded_by: int | None) -> HistoryRow:
    return HistoryRow(
        number=row.number,
        kind=row.kind,
        key=row.key,
        says=row.content,
        supersedes=row.supersedes,
        superseded_by=superseded_by,
        who=row.who,
        at=row.at,
        reason=row.reason,
        stamp=short_stamp(row.stamp),
    )
