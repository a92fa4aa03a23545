"""Sheets of an event to print: the starting list, cards with strokes, results, and the local rules with what comes before them."""

from __future__ import annotations

from dataclasses import dataclass

import msgspec

from marram.core.terms import ADVICE
from marram.sheets.guide.paper import template
from marram.sheets.scene.typesetting import set_pdf


@dataclass(frozen=True, slots=True, kw_only=True)
class EventHead:
    """What stands at the head and the foot of every sheet.

    Attributes:
        title: Title of the event.
        about: Course, day, form and tees, in words.
        book: Books and their stamps, in words.
        under: What is said of trial or local rules; empty where there is nothing to say.
        is_trial: Whether rounds are not acceptable because of the rules.
        stamp: The event's name and stamp.
        suspended: What is said of play that is suspended now; empty where it goes on.
    """

    title: str
    about: str
    book: str
    under: str
    is_trial: bool
    stamp: str
    suspended: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StartLine:
    """A line of the starting list.

    Attributes:
        time: The time.
        start: The hole, with its letter.
        group: Number of the group; empty for a time that stays empty.
        players: The players, each with what is told of them.
    """

    time: str
    start: str
    group: str
    players: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StartingSheet:
    """The starting list as it hangs out.

    Attributes:
        head: Its head.
        lines: Its lines.
        has_starts: Whether groups start from several holes.
        how: What is told below.
        cautions: What comes before play.
    """

    head: EventHead
    lines: tuple[StartLine, ...]
    has_starts: bool
    how: tuple[str, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedHole:
    """A hole on a card.

    Attributes:
        hole: Its number.
        par: Its par.
        stroke_index: Its stroke index; empty where none is stated.
        received: Strokes received; below zero where they are given.
        stop_after: Strokes after which nothing more can be gained; empty where every stroke counts.
    """

    hole: str
    par: str
    stroke_index: str
    received: int
    stop_after: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedCard:
    """A card to print.

    Attributes:
        names: The player or partners.
        start: Group, time and hole.
        facts: What is told of the player: tee, division, handicaps, each with its name.
        says: How the strokes were worked out.
        halves: The holes, nine in a block, each block with its par.
        total_par: Par of the round.
    """

    names: str
    start: str
    facts: tuple[tuple[str, str], ...]
    says: str
    halves: tuple[tuple[tuple[PrintedHole, ...], str], ...]
    total_par: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CardSheets:
    """The cards of an event.

    Attributes:
        head: What stands on each.
        cards: The cards, two to a page.
        has_stop: Whether a line tells when a ball may be picked up.
        own_line: What a player counts on each hole besides strokes, such as *points*; empty for nothing.
        certified: What is asked of player and marker.
    """

    head: EventHead
    cards: tuple[PrintedCard, ...]
    has_stop: bool
    own_line: str
    certified: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceLine:
    """A line of a list of places.

    Attributes:
        place: The place.
        player: The player or side.
        figures: Gross, strokes received and the like, as the list's heads say.
        score: The result.
        steps: What each step compared; empty where it compared nothing.
        decider: Index of the step that decided; None where none did.
        decided: What decided the place, in words.
        charges: What was charged and decided, each with its ruling and its rule.
        bracket: ``first``, ``middle`` or ``last`` of those with an equal result; empty for one alone.
    """

    place: str
    player: str
    figures: tuple[str, ...]
    score: str
    steps: tuple[str, ...]
    decider: int | None
    decided: str
    charges: tuple[str, ...]
    bracket: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceTable:
    """A list of places.

    Attributes:
        title: The division and the scores.
        about: How many places, and how ties are decided.
        heads: Heads of the figures before the result.
        score_head: Head of the result.
        step_heads: Heads of the steps.
        lines: Its lines.
        place_head: Head of the places.
        player_head: Head of the players.
    """

    title: str
    about: str
    heads: tuple[str, ...]
    score_head: str
    step_heads: tuple[str, ...]
    lines: tuple[PlaceLine, ...]
    place_head: str = "Place"
    player_head: str = "Player"


@dataclass(frozen=True, slots=True, kw_only=True)
class ResultSheets:
    """The results as they hang out.

    Attributes:
        head: Its head.
        state: *Provisional*, *Final* or *Closed*.
        state_says: What that means now.
        tables: The lists of places.
        without: Who is in no place: what became of the card, and the players.
        without_count: How many of how many.
        foot: What is told below.
    """

    head: EventHead
    state: str
    state_says: str
    tables: tuple[PlaceTable, ...]
    without: tuple[tuple[str, str], ...]
    without_count: str
    foot: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LocalRule:
    """A change on the sheet of local rules.

    Attributes:
        number: Its number.
        sentence: What it is from and to.
        standing: Whether a Committee may adopt it, and what that means for handicap.
        because: Why.
    """

    number: str
    sentence: str
    standing: str
    because: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LocalRulesSheet:
    """Local rules of the day.

    Attributes:
        head: Its head.
        cautions: What comes first, each with its heading; lightning before all.
        parts: Trials and local rules by title, each with its changes.
        empty: What is said where there is none.
    """

    head: EventHead
    cautions: tuple[tuple[str, str], ...]
    parts: tuple[tuple[str, tuple[LocalRule, ...]], ...]
    empty: str


def set_event_sheet(sheet: StartingSheet | CardSheets | ResultSheets | LocalRulesSheet) -> bytes:
    """Set a sheet of an event as a PDF, A4, in black and white.

    Args:
        sheet: The sheet.
    """
    content = msgspec.json.encode({**msgspec.to_builtins(sheet), "advice": ADVICE})
    files = {"sheet.json": content, **{name: template(name).encode() for name in ("common.typ", "event-common.typ")}}
    return set_pdf(template(_TEMPLATES[type(sheet)]), files)


_TEMPLATES = {
    StartingSheet: "starting-list-a4.typ",
    CardSheets: "score-cards-a4.typ",
    ResultSheets: "results-a4.typ",
    LocalRulesSheet: "local-rules-a4.typ",
}
