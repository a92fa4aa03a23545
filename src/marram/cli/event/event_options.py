"""Options that the commands of events share, and the clock by which they write."""

from __future__ import annotations

import getpass
from collections.abc import Callable
from datetime import UTC, datetime
from typing import TYPE_CHECKING, TypeVar

import click

if TYPE_CHECKING:
    from marram.store.kept_rows import Hand

F = TypeVar("F", bound=Callable[..., object])
USUAL_STORE = "marram.sqlite"

store_option = click.option(
    "--store", "store_at", default=USUAL_STORE, show_default=True, metavar="PATH|URL", help="The store: a file, or postgresql+psycopg://…"
)
event_option = click.option("--event", "asked", default="", metavar="NAME", help="The event; may be left out where the store has one.")
after_closing_option = click.option(
    "--after-closing",
    default="",
    metavar="GROUND",
    help="What is put right after closing: committee-mistake, or for what the book still disqualifies, such as score-lower-than-taken.",
)
round_option = click.option("--round", "number", type=click.IntRange(1, 8), default=1, show_default=True, help="The round.")
reason_option = click.option("--reason", default="", metavar="WORDS", help="Why what stands is put right.")
who_option = click.option(
    "--who", default=None, envvar="MARRAM_WHO", show_envvar=True, metavar="NAME", help="Who writes; without it the login name."
)


def hand_of(who: str | None) -> Hand:
    """Who writes, by the clock of this machine.

    Args:
        who: The name; None for the login name.
    """
    from marram.office.events.signing import sign

    return sign(who if who is not None else _login(), lambda: datetime.now(UTC).isoformat(timespec="milliseconds"))


def _login() -> str:
    try:
        return getpass.getuser()
    except (OSError, KeyError):
        return ""
