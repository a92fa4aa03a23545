"""Play that is stopped: what everybody does now, what breaks it, and how play goes on."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from marram.core.citations import Citation, merged
from marram.rulebook.book import Book
from marram.rulings.acts import ActAnswer, rule_on_act
from marram.rulings.explain import fill
from marram.rulings.ruling import Caution
from marram.rulings.value_words import number_words

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
    limit_min = book.number(f"{_LIMIT}.limit_min").value if book.has_row(_LIMIT) else None
    fills = {"limit": "" if limit_min is None else f", as a rule within {number_words(limit_min, 'min')}"}
    may_finish = signal is Signal.NORMAL and is_hole_begun and book.yes(f"{_ROW}.hole_may_be_finished").value
    return SuspensionAnswer(
        book=book.name,
        stamp=book.stamp,
        signal=signal,
        may_finish_hole=may_finish,
        cautions=(Caution(text=book.word(f"{_LIGHTNING}.text").value, citations=book.citations(_LIGHTNING)),),
        now=tuple(fill(book, book.word(f"{_SAYS}.{name}").value, fills) for name in _now(book, signal, is_hole_begun=is_hole_begun)),
        then=tuple(fill(book, book.word(f"{_SAYS}.{name}").value, fills) for name in _then(book)),
        acts=tuple(rule_on_act(book, act, {}) for act in book.words(f"{_ROW}.acts").value),
        citations=merged(book.citations(_ROW), book.citations(_LIMIT) if may_finish and limit_min is not None else ()),
    )


def _now(book: Book, signal: Signal, *, is_hole_begun: bool) -> list[str]:
    if signal is Signal.IMMEDIATE:
        return ["at_once"] if book.yes(f"{_ROW}.at_once").value else []
    if signal is Signal.NORMAL:
        if is_hole_begun:
            return ["begun_finish"] if book.yes(f"{_ROW}.hole_may_be_finished").value else ["at_once"]
        return [] if book.yes(f"{_ROW}.next_hole_may_begin").value else ["between"]
    reasons = (("danger_is_reason", "alone"), ("match_may_agree", "agree"))
    return [name for key, name in reasons if book.yes(f"{_ROW}.{key}").value]


def _then(book: Book) -> list[str]:
    stated = (("ball_may_be_lifted", "lift"), ("moved_ball_is_replaced", "moved"))
    told = [name for key, name in stated if book.yes(f"{_ROW}.{key}").value]
    other = ["other_ball"] if book.word(f"{_ROW}.ball_on_resuming").value == "original-or-other" else []
    return [*told[:1], "resume", *other, *told[1:]]
