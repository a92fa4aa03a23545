"""Cards and terms for tests of scoring: an invented course of par 72, and cards written as lists."""

from __future__ import annotations

from collections.abc import Sequence

from marram.core.terms import Form
from marram.interchange.books.book_files import read_book, read_handicap_book
from marram.scoring.cards.card import Card, HoleEntry, Penalty
from marram.scoring.cards.tee import Tee
from marram.scoring.competition.terms_of_competition import Terms
from marram.scoring.ranked import Ranked, Results
from marram.scoring.results import score_competition

PAR = (4, 4, 3, 5, 4, 4, 3, 4, 5, 4, 3, 4, 5, 4, 4, 3, 5, 4)
STROKE_INDEX = (9, 5, 17, 11, 1, 7, 15, 3, 13, 8, 16, 4, 14, 2, 10, 18, 6, 12)
WHITE = Tee(name="white", par=PAR, stroke_index=STROKE_INDEX)
BLUE = Tee(name="blue", par=(*PAR[:-1], 5), stroke_index=STROKE_INDEX)


def entries(gross: Sequence[int | None]) -> tuple[HoleEntry, ...]:
    return tuple(HoleEntry(strokes=strokes) for strokes in gross)


def card(player: str, gross: Sequence[int | None], handicap: int | None = None, penalties: Sequence[Penalty] = (), **more: object) -> Card:
    made = {"player": player, "entries": entries(gross), "playing_handicap": handicap, "penalties": tuple(penalties)}
    return Card(**{**made, **more})  # type: ignore[arg-type]


def terms(form: Form, **more: object) -> Terms:
    return Terms(**{"title": "Test", "form": form, "tees": {"white": WHITE, "blue": BLUE}, **more})  # type: ignore[arg-type]


def results(book: str, form: Form, cards: Sequence[Card], **more: object) -> Results:
    return score_competition(read_book(book), read_handicap_book("2024"), terms(form, **more), cards)


def only(book: str, form: Form, one: Card, **more: object) -> Ranked:
    (found,) = results(book, form, [one], **more).ranked
    return found


def places(found: Results) -> list[tuple[int | None, str, int | None]]:
    return [(one.placed.place if one.placed is not None else None, one.name, one.total) for one in found.ranked]
