"""Cards held against themselves and each other: totals against holes, names that differ in capitals only, rows that end too early."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from marram.core.terms import Form
from marram.interchange.tables.table_rows import Faults, RowReader
from marram.scoring.cards.card import Card
from marram.scoring.competition.terms_of_competition import Terms

SUMS = ("out", "in", "total")
"""Columns that hold the strokes of the first nine, of the second nine and of the round."""
_NINE = 9
_OF_STROKES = frozenset({Form.STROKE_PLAY, Form.MAXIMUM_SCORE})
_NAMES: tuple[tuple[str, str, Callable[[Card], str]], ...] = (
    ("player", "player", lambda card: card.player),
    ("side", "side", lambda card: card.side),
    ("match", "match", lambda card: card.match),
)


def are_strokes(terms: Terms | None) -> bool:
    """Whether the totals of a table are strokes; in the other forms they may be points or holes."""
    return terms is not None and terms.form in _OF_STROKES


def check_sums(row: RowReader, card: Card, terms: Terms) -> None:
    """Note each total that contradicts the holes; one that need not be their sum, such as a net total, passes.

    Args:
        row: The row that the card was read from.
        card: The card.
        terms: The terms of the competition.
    """
    holes = [entry.strokes for entry in card.entries]
    parts = {"out": holes[:_NINE], "in": holes[_NINE:], "total": holes}
    for column in SUMS:
        strokes = [score for score in parts[column] if score is not None]
        text = row.text(column)
        if not text.isdigit() or not strokes or len(strokes) < len(parts[column]):
            continue
        written, added_up = int(text), sum(strokes)
        if written != added_up and not (column == "total" and _is_other_total(written, added_up, card, terms)):
            row.fault(column, f"{written}, and the holes add up to {added_up}")


def _is_other_total(written: int, added_up: int, card: Card, terms: Terms) -> bool:
    """Whether a total may be the net score, or hold penalties or the maximum."""
    stated = sum(penalty.strokes or 0 for penalty in card.penalties if not penalty.is_in_score)
    if terms.form is Form.MAXIMUM_SCORE and written < added_up:
        return True
    if written == added_up + stated:
        return True
    if not terms.is_net:
        return False
    if card.playing_handicap is not None:
        return written in {added_up - card.playing_handicap, added_up + stated - card.playing_handicap}
    handicap = card.course_handicap if card.course_handicap is not None else card.handicap_index
    return handicap is not None and (written < added_up if handicap > 0 else written > added_up)


def check_length(row: RowReader, width: int, holes: int) -> None:
    """Note a row that ends in the midst of the holes, where the cells behind may have slipped.

    Args:
        row: The row.
        width: So many cells the heading has.
        holes: Holes of the course.
    """
    columns = {str(hole) for hole in range(1, holes + 1)}
    if columns & set(row.row.cut_off) and columns & row.row.cells.keys():
        row.faults.add(f"row {row.row.number}", f"it holds {row.row.width} cells and the heading {width}; separate empty cells too")


def refuse_alike(cards: Sequence[Card], faults: Faults) -> None:
    """Note names that differ in capitals or spaces only: nobody can tell whether one or two are meant.

    Args:
        cards: The cards.
        faults: Where faults are noted.
    """
    for column, thing, name_of in _NAMES:
        first: dict[str, tuple[str, int]] = {}
        for card in cards:
            name = name_of(card)
            written, row = first.setdefault(" ".join(name.casefold().split()), (name, card.row))
            if written != name:
                told = f"{name} and {written} in row {row} differ in capitals or spaces only: one {thing} or two?"
                faults.add(f"row {card.row}, column {column}", f"{told} Write one alike, and two apart")
