"""Options by which a ruling that is given logs itself into an event."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import wraps
from typing import TYPE_CHECKING, Any

import click

from marram.cli.event.event_options import hand_of, store_option, who_option
from marram.core.words import visible

if TYPE_CHECKING:
    from collections.abc import Iterable

    from marram.answers.events.logged_answer import LoggedShape
    from marram.office.events.decide.log_answer import LogAsked
    from marram.office.play.give_ruling import Rulings
    from marram.office.play.rule_on_acts import ActsRuled
    from marram.office.workroom import Workroom
    from marram.rulebook.book import Book
    from marram.store.kept_rows import Hand


@dataclass(frozen=True, slots=True, kw_only=True)
class Logging:
    """What was typed of logging a ruling.

    Attributes:
        event: The event; empty where the store has one only.
        player: The player; empty where nothing is logged.
        store: Where the store is.
        who: Who writes; None for the login name.
        hole: The hole; None where none was typed.
        round: Number of the round.
        is_in_score: Whether the player has counted the strokes already.
        says: What happened.
        supersedes: The ruling whose place it takes.
        reason: Why.
    """

    event: str
    player: str
    store: str
    who: str | None
    hole: int | None
    round: int
    is_in_score: bool
    says: str
    supersedes: str
    reason: str

    @property
    def hand(self) -> Hand:
        """Who writes."""
        return hand_of(self.who)

    @property
    def asked(self) -> LogAsked:
        """What is said of the ruling besides."""
        from marram.office.events.decide.log_answer import LogAsked

        return LogAsked(
            player=self.player,
            hole=self.hole,
            round=self.round,
            is_in_score=self.is_in_score,
            says=self.says,
            supersedes=self.supersedes,
            reason=self.reason,
        )


class OpenLog:
    """The event that rulings are logged in, opened; or nothing, where nothing is logged."""

    def __init__(self, logging: Logging, room: Workroom) -> None:
        self._logging = logging
        self._room = room
        self._store = room.store(logging.store) if logging.player else None
        self._event = room.event(self._store, logging.event) if self._store is not None else None

    def books(self, names: tuple[str, ...]) -> tuple[Book, ...]:
        """The books to rule under: that of the event, or those that are asked.

        Args:
            names: The books that are asked.
        """
        if self._event is None:
            return self._room.books(names)
        from marram.office.events.decide.log_answer import book_of_event

        return (book_of_event(self._event, self._room.books(names) if names else ()),)

    def form(self, asked: str) -> str:
        """The form of play to read acts in: the one that is asked, or that of the event.

        Args:
            asked: The form that is asked; empty where none is.
        """
        return asked or ("" if self._event is None else self._event.terms.terms.form.value)

    def log_act(self, ruled: ActsRuled, facts: Iterable[tuple[str, bool]]) -> LoggedShape | None:
        """Log an act; None where nothing is logged.

        Args:
            ruled: The act as it was ruled on.
            facts: Its facts as they were stated.
        """
        if self._store is None or self._event is None:
            return None
        from marram.answers.events.logged_answer import logged_shape
        from marram.office.events.decide.log_answer import log_act

        true = [name for name, is_so in facts if is_so]
        return logged_shape(self._event, log_act(self._store, self._logging.hand, self._event, ruled, true, self._logging.asked))

    def log_option(self, rulings: Rulings, took: str) -> LoggedShape | None:
        """Log the option that a player took; None where nothing is logged.

        Args:
            rulings: The ruling.
            took: The option, by its letter.
        """
        if self._store is None or self._event is None:
            return None
        from marram.answers.events.logged_answer import logged_shape
        from marram.office.events.decide.log_answer import log_option

        return logged_shape(self._event, log_option(self._store, self._logging.hand, self._event, rulings, took, self._logging.asked))


def logged_text(logged: LoggedShape | None) -> str:
    """What is told below a ruling that was logged; empty where it was not."""
    return "" if logged is None else f"\n\n{visible(logged.says)}"


_OPTIONS = (
    click.option("--event", "log_event", default="", metavar="NAME", help="Log the ruling in this event, by its book; with --player."),
    click.option("--player", "log_player", default="", metavar="NAME", help="Log the ruling as one of this player of an event."),
    store_option,
    who_option,
    click.option("--hole", "log_hole", type=click.IntRange(1, 18), help="With --player: the hole."),
    click.option("--round", "log_round", type=click.IntRange(1, 8), default=1, help="With --player: the round, 1 if none is given."),
    click.option("--in-score", "log_in_score", is_flag=True, help="With --player: the player has counted the strokes already."),
    click.option("--says", "log_says", default="", metavar="WORDS", help="With --player: what happened, in the official's words."),
    click.option("--supersede", "log_supersedes", default="", metavar="RULING", help="With --player: the ruling whose place it takes."),
    click.option("--reason", "log_reason", default="", metavar="WORDS", help="With --supersede: why."),
)


def logging_options(command: Callable[..., None]) -> Callable[..., None]:
    """Give a command the options of logging, and hand them over as one."""

    @wraps(command)
    def packed(*args: object, **typed: Any) -> None:  # noqa: ANN401 - what the command's own options hold is its own affair
        names = ("event", "player", "hole", "round", "in_score", "says", "supersedes", "reason")
        own = {name: typed.pop(f"log_{name}") for name in names}
        if own["event"] and not own["player"]:
            raise click.UsageError("--event goes with --player, whose ruling it is.")
        logging = Logging(store=typed.pop("store_at"), who=typed.pop("who"), is_in_score=own.pop("in_score"), **own)
        command(*args, logging=logging, **typed)

    for option in reversed(_OPTIONS):
        packed = option(packed)
    return packed
