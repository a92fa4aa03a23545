"""`marram trial new`, `from-sheet`, `check`, `show` and `outcomes`: from an idea to a draft that can be planned."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING

import click

from marram.cli.common import json_option, one_book_option, write_whole
from marram.cli.fields import in_options

if TYPE_CHECKING:
    from marram.office.draft_trial import DraftFault, Touched
    from marram.rulebook.book import Book
    from marram.rulebook.overlays.overlay import Change, Overlay
    from marram.rulebook.overlays.trial_terms import Expectation, Guard
    from marram.rulebook.values import Value

_WIDTH, _MOST_SHOWN = 100, 12
_out = click.option("-o", "--out", type=click.Path(path_type=Path, dir_okay=False), required=True, help="The trial file to write.")
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
    from marram.interchange.books.book_files import read_book

    if out.exists():
        raise click.UsageError(f"{out} is there already; give another name.")
    book = read_book(edition)
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
    from marram.interchange.books.book_files import read_book
    from marram.interchange.books.rule_sheet import read_rule_sheet

    book = read_book(edition)
    changes = read_rule_sheet(sheet, book)
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
    from marram.interchange.books.value_text import takes, written
    from marram.rulebook.overlays.overlay import Change, Standing

    click.echo(f"\nChange {number}", err=True)
    key = _ask_key(book)
    row, spec = book.catalogue.find_key(key)
    was = book.cited(key)
    click.echo(fill(f"{row.means} {spec.means}.", _WIDTH), err=True)
    click.echo(f"{book.name} holds: {written(was.value)}  [{was.citations[0].reference}, {was.citations[0].provenance}]", err=True)
    click.echo(fill(f"It takes {takes(spec)}.", _WIDTH), err=True)
    now = _ask_value(book, key)
    because = _ask("Why")
    aim = _ask("What is it for", default="")
    expects = _ask_expects()
    guard = _ask_guard(expects)
    question = _ask("Question for players", default="")
    is_local_rule = click.confirm("May a Committee adopt it as a local rule?", default=False, err=True)
    return Change(
        number=number,
        key=key,
        was=was.value,
        now=now,
        because=because,
        standing=Standing.LOCAL_RULE if is_local_rule else Standing.UNOFFICIAL,
        aim=aim,
        expects=expects,
        guards=() if guard is None else (guard,),
        observes=tuple(dict.fromkeys(entry.outcome for entry in (expects, guard) if entry is not None)),
        asks=(question,) if question else (),
    )


def _ask_key(book: Book) -> str:
    """A key, typed or found by words such as *drop height*."""
    while True:
        typed = _ask("What is to change: a key, or words such as lateral relief size")
        if typed in book.catalogue.keys and book.has(typed):
            return typed
        found = find_keys(book, typed)
        for key in found[:_MOST_SHOWN]:
            row, spec = book.catalogue.find_key(key)
            click.echo(fill(f"{key}: {row.means} {spec.means}.", _WIDTH, initial_indent="  ", subsequent_indent="      "), err=True)
        more = f" {len(found) - _MOST_SHOWN} more speak of these words: add one." if len(found) > _MOST_SHOWN else ""
        click.echo(f"Type one of these keys, or other words.{more}" if found else "Nothing speaks of these words.", err=True)


def find_keys(book: Book, words: str) -> list[str]:
    """Keys of a book that speak of some words: those that speak of most of them first, and of these the ones named by them."""
    from marram.rulings.acts.acts import stems_of

    asked = stems_of(words)
    rules = {word for word in words.lower().split() if any(letter.isdigit() for letter in word)}
    hits = []
    for number, (key, (row, spec)) in enumerate(book.catalogue.keys.items()):
        named = stems_of(key.replace(".", " ").replace("-", " ").replace("_", " "))
        if not (spec.decides and book.has(key)):
            continue
        in_rule = sum(rule in book.cited(key).citations[0].rule.lower() for rule in rules)
        count = len(asked & (named | stems_of(f"{row.means} {spec.means} {spec.unit}"))) + 2 * in_rule
        if count:
            hits.append((-count, -len(asked & named), len(named), number, key))
    return [key for *_, key in sorted(hits)]


def _ask_value(book: Book, key: str) -> Value:
    from marram.interchange.books.value_text import read_written, written

    _, spec = book.catalogue.find_key(key)
    held = book.cited(key).value
    while True:
        value, fault = read_written(_ask("New value"), spec, book.catalogue)
        if value is not None and value != held:
            return value
        click.echo(fault or f"That is what {book.name} holds already: {written(held)}.", err=True)


def _ask_outcome(what: str) -> str:
    from marram.core.errors import RecordError
    from marram.records.outcomes import find_outcome

    while True:
        typed = _ask(f"{what} (an outcome; marram trial outcomes lists them; empty for none)", default="")
        if not typed:
            return ""
        try:
            return find_outcome(typed).key
        except RecordError as problem:
            click.echo(str(problem), err=True)


def _ask_amount(what: str) -> float:
    while True:
        amount = float(click.prompt(what, type=float, err=True))
        if amount > 0:
            return amount
        click.echo("A number above zero is needed.", err=True)


def _ask_expects() -> Expectation | None:
    from marram.records.outcomes import outcomes
    from marram.rulebook.overlays.trial_terms import Direction, Expectation

    outcome = _ask_outcome("What would show that it works")
    if not outcome:
        return None
    direction = str(click.prompt("Which way should it go", type=click.Choice([way.value for way in Direction]), err=True))
    matters = _ask_amount(f"Smallest effect that matters, in {outcomes()[outcome].unit_words}")
    return Expectation(outcome=outcome, direction=Direction(direction), matters=matters)


def _ask_guard(expects: Expectation | None) -> Guard | None:
    from marram.records.outcomes import outcomes
    from marram.rulebook.overlays.trial_terms import Guard

    while (outcome := _ask_outcome("What must not get worse")) and expects is not None and outcome == expects.outcome:
        click.echo(f"{outcome} is what is to show that it works; name another, or nothing.", err=True)
    if not outcome:
        return None
    return Guard(outcome=outcome, margin=_ask_amount(f"By how much it may change at most, in {outcomes()[outcome].unit_words}"))


def _write(book: Book, title: str, day: date, changes: list[Change], out: Path) -> None:
    from marram.interchange.books.overlay_writing import write_overlay
    from marram.office.draft_trial import draft_overlay

    write_whole(out, write_overlay(draft_overlay(book, title, day, changes)))
    count = f"{len(changes)} change{'s' * (len(changes) != 1)}"
    click.echo(f"Written: {out}, {count} on {book.name}. Next: marram trial check {out}", err=True)


@click.command()
@click.argument("trial", type=click.Path(exists=True, path_type=Path, dir_okay=False))
@json_option
@click.pass_context
def check(context: click.Context, trial: Path, *, as_json: bool) -> None:
    """Find every fault of a TRIAL file: what does not fit its edition, and what keeps it from being planned."""
    from marram.core.json_text import dump
    from marram.office.draft_trial import check_trial, read_trial

    faults = check_trial(read_trial(trial))
    if as_json:
        click.echo(dump({"trial": trial.stem, "faults": [_fault_object(fault) for fault in faults]}))
    else:
        lines = [_fault_line(fault) for fault in faults]
        click.echo("\n".join(lines) if lines else "No faults.")
    context.exit(1 if faults else 0)


def _fault_object(fault: DraftFault) -> dict[str, object]:
    return {"change": fault.change, "stops": fault.stops, "message": fault.message, "remedy": in_options(fault.remedy)}


def _fault_line(fault: DraftFault) -> str:
    where = "trial" if fault.change is None else f"change {fault.change}"
    weight = "stops" if fault.stops else "asks"
    return fill(f"{weight}  {where}: {fault.message} {in_options(fault.remedy)}", _WIDTH, subsequent_indent="       ")


@click.command()
@click.argument("trial", type=click.Path(exists=True, path_type=Path, dir_okay=False))
@json_option
def show(trial: Path, *, as_json: bool) -> None:
    """Show each change of a TRIAL in words and numbers, what it touches, and which changes meet."""
    from marram.core.json_text import dump
    from marram.office.draft_trial import may_count_for_handicap, read_trial, touched_by

    overlay = read_trial(trial)
    told = {edition: touched_by(overlay, edition) for edition in overlay.on}
    if as_json:
        books = [{"book": edition, "changes": [_touched_object(entry) for entry in entries]} for edition, entries in told.items()]
        click.echo(dump(_trial_object(overlay) | {"may_count_for_handicap": may_count_for_handicap(overlay), "books": books}))
        return
    click.echo("\n".join(_show_lines(overlay, told, counts=may_count_for_handicap(overlay))))


def _trial_object(overlay: Overlay) -> dict[str, object]:
    life = overlay.life
    days = {"from": life.first_day, "until": life.last_day, "answers_until": life.answers_until, "in_force_from": life.in_force_from}
    return {
        "title": overlay.title,
        "dated": overlay.dated.isoformat(),
        "on": list(overlay.on),
        "status": life.status.value,
        **{name: None if day is None else day.isoformat() for name, day in days.items()},
        "clarifications": [{"dated": entry.dated.isoformat(), "change": entry.change, "text": entry.text} for entry in life.clarifications],
    }


def _touched_object(entry: Touched) -> dict[str, object]:
    from marram.rulebook.values import plain_value

    change = entry.change
    return {
        "change": change.number,
        "key": change.key,
        "was": plain_value(change.was),
        "now": plain_value(change.now),
        "adds": [row.id for row in change.adds.rows],
        "adds_conditions": [kind.name for kind in change.adds.conditions],
        "because": change.because,
        "standing": change.standing.value,
        "situations": list(entry.situations),
        "procedures": list(entry.procedures),
        "acts": list(entry.acts),
        "meets_changes": list(entry.with_changes),
    }


def _show_lines(overlay: Overlay, told: dict[str, tuple[Touched, ...]], *, counts: bool) -> list[str]:
    from marram.interchange.books.value_text import written

    lines = [f"{overlay.title}, text of {overlay.dated.isoformat()}, {overlay.life.status.value}"]
    lines.append(
        "Rounds may count for a handicap." if counts else "Rounds cannot count for a handicap: not every change is allowed as a local rule."
    )
    for edition, entries in told.items():
        lines += ["", f"On {edition}"]
        for entry in entries:
            change = entry.change
            lines.append(f"{change.number}. {change.key}: {written(change.was)} becomes {written(change.now)}  ({change.standing.value})")
            more = [f"Because {change.because}", *_wishes(change)]
            more += [f"Situations: {', '.join(entry.situations)}."] if entry.situations else []
            more += [f"Procedures: {', '.join(entry.procedures)}."] if entry.procedures else []
            more += [f"Acts: {', '.join(entry.acts)}."] if entry.acts else []
            meets = ", ".join(map(str, entry.with_changes))
            more += (
                [f"It meets change {meets}: what they do together cannot be told apart unless each has days of its own."] if meets else []
            )
            lines += [fill(text, _WIDTH, initial_indent="   ", subsequent_indent="   ") for text in more]
    return lines


def _wishes(change: Change) -> list[str]:
    """What a change is for, what would show it, what it must not change, and what players are asked."""
    found = [f"Aim: {change.aim}"] if change.aim else []
    if change.expects is not None:
        found.append(f"Shown by {change.expects.outcome} {change.expects.direction.value} by {change.expects.matters:g} at least.")
    found += [f"Must not change by more than {guard.margin:g}: {guard.outcome}." for guard in change.guards]
    return [*found, *(f"Asked: {question}" for question in change.asks)]


@click.command()
@json_option
def outcomes(*, as_json: bool) -> None:
    """List what a trial can observe, in which unit, and who records it."""
    from marram.core.json_text import dump
    from marram.records.outcomes import outcomes as catalogue

    if as_json:
        rows = [
            {"outcome": entry.key, "means": entry.means, "unit": entry.unit, "per": entry.per.value, "by": entry.by}
            for entry in catalogue().values()
        ]
        click.echo(dump({"outcomes": rows}))
        return
    width = max(map(len, catalogue()))
    for entry in catalogue().values():
        told = f"{entry.key:<{width}}  {entry.means} In {entry.unit_words}; by {entry.by}."
        click.echo(fill(told, _WIDTH, subsequent_indent=" " * (width + 2)))
