"""Make the papers of an event: what stands at their head, the starting list, the cards, and the local rules of the day."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from marram.core.errors import DataError, EventError
from marram.core.field_names import Field
from marram.core.terms import Form
from marram.core.words import counted
from marram.events.blank_cards import BlankCard, make_cards
from marram.events.entry_list import Entry, by_key, division_of
from marram.events.group_draw import DrawnBy
from marram.events.starting_list import StartingGroup
from marram.handicaps.written_handicaps import tell_handicap
from marram.office.events.decide.later_rounds import who_plays
from marram.office.events.kept_event import KeptEvent
from marram.office.events.printed_results import print_results
from marram.rulebook.book import Book
from marram.scoring.competition.terms_of_competition import Sides
from marram.sheets.pages.event_sheets import (
    CardSheets,
    EventHead,
    LocalRule,
    LocalRulesSheet,
    PrintedCard,
    PrintedHole,
    ResultSheets,
    StartingSheet,
    StartLine,
    set_event_sheet,
)

_LIGHTNING, _WATER, _BEYOND, _ANIMALS = "caution.lightning", "caution.water", "caution.beyond-boundary", "caution.animals"
_RANGE = (
    "Wait until nobody is in reach, call at once where a ball may strike somebody, and keep behind or beside the player. The Committee and "
    "local practice come first."
)
"""Common practice."""
_HEADED: Mapping[str, str] = {_LIGHTNING: "Lightning first.", _WATER: "Water.", _BEYOND: "Beyond the boundary.", _ANIMALS: "Animals."}
_OWN_LINE = {Form.STABLEFORD: "Points", Form.PAR_BOGEY: "+ 0 -", Form.MAXIMUM_SCORE: "Counts"}
_HALF = 9
PAPERS = ("starting-list", "cards", "results", "local-rules")


def print_event(event: KeptEvent, paper: str, form: str, number: int | None = None) -> bytes:
    """A paper of an event as a PDF.

    Args:
        event: The event.
        paper: One of ``PAPERS``.
        form: How the name of the file ends.
        number: The round whose starting list, cards or results are wanted; None for the last that has a list, and results as they stand.

    Raises:
        DataError: It does not end in .pdf.
        EventError: What the paper tells is not there yet.
        CardError: A card cannot be scored, or a handicap cannot be worked out.
    """
    if form.lower() != ".pdf":
        raise DataError(f"A paper cannot be written as {form or 'a file without ending'}.", field=Field.OUT, hint="End the name in .pdf.")
    makers: Mapping[str, Callable[[KeptEvent], StartingSheet | CardSheets | ResultSheets | LocalRulesSheet]] = {
        "starting-list": lambda kept: starting_sheet_of(kept, number),
        "cards": lambda kept: card_sheets_of(kept, number),
        "results": lambda kept: print_results(kept, head_of(kept), number),
        "local-rules": local_rules_of,
    }
    return set_event_sheet(makers[paper](event))


def head_of(event: KeptEvent, number: int | None = None) -> EventHead:
    """What stands at the head and the foot of every paper.

    Args:
        event: The event.
        number: The round that the paper is of; None where it is of none.
    """
    terms, under = event.terms.terms, event.under
    when = event.terms.day_of(number or 1)
    day = f"{when.day} {when:%B %Y}" if when is not None else ""
    holes = next(iter(terms.tees.values())).holes
    sides = "" if terms.sides is Sides.INDIVIDUAL else terms.sides.value.replace("-", " ")
    tees = " and ".join(terms.tees)
    of_round = f"round {number} of {terms.rounds}" if number is not None and terms.rounds > 1 else ""
    told = (event.terms.course, day, of_round, terms.form.words, sides, f"{holes} holes", f"{tees} tees" if tees else "")
    pct = f", {_share(event)} %" if terms.is_net and terms.allowances else ""
    handicaps = f" · handicap rules {event.handicapping.name}{pct}" if terms.is_net else ""
    return EventHead(
        title=event.title,
        about=", ".join(filter(None, told)),
        book=f"book {under.book} [{under.stamp}]{handicaps}",
        under=under.line,
        is_trial=not under.is_acceptable,
        stamp=f"{event.name} · stamp {event.stamp}",
        suspended=event.suspension.says if event.suspension is not None and event.suspension.until_min is None else "",
    )


def _share(event: KeptEvent) -> str:
    return " and ".join(f"{float(share * 100):g}" for share in event.terms.terms.allowances)


def starting_sheet_of(event: KeptEvent, number: int | None = None) -> StartingSheet:
    """The starting list as it hangs out.

    Args:
        event: The event.
        number: Number of the round; None for the last that has a list.

    Raises:
        EventError: There are no starting times yet.
    """
    number = event.last_starts[0] if number is None else number
    starts = event.start_lists.get(number)
    if starts is None:
        raise EventError("There are no starting times yet.", where=event.name, hint="Give times first.")
    known = by_key(event.entries)
    by_name = {entry.player: entry for entry in known.values()}
    lines = [(group.start_min, group.number, _line(event, group, by_name)) for group in starts.groups]
    lines += [
        (start_min, 0, StartLine(time=time, start=str(hole), group="", players=()))
        for (start_min, hole), (time, _) in zip(starts.empty, starts.empty_words, strict=True)
    ]
    return StartingSheet(
        head=head_of(event, number),
        lines=tuple(line for *_, line in sorted(lines, key=lambda found: found[:2])),
        has_starts=len({group.hole for group in starts.groups}) > 1,
        how=tuple(_how(event, number)),
        cautions=(event.base.word(f"{_LIGHTNING}.text").value,),
    )


def _line(event: KeptEvent, group: StartingGroup, known: Mapping[str, Entry]) -> StartLine:
    players = tuple((player, _of_player(event, known[player])) for player in group.players)
    return StartLine(time=group.time, start=f"{group.hole}{group.letter}", group=str(group.number), players=players)


def _of_player(event: KeptEvent, entry: Entry) -> str:
    """What is told of a player on the starting list: side, tee and division, where there are several."""
    tee = entry.tee if len(event.terms.terms.tees) > 1 else ""
    return ", ".join(filter(None, (entry.side, tee, division_of(event.terms, entry))))


def _how(event: KeptEvent, number: int) -> Iterator[str]:
    draw = event.draws[number]
    by = {
        DrawnBy.RANDOM: f"at random, seed {draw.seed}",
        DrawnBy.HANDICAP: "by handicap",
        DrawnBy.LIST: "as the Committee listed it",
        DrawnBy.SCORE: "by score, the leaders last",
    }
    players = sum(map(len, draw.groups))
    yield f"{counted(players, 'player')}, drawn {by[draw.by]}. Be ready at the place of the start before the time."


def card_sheets_of(event: KeptEvent, number: int | None = None) -> CardSheets:
    """The cards with strokes.

    Args:
        event: The event.
        number: Number of the round; None for the last that has a starting list.

    Raises:
        EventError: Nobody has entered.
        CardError: A handicap cannot be worked out.
    """
    if not event.entries:
        raise EventError("Nobody has entered.", where=event.name, hint="Enter players first.")
    number = event.last_starts[0] if number is None else number
    playing = who_plays(event, number)
    cards = make_cards(event.book, event.handicapping, event.terms, playing, event.start_lists.get(number), number)
    return CardSheets(
        head=head_of(event, number),
        cards=tuple(_printed(event, card) for card in cards),
        has_stop=any(hole.stop_after is not None for card in cards for hole in card.holes),
        own_line=_OWN_LINE.get(event.terms.terms.form, "Net" if event.terms.terms.is_net else ""),
        certified="Scores certified by player and marker; the player answers for the score of each hole and returns the card at once.",
    )


def _printed(event: KeptEvent, card: BlankCard) -> PrintedCard:
    group = card.group
    start = "" if group is None else f"Group {group.number}, {group.time} from hole {group.hole}{group.letter}"
    holes = [
        PrintedHole(
            hole=str(hole.hole),
            par=str(hole.par),
            stroke_index="" if hole.stroke_index is None else str(hole.stroke_index),
            received=hole.received,
            stop_after="" if hole.stop_after is None else str(hole.stop_after),
        )
        for hole in card.holes
    ]
    halves = [holes[start : start + _HALF] for start in range(0, len(holes), _HALF)]
    return PrintedCard(
        names=" and ".join(card.names),
        start=start,
        facts=tuple(_facts(event, card)),
        says=card.says,
        halves=tuple((tuple(half), str(sum(int(hole.par) for hole in half))) for half in halves),
        total_par=str(card.tee.total_par),
    )


def _facts(event: KeptEvent, card: BlankCard) -> Iterator[tuple[str, str]]:
    named = next((one for one in event.markers if one.player in card.names and one.marker and one.round == event.last_starts[0]), None)
    if named is not None:
        yield "Marker", named.marker
    if card.side:
        yield "Side", card.side
    if card.division:
        yield "Division", card.division
    yield "Tee", card.tee.name or "the only one"
    if card.tee.is_rated:
        assert card.tee.course_rating is not None
        yield "Course Rating, Slope Rating", f"{float(card.tee.course_rating):.1f}, {card.tee.slope_rating}"
    if not event.terms.terms.is_net:
        return
    if card.handicap_index is not None:
        yield "Handicap Index", tell_handicap(card.handicap_index, 1)
    if card.course_handicap is not None:
        yield "Course Handicap", tell_handicap(card.course_handicap)
    if card.strokes is not None:
        yield "Strokes received", tell_handicap(card.strokes)


def local_rules_of(event: KeptEvent) -> LocalRulesSheet:
    """The local rules of the day, with what comes before them.

    Args:
        event: The event.
    """
    parts: dict[str, list[LocalRule]] = {}
    because = {(overlay.title, change.number): change.because for overlay in event.book.overlays for change in overlay.changes}
    for change in event.under.changes:
        standing = (
            "Yes, as a local rule; rounds stay acceptable for handicap."
            if change.is_local_rule
            else "No: it is tried here. It makes rounds not acceptable for handicap."
        )
        rule = LocalRule(
            number=str(change.number), sentence=change.sentence, standing=standing, because=because[change.overlay, change.number]
        )
        parts.setdefault(change.overlay, []).append(rule)
    return LocalRulesSheet(
        head=head_of(event),
        cautions=tuple(_cautions(event.base)),
        parts=tuple((title, tuple(rules)) for title, rules in parts.items()),
        empty="" if parts else "The Committee has set no local rule for this event: the book holds as it is published.",
    )


def _cautions(book: Book) -> Iterator[tuple[str, str]]:
    for row in (_LIGHTNING, _WATER, _BEYOND, _ANIMALS):
        if row in book.catalogue.rows and book.has_row(row):
            yield _HEADED[row], book.word(f"{row}.text").value
        if row == _LIGHTNING:
            yield "People in range.", _RANGE
