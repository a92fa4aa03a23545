"""The `marram` command. Each sub-command is loaded only when it is called, so that help is quick."""

from __future__ import annotations

import sys

import click

from marram import __version__
from marram.cli.ending import open_what_is_closed, tell_ending
from marram.cli.lazy import lazy_group

_COMMANDS = {
    "ask": ("marram.cli.ask.command", "ask", "Find anything by words, as players put it; each answer with the command that goes on."),
    "rule": ("marram.cli.rule.command", "rule", "Rule on a ball: options, penalty, where exactly."),
    "act": ("marram.cli.act.command", "act", "What an act leads to, under each edition."),
    "search": ("marram.cli.search.command", "search", "Whether a ball was found in time, under each edition."),
    "drop": ("marram.cli.drop.command", "drop", "What follows in a drop, step by step, under each edition."),
    "object": ("marram.cli.object.command", "object_", "What a thing is, and whether it may be moved here and now."),
    "form": ("marram.cli.form.command", "form", "What is so in a form of play: what counts, what ends a hole."),
    "suspension": ("marram.cli.suspension.command", "suspension", "What to do when play is stopped, and how it goes on."),
    "score": ("marram.cli.score.command", "score", "Score cards by the terms of a competition: places, and what decided each."),
    "event": ("marram.cli.event.command", "event", "Run a competition from entries to results, kept in a store."),
    "store": ("marram.cli.store.command", "store", "Back up, restore and verify the store of events."),
    "handicap": ("marram.cli.handicap.command", "handicap", "Handicaps: an Index into strokes, strokes onto holes, scores into an Index."),
    "course": ("marram.cli.course.command", "course", "Check a course's marking; find places to show a procedure."),
    "trial": ("marram.cli.trial.command", "trial", "Draft, check and explain a trial of changed rules."),
    "forecast": (
        "marram.cli.forecast.command",
        "forecast",
        "Play a trial before anyone tees off: what is expected, and what nobody knows.",
    ),
    "sheet": ("marram.cli.sheet.command", "sheet", "Sheets for paper and screen: procedures, a whole edition, a measuring strip."),
    "desk": ("marram.cli.desk.command", "desk", "Open the bench in a browser on this machine."),
    "book": ("marram.cli.book.command", "book", "List, show, compare and audit the rules as data."),
}


@click.group(cls=lazy_group(_COMMANDS), context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="marram")
def marram() -> None:
    """A bench for rules officials.

    Rules as data by edition, exact relief on a surveyed course, rulings with the rule behind each line. Marram advises; the
    published Rules and the Committee decide.
    """


def main() -> None:
    """Run the command line; an error is one message and an exit code, never a traceback."""
    open_what_is_closed()
    try:
        left_with = marram.main(prog_name="marram", standalone_mode=False)
        sys.stdout.flush()
    except Exception as problem:  # noqa: BLE001  whatever it is, it is told in words
        sys.exit(tell_ending(problem))
    sys.exit(left_with if isinstance(left_with, int) else 0)
