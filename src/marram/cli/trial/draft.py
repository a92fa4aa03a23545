"""`marram trial new` and `from-sheet`: from an idea, or a filled sheet, to a draft."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING

import click

from marram.cli.common import one_book_option, write_whole
from marram.cli.writing import file_option

if TYPE_CHECKING:
    from marram.rulebook.book import Book
    from marram.rulebook.overlays.overlay import Change
    from marram.rulebook.overlays.trial_terms import Expectation, Guard
    from marram.rulebook.values import Value

_WIDTH, _MOST_SHOWN = 100, 12
_out = file_option("-o", "--out", required=True, help="The trial file to write.")
_on = one_book_option("--on", "edition", does="The edition that the trial lies on.", metavar="EDITION")
_title = click.option("--title", default="", help="Title of the trial; asked for if it is not given.")
_dated = click.option("--dated", type=click.DateTime(["%Y-%m-%d"]), help="Day of the text; asked for if it is not given.")


@click.command()
@_on
@_title
@_dated
@_out
def new(edition: str, title: str, dated: date | None, out: Path) -> None:
    """Write a trial by answering questions: what is to change, from what to what, why, and what would show that it works."""
    from marram.office.workroom import Workroom

    if out.exists():
        raise click.UsageError(f"{out} is there already; give another name.")
    book = Workroom().book(edition)
    named = title or _ask("Title of the trial")
    day = _day(dated)
    changes: list[Change] = []
    while True:
        changes.append(_ask_change(book, len(changes) + 1))
        if not click.confirm("Another change?", default=False, err=True):
            break
    _write(book, named, day, changes, out)


@click.command("from-sheet")
@click.argument("sheet", type=click.Path(exists=True, path_type=Path, dir_okay=False))
@_on
@_title
@_dated
@_out
def from_sheet(sheet: Path, edition: str, title: str, dated: date | None, out: Path) -> None:
    """Write a trial from a SHEET that `marram book export` made, with new values under `now`."""
    from marram.office.workroom import Workroom

    room = Workroom()
    book = room.book(edition)
    changes = room.rule_sheet(sheet, book)
    _write(book, title or _ask("Title of the trial"), _day(dated), list(changes), out)


def _ask(what: str, *, default: str | None = None) -> str:
    return str(click.prompt(what, default=default, show_default=bool(default), err=True)).strip()


def _day(dated: date | None) -> date:
    if dated is not None:
        return date(dated.year, dated.month, dated.day)
    while True:
        typed = _ask("Day of the text (such as 2026-03-01)")
        try:
            return date.fromisoformat(typed)
        except ValueError:
            click.echo(f"{typed!r} is no date; expected year-month-day.", err=True)


def _ask_change(book: Book, number: int) -> Change:
    from marram.office.trials.draft_change import ChangeAnswered, ask_of_key, draft_change

    click.echo(f"\nChange {number}", err=True)
    asked = ask_of_key(book, _ask_key(book))
    click.echo(fill(asked.means, _WIDTH), err=True)
    click.echo(f"{book.name} holds: {asked.holds}  [{asked.rule}]", err=True)
    click.echo(fill(f"It takes {asked.takes}.", _WIDTH), err=True)
    now = _ask_value(book, asked.key)
    because, aim = _ask("Why"), _ask("What is it for", default="")
    expects = _ask_expects()
    answered = ChangeAnswered(
        key=asked.key,
        now=now,
        because=because,
        aim=aim,
        expects=expects,
        guard=_ask_guard(expects),
        question=_ask("Question for players", default=""),
        is_local_rule=click.confirm("May a Committee adopt it as a local rule?", default=False, err=True),
    )
    return draft_change(book, number, answered)


def _ask_key(book: Book) -> str:
    """A key, typed or found by words such as *drop height*."""
    from marram.office.trials.draft_change import find_keys, is_key_of, key_means

    while True:
        typed = _ask("What is to change: a key, or words such as lateral relief size")
        if is_key_of(book, typed):
            return typed
        found = find_keys(book, typed)
        for key in found[:_MOST_SHOWN]:
            click.echo(fill(f"{key}: {key_means(book, key)}", _WIDTH, initial_indent="  ", subsequent_indent="      "), err=True)
        more = f" {len(found) - _MOST_SHOWN} more speak of these words: add one." if len(found) > _MOST_SHOWN else ""
        click.echo(f"Type one of these keys, or other words.{more}" if found else "Nothing speaks of these words.", err=True)


def _ask_value(book: Book, key: str) -> Value:
    from marram.office.trials.draft_change import read_new_value

    while True:
        value, fault = read_new_value(book, key, _ask("New value"))
        if value is not None:
            return value
        click.echo(fault, err=True)


def _ask_outcome(what: str) -> str:
    from marram.core.errors import RecordError
    from marram.office.trials.draft_change import outcome_named

    while True:
        typed = _ask(f"{what} (an outcome; marram trial outcomes lists them; empty for none)", default="")
        if not typed:
            return ""
        try:
            return outcome_named(typed).key
        except RecordError as problem:
            click.echo(str(problem), err=True)


def _ask_amount(what: str) -> float:
    while True:
        amount = float(click.prompt(what, type=float, err=True))
        if amount > 0:
            return amount
        click.echo("A number above zero is needed.", err=True)


def _ask_expects() -> Expectation | None:
    from marram.office.trials.draft_change import DIRECTIONS, expected, list_outcomes

    outcome = _ask_outcome("What would show that it works")
    if not outcome:
        return None
    direction = str(click.prompt("Which way should it go", type=click.Choice(DIRECTIONS), err=True))
    matters = _ask_amount(f"Smallest effect that matters, in {list_outcomes()[outcome].unit_words}")
    return expected(outcome, direction, matters)


def _ask_guard(expects: Expectation | None) -> Guard | None:
    from marram.office.trials.draft_change import guarded, list_outcomes

    while (outcome := _ask_outcome("What must not get worse")) and expects is not None and outcome == expects.outcome:
        click.echo(f"{outcome} is what is to show that it works; name another, or nothing.", err=True)
    if not outcome:
        return None
    return guarded(outcome, _ask_amount(f"By how much it may change at most, in {list_outcomes()[outcome].unit_words}"))


def _write(book: Book, title: str, day: date, changes: list[Change], out: Path) -> None:
    from marram.office.trials.draft_trial import draft_overlay, trial_text

    write_whole(out, trial_text(draft_overlay(book, title, day, changes)))
    count = f"{len(changes)} change{'s' * (len(changes) != 1)}"
    click.echo(f"Written: {out}, {count} on {book.name}. Next: marram trial check {out}", err=True)
