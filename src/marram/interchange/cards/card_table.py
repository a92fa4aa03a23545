"""A table of cards, one round of one player a row: every fault is told with its row and column, in one pass."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches
from fractions import Fraction
from functools import lru_cache
from pathlib import Path

from marram.core.errors import CardError, HandicapError
from marram.core.terms import Form
from marram.core.words import odd_sign, plain_name, shortly
from marram.handicaps.written_handicaps import read_handicap
from marram.interchange.cards.card_checks import SUMS, are_strokes, check_length, check_sums, refuse_alike
from marram.interchange.cards.penalty_text import read_concessions, read_corrections, read_penalties, read_two_balls
from marram.interchange.tables.table_rows import Faults, Row, RowReader
from marram.interchange.tables.tables import Table, plain, read_rows, read_table
from marram.interchange.tables.workbooks import Cell
from marram.rulebook.reading.files import packaged_catalogue
from marram.rulings.acts.acts import FAMILY
from marram.scoring.cards.card import Card, CardStatus, Correction, HoleEntry, Penalty, ShownHandicap, TwoBalls
from marram.scoring.cards.concessions import Concession
from marram.scoring.cards.tee import Tee
from marram.scoring.competition.terms_of_competition import ONE_BALL, Terms

HINT = "See docs/formats/cards.md."
_MOST_HOLES, _LONGEST, _MOST_STROKES = 36, 18, 30
"""Extra holes of a match are numbered on; more strokes than 30 on a hole are a slip of the pen (a guard of ours)."""
_HIGHEST_INDEX = Fraction(54)
_HIGHEST_HANDICAP, _LOWEST = 79, -12
"""An Index of 54 under the steepest Slope Rating, five over par: 54 x 155 / 113 + 5; plus handicaps below 12 are a guard of ours."""
_PICKED_UP = re.compile(r"(?:x|-|nr|picked[ -]up|pu?(?P<order>[1-9])?)")
_CONCEDED = frozenset({"c", "conceded"})
_STATUS = {
    "": CardStatus.RETURNED,
    "returned": CardStatus.RETURNED,
    "withdrawn": CardStatus.WITHDRAWN,
    "wd": CardStatus.WITHDRAWN,
    "no return": CardStatus.NOT_RETURNED,
    "not returned": CardStatus.NOT_RETURNED,
    "nr": CardStatus.NOT_RETURNED,
    "did not start": CardStatus.DID_NOT_START,
    "dns": CardStatus.DID_NOT_START,
    "disqualified": CardStatus.DISQUALIFIED,
    "dq": CardStatus.DISQUALIFIED,
    "conceded": CardStatus.CONCEDED,
}
_CERTIFIED = {"": (True, True), "yes": (True, True), "no": (False, False), "player": (True, False), "marker": (False, True)}
COLUMNS_OF_PLAYER = {
    "player": ("name",),
    "side": ("team", "pair"),
    "tee": ("tees",),
    "handicap_index": ("index", "hi"),
    "course_handicap": ("ch",),
    "playing_handicap": ("handicap", "ph", "hcp"),
}
_COLUMNS = {
    **COLUMNS_OF_PLAYER,
    "match": (),
    "round": (),
    "start": ("start_hole", "started_at"),
    "handicap_on_card": ("shown_handicap",),
    "penalties": (),
    "penalties_in_scores": (),
    "corrections": (),
    "two_balls": (),
    "concessions": (),
    "certified": ("signed",),
    "status": (),
    "out": ("front_nine", "front_9"),
    "in": ("back_nine", "back_9"),
    "total": ("gross", "gross_total"),
    **{str(hole): (f"h{hole}", f"hole_{hole}") for hole in range(1, _MOST_HOLES + 1)},
}


_ANY_HANDICAP = frozenset({"handicap", "hcp"})
"""Headings that may mean an Index, a Course Handicap or a Playing Handicap."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CardsRead:
    """Cards as they were read.

    Attributes:
        cards: The cards.
        remarks: What is no fault and still worth a look.
    """

    cards: tuple[Card, ...]
    remarks: tuple[str, ...]


def read_cards(path: Path, terms: Terms | None, faults: Faults, entered: Mapping[str, Mapping[str, Cell]] | None = None) -> CardsRead:
    """Read a table of cards.

    Args:
        path: A CSV file or a workbook.
        terms: The terms that they are held against; None where those cannot be used.
        faults: Where faults are noted.
        entered: What is known of a player already, by the plain form of the name: it stands where the card is empty. None where nothing is.

    Raises:
        CardError: The file is no table of cards at all.
    """
    table = read_table(path, _COLUMNS, [("player", "1")], what="a table of cards", error=CardError, faults=faults)
    holes = next(iter(terms.tees.values())).holes if terms is not None else _LONGEST
    missing = [str(hole) for hole in range(1, holes + 1) if str(hole) not in table.columns]
    if missing:
        faults.add("heading", f"no column for hole {', '.join(missing)}; the tees of the terms have {holes} holes")
    rows = tuple(_filled(row, entered or {}) for row in table.rows)
    cards: list[Card] = []
    read_rows(replace(table, rows=rows), faults, lambda row: cards.append(_read_card(row, terms, holes, table)))
    _refuse_doubles(cards, faults)
    refuse_alike(cards, faults)
    return CardsRead(cards=tuple(cards), remarks=tuple(_remarks(table, terms)))


def _read_card(row: RowReader, terms: Terms | None, holes: int, table: Table) -> Card:
    card = CardReader(row, terms, holes, table).card()
    if terms is not None and are_strokes(terms):
        check_sums(row, card, terms)
    if terms is None or terms.form is not Form.MATCH_PLAY:
        check_length(row, table.width, holes)
    return card


def _remarks(table: Table, terms: Terms | None) -> Iterator[str]:
    """What is no fault of a table and still to be told."""
    yield from (f"Not read: column {name}." for name in table.not_read)
    if terms is None:
        return
    for column in SUMS:
        if column in table.columns and not are_strokes(terms):
            yield f"Not checked: column {table.headings[column]}, which need not hold strokes in {terms.form.value}."
    heading = table.headings.get("playing_handicap", "")
    if terms.is_net and plain(heading) in _ANY_HANDICAP:
        yield (
            f"Column {heading} is read as the Playing Handicap; where it holds an Index or a Course Handicap, "
            "call it handicap_index or course_handicap."
        )


def _filled(row: Row, entered: Mapping[str, Mapping[str, Cell]]) -> Row:
    """A row with what entry and starting list say where the card says nothing; the name is told as it was entered."""
    player, number = plain_name(str(row.cells.get("player", ""))), str(row.cells.get("round", "")).strip()
    known = entered.get(f"{player}|{number}") or entered.get(player, {})
    return replace(row, cells={**known, **row.cells, **({"player": known["player"]} if known else {})})


def _refuse_doubles(cards: Sequence[Card], faults: Faults) -> None:
    seen: dict[tuple[str, str, int], int] = {}
    for card in cards:
        key = (card.match, card.player, card.round)
        if key in seen and card.player:
            faults.add(f"row {card.row}, column player", f"{card.player} has a card for round {card.round} in row {seen[key]} already")
        seen.setdefault(key, card.row)


@lru_cache(maxsize=1)
def _acts() -> frozenset[str]:
    """Names of the acts of the rule data; no trial adds any."""
    return frozenset(row.removeprefix(FAMILY) for row in packaged_catalogue().rows if row.startswith(FAMILY))


class CardReader:
    """Reads one row: of a table of cards, or of one of entries, which has the same columns without the holes."""

    def __init__(self, row: RowReader, terms: Terms | None, holes: int, table: Table) -> None:
        self.row = row
        self.terms = terms
        self.holes = holes
        self.columns = table.columns
        self.bare_handicap = heading if plain(heading := table.headings.get("playing_handicap", "")) in _ANY_HANDICAP else ""

    def card(self) -> Card:
        """The card."""
        tee = self.tee()
        status, why = self._status()
        certified = self._certified()
        penalties = [*self._penalties("penalties"), *self._penalties("penalties_in_scores")]
        return Card(
            player=self.player(),
            entries=self._entries(),
            row=self.row.row.number,
            side=self.row.text("side"),
            match=self.row.text("match"),
            round=self.row.whole("round", least=1, most=self.terms.rounds if self.terms is not None else 8) or 1,
            tee=tee.name if tee is not None else "",
            start=self.row.whole("start", least=1, most=self.holes) or 1,
            handicap_index=self.index(tee),
            course_handicap=self.handicap("course_handicap", decimals=None),
            playing_handicap=self.whole_handicap("playing_handicap"),
            shown=ShownHandicap(strokes=self.whole_handicap("handicap_on_card")) if "handicap_on_card" in self.columns else None,
            penalties=tuple(penalties),
            corrections=tuple(self._corrections()),
            two_balls=tuple(self._two_balls()),
            concessions=tuple(self._concessions()),
            is_certified_by_player=certified[0],
            is_certified_by_marker=certified[1],
            status=status,
            why=why,
        )

    def player(self) -> str:
        """The name."""
        name = self.row.text("player")
        if not name:
            self.row.fault("player", "a name is needed")
        elif odd_sign(name):
            self.row.fault("player", f"it holds the sign {odd_sign(name)}, which is not seen; write it without")
        return name

    @property
    def is_match(self) -> bool:
        """Whether a match is played, where holes may be conceded and extra holes follow."""
        return self.terms is not None and self.terms.form is Form.MATCH_PLAY

    def _entries(self) -> tuple[HoleEntry, ...]:
        if self.is_match:
            return tuple(self._entry(str(hole)) for hole in range(1, _MOST_HOLES + 1))
        for hole in range(self.holes + 1, _MOST_HOLES + 1):
            if self.row.text(str(hole)):
                self.row.fault(str(hole), f"a round has {self.holes} holes")
        return tuple(self._entry(str(hole)) for hole in range(1, self.holes + 1))

    def _entry(self, column: str) -> HoleEntry:
        text = self.row.text(column).casefold()
        picked_up = _PICKED_UP.fullmatch(text)
        if picked_up is not None:
            return HoleEntry(is_picked_up=True, given_up=int(picked_up["order"]) if picked_up["order"] else None)
        if text in _CONCEDED:
            if not self.is_match:
                self.row.fault(column, "a hole is conceded in match play only")
            return HoleEntry(has_conceded=True)
        return HoleEntry(strokes=self.row.whole(column, least=1, most=_MOST_STROKES))

    def tee(self) -> Tee | None:
        """The tee that is played from; None, with a fault noted, where that is not clear."""
        name = self.row.text("tee")
        if self.terms is None:
            return None
        if name and name not in self.terms.tees:
            self.row.fault("tee", f"{shortly(name)} is no tee of the terms; there are: {', '.join(self.terms.tees)}")
            return None
        if not name and len(self.terms.tees) > 1:
            self.row.fault("tee", f"the terms have several tees; say which: {', '.join(self.terms.tees)}")
            return None
        return self.terms.tee_of(name)

    def handicap(self, column: str, *, decimals: int | None) -> Fraction | None:
        """A handicap; None where none stands, or with a fault noted none that can be."""
        text = self.row.figure(column)
        if not text:
            return None
        try:
            found = read_handicap(text, decimals=decimals)
        except HandicapError as problem:
            bare = self.bare_handicap if column == "playing_handicap" else ""
            read_as = f" What stands under {bare} is read as the Playing Handicap; an Index goes under handicap_index." * bool(bare)
            self.row.fault(column, f"{problem.message} {problem.hint}".strip() + read_as)
            return None
        highest = _HIGHEST_INDEX if column == "handicap_index" else Fraction(_HIGHEST_HANDICAP)
        if not _LOWEST <= found <= highest:
            self.row.fault(column, f"{text} cannot be; expected +{-_LOWEST} to {highest}")
            return None
        return found

    def whole_handicap(self, column: str) -> int | None:
        """A handicap without decimals."""
        found = self.handicap(column, decimals=0)
        return None if found is None else int(found)

    def index(self, tee: Tee | None) -> Fraction | None:
        """The Handicap Index, and whether the player has what a net competition needs."""
        index = self.handicap("handicap_index", decimals=1)
        is_stated = any(self.row.text(column) for column in ("course_handicap", "playing_handicap"))
        needs = self.terms is not None and self.terms.is_net and not is_stated
        plays_one_ball = self.terms is not None and self.terms.sides in ONE_BALL  # the side's handicap may stand in one row of it
        if needs and index is None and not self.row.text("handicap_index") and not plays_one_ball:
            self.row.fault("playing_handicap", "a net competition needs a handicap: an Index, a Course Handicap or a Playing Handicap")
        if needs and index is not None and tee is not None and not tee.is_rated:
            self.row.fault("handicap_index", f"the tee {tee.name} has no Course Rating and Slope Rating, so an Index gives no strokes")
        if needs and tee is not None and not tee.stroke_index and self.terms is not None and self.terms.needs_stroke_index:
            self.row.fault("tee", f"the tee {tee.name} has no stroke index, and strokes are taken hole by hole")
        return index

    def _status(self) -> tuple[CardStatus, str]:
        text = self.row.text("status")
        word, _, why = text.partition(":")
        if word.strip().casefold() not in _STATUS:
            known = "withdrawn, no return, did not start, disqualified"
            self.row.fault("status", f"{shortly(text)} is not known; expected {known}, with the reason after a colon, or nothing")
            return CardStatus.RETURNED, ""
        status = _STATUS[word.strip().casefold()]
        shown = status.value.replace("-", " ")
        return status, "" if status is CardStatus.RETURNED else f"{shown}: {why.strip()}" if why.strip() else shown

    def _certified(self) -> tuple[bool, bool]:
        text = self.row.text("certified").casefold()
        if text not in _CERTIFIED:
            self.row.fault("certified", f"{shortly(text)}; expected yes, no, player or marker (who alone certified), or nothing for yes")
        return _CERTIFIED.get(text, (True, True))

    def _penalties(self, column: str) -> Iterable[Penalty]:
        for found in read_penalties(self.row.text(column), are_in_scores=column.endswith("in_scores")):
            if isinstance(found, str):
                self.row.fault(column, found)
            elif found.hole is not None and not 1 <= found.hole <= self.holes:
                self.row.fault(column, f"there is no hole {found.hole}")
            elif found.act and found.act not in _acts():
                near = ", ".join(get_close_matches(found.act, sorted(_acts()), n=3, cutoff=0.5))
                self.row.fault(column, f"there is no act {shortly(found.act)}" + (f"; nearest: {near}" if near else ""))
            else:
                yield found

    def _corrections(self) -> Iterable[Correction]:
        for found in read_corrections(self.row.text("corrections")):
            if isinstance(found, str):
                self.row.fault("corrections", found)
            elif not 1 <= found.hole <= self.holes or not 1 <= found.actual <= _MOST_STROKES:
                self.row.fault("corrections", f"hole {found.hole}, {found.actual} strokes cannot be")
            else:
                yield found

    def _two_balls(self) -> Iterable[TwoBalls]:
        for found in read_two_balls(self.row.text("two_balls")):
            if isinstance(found, str):
                self.row.fault("two_balls", found)
            elif not 1 <= found.hole <= self.holes:
                self.row.fault("two_balls", f"there is no hole {found.hole}")
            else:
                yield found

    def _concessions(self) -> Iterable[Concession]:
        if self.row.text("concessions") and not self.is_match:
            self.row.fault("concessions", "nothing is conceded outside match play")
        for found in read_concessions(self.row.text("concessions")):
            if isinstance(found, str):
                self.row.fault("concessions", found)
            else:
                yield found
