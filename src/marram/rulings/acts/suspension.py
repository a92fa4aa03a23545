"""Play that is stopped: what everybody does now, what breaks it, and how play goes on."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from marram.core.citations import Citation, merged
from marram.rulebook.book import Book
from marram.rulebook.wording.explain import told_text
from marram.rulings.acts.acts import ActAnswer, rule_on_act
from marram.rulings.case.ruling import Caution

_ROW, _SAYS, _LIMIT = "suspension", "suspension-says", "suspension-decision-time"
_LIGHTNING = "caution.lightning"


class Signal(StrEnum):
    """Why play stops."""

    IMMEDIATE = "immediate"
    NORMAL = "normal"
    UNASKED = "unasked"


@dataclass(frozen=True, slots=True, kw_only=True)
class SuspensionAnswer:
    """What a book says of play that is stopped.

    Attributes:
        book: Name of the book.
        stamp: Its stamp.
        signal: Why play stops.
        may_finish_hole: Whether a hole begun may be played out.
        cautions: What comes before any ruling.
        now: What everybody does now, in order.
        then: What holds while play is stopped and when it goes on.
        acts: What it costs to break it.
        citations: The rules.
    """

    book: str
    stamp: str
    signal: Signal
    may_finish_hole: bool
    cautions: tuple[Caution, ...]
    now: tuple[str, ...]
    then: tuple[str, ...]
    acts: tuple[ActAnswer, ...]
    citations: tuple[Citation, ...]


def rule_on_suspension(book: Book, signal: Signal, *, is_hole_begun: bool) -> SuspensionAnswer:
    """Say what to do when play stops.

    Args:
        book: The book.
        signal: An immediate or a normal suspension by the Committee, or a player who stops unasked.
        is_hole_begun: Whether the player has begun the hole; otherwise the player is between two holes.
    """
    may_finish = signal is Signal.NORMAL and is_hole_begun and book.yes(f"{_ROW}.hole_may_be_finished").value
    return SuspensionAnswer(
        book=book.name,
        stamp=book.stamp,
        signal=signal,
        may_finish_hole=may_finish,
        cautions=(Caution(text=told_text(book, f"{_LIGHTNING}.text"), citations=book.citations(_LIGHTNING)),),
        now=tuple(told_text(book, f"{_SAYS}.{name}") for name in _now(book, signal, is_hole_begun=is_hole_begun)),
        then=tuple(told_text(book, f"{_SAYS}.{name}") for name in _then(book)),
        acts=tuple(rule_on_act(book, act, {}) for act in book.words(f"{_ROW}.acts").value),
        citations=merged(book.citations(_ROW), book.citations(_LIMIT) if may_finish and book.has_row(_LIMIT) else ()),
    )


def _now(book: Book, signal: Signal, *, is_hole_begun: bool) -> list[str]:
    if signal is Signal.IMMEDIATE:
        return ["at_once"] if book.yes(f"{_ROW}.at_once").value else []
    if signal is Signal.NORMAL:
        if is_hole_begun:
            return ["begun_finish"] if book.yes(f"{_ROW}.hole_may_be_finished").value else ["at_once"]
        return ["between"]
    reasons = (("danger_is_reason", "alone"), ("match_may_agree", "agree"))
    return [name for key, name in reasons if book.yes(f"{_ROW}.{key}").value]


def _then(book: Book) -> list[str]:
    told = {
        "lift": book.yes(f"{_ROW}.ball_may_be_lifted").value,
        "resume": True,
        "other_ball": book.yes(f"{_ROW}.ball_may_be_lifted").value,
        "moved": book.yes(f"{_ROW}.moved_ball_is_replaced").value,
    }
    return [name for name, is_so in told.items() if is_so]
