"""Log what was just ruled: an act, or the option that a player took, goes into an event as a ruling of a player."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from marram.core.citations import rules_words
from marram.core.errors import EventError
from marram.events.happened import LoggedRuling
from marram.office.events.kept_event import KeptEvent
from marram.office.events.log_event import RulingAsked, log_ruling
from marram.office.play.give_ruling import Rulings
from marram.office.play.rule_on_acts import ActsRuled
from marram.rulebook.book import Book
from marram.rulings.case.ruling import Option
from marram.store.kept_rows import Hand
from marram.store.open_store import Store

_LETTERS = "ABCDEFGHIJKLMNOP"


@dataclass(frozen=True, slots=True, kw_only=True)
class LogAsked:
    """What is said of a ruling that is logged besides what was ruled.

    Attributes:
        player: The player.
        hole: The hole; None for that of the incident, or for the round.
        round: Number of the round.
        is_in_score: Whether the player has counted the strokes already.
        says: What happened, in the official's words; empty for what was ruled.
        supersedes: The ruling whose place it takes; empty for a new one.
        reason: Why it takes the place.
    """

    player: str
    hole: int | None = None
    round: int = 1
    is_in_score: bool = False
    says: str = ""
    supersedes: str = ""
    reason: str = ""


def book_of_event(event: KeptEvent, books: Sequence[Book]) -> Book:
    """The book of an event, where nothing else was asked.

    Args:
        event: The event.
        books: The books that were asked; none for that of the event.

    Raises:
        EventError: Another book was asked.
    """
    if any(book.stamp != event.book.stamp for book in books):
        told = f"The event is played under {event.book.name}, and {', '.join(book.name for book in books)} was asked."
        raise EventError(told, where=event.name, hint="Nothing was logged. Leave the book out.")
    return event.book


def log_act(store: Store, hand: Hand, event: KeptEvent, ruled: ActsRuled, facts: Sequence[str], asked: LogAsked) -> LoggedRuling:
    """Log an act that was ruled on; the event's form of play says what it costs on the card.

    Args:
        store: The store.
        hand: Who does it.
        event: The event.
        ruled: The act.
        facts: Its facts that are true.
        asked: Whose it is, and where.

    Raises:
        EventError: Several acts are ruled on, the act still turns on facts, or the ruling cannot be logged.
        CardError: The penalty cannot be charged.
    """
    if ruled.further:
        raise EventError("Several acts are ruled on.", where=event.name, hint="Nothing was logged. Log one act at a time.")
    if ruled.turns:
        open_facts = ", ".join(dict.fromkeys(fact.replace("_", "-") for turn in ruled.turns for fact in turn.facts))
        hint = f"Nothing was logged. State each as true or false: {open_facts}."
        raise EventError("What the act costs still turns on facts.", where=event.name, hint=hint)
    answer = ruled.first.answer
    wanted = _asked(asked, asked.says or answer.means)
    return log_ruling(store, hand, event, replace(wanted, act=answer.act, facts=tuple(facts)))


def log_option(store: Store, hand: Hand, event: KeptEvent, rulings: Rulings, took: str, asked: LogAsked) -> LoggedRuling:
    """Log the option that a player took of a ruling.

    Args:
        store: The store.
        hand: Who does it.
        event: The event.
        rulings: The ruling, under the book of the event.
        took: The option, by its letter; empty where all cost the same.
        asked: Whose it is, and where.

    Raises:
        EventError: It is not said which option was taken, or facts are still to be asked.
        CardError: The penalty cannot be charged.
    """
    ruling = rulings.given[0].ruling
    option = _option(event, ruling.options, took)
    if option.waiting_for:
        told = f"{option.title} still waits for facts: {', '.join(fact.replace('_', '-') for fact in option.waiting_for)}."
        raise EventError(told, where=event.name, hint="Nothing was logged. State them in the incident.")
    says = asked.says or f"{option.title}: {option.penalty_words} ({rules_words(option.citations)})"
    wanted = _asked(replace(asked, hole=asked.hole or rulings.incident.hole), says)
    return log_ruling(store, hand, event, replace(wanted, strokes=option.penalty_strokes or None))


def _option(event: KeptEvent, options: Sequence[Option], took: str) -> Option:
    known = dict(zip(_LETTERS, options, strict=False))
    listed = "; ".join(f"{letter} {option.title}, {option.penalty_words}" for letter, option in known.items()) or "none"
    if took and took.upper() not in known:
        raise EventError(f"There is no option {took!r}.", where=event.name, hint=f"Nothing was logged. There are: {listed}.")
    if took:
        return known[took.upper()]
    if len(options) != 1:
        told = "It is not said which option the player took." if options else "The ruling has no option."
        raise EventError(told, where=event.name, hint=f"Nothing was logged. Name one by its letter: {listed}.")
    return options[0]


def _asked(asked: LogAsked, says: str) -> RulingAsked:
    return RulingAsked(
        player=asked.player,
        says=says,
        hole=asked.hole,
        is_in_score=asked.is_in_score,
        round=asked.round,
        supersedes=asked.supersedes,
        reason=asked.reason,
    )
