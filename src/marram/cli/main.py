"""The `marram` command. Each sub-command is loaded only when it is called, so that help is quick."""

from __future__ import annotations

import os
import sys

import click

from marram import __version__
from marram.cli.fields import tell_in_options
from marram.cli.lazy import lazy_group
from marram.core.errors import MarramError
from marram.core.words import visible

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
    "handicap": ("marram.cli.handicap.command", "handicap", "Handicaps: an Index into strokes, strokes onto holes, scores into an Index."),
    "course": ("marram.cli.course.command", "course", "Check a course's marking; find places to show a procedure."),
    "trial": ("marram.cli.trial.command", "trial", "Draft, check and explain a trial of changed rules."),
    "sheet": ("marram.cli.sheet.command", "sheet", "Sheets for paper and screen: procedures, a whole edition, a measuring strip."),
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
    """Run the command line; an error of Marram's own is one message and an exit code, never a traceback."""
    try:
        left_with = marram.main(prog_name="marram", standalone_mode=False)
        sys.stdout.flush()
        sys.exit(left_with if isinstance(left_with, int) else 0)
    except MarramError as error:
        _tell(error)
        sys.exit(error.exit_code)
    except click.exceptions.Exit as done:
        sys.exit(done.exit_code)
    except click.Abort:
        click.echo("Stopped: nothing was written.", err=True)
        sys.exit(130)
    except click.ClickException as error:
        _tell_usage(error)
        sys.exit(2)
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(0)
    except OSError as problem:
        _leave_full(problem)


def _leave_full(problem: OSError) -> None:
    """Say what could not be printed or used, and print nothing more."""
    what = "The answer cannot be printed" if problem.filename is None else f"{problem.filename} cannot be used"
    click.echo(visible(f"marram: {what}: {problem.strerror}. Give a place that is there and has room."), err=True)
    os.dup2(os.open(os.devnull, os.O_WRONLY), 1)  # what is left over is not tried again at the end
    sys.exit(2)


def _tell(error: MarramError) -> None:
    tell_in_options(error)
    error.message, error.where, error.hint = visible(error.message), visible(error.where), visible(error.hint)
    if "--json" in sys.argv:
        from marram.answers.error_answer import error_answer
        from marram.answers.shape import json_text

        click.echo(json_text(error_answer(error)))
    else:
        click.echo(f"marram: {error}", err=True)


def _tell_usage(error: click.ClickException) -> None:
    if "--json" in sys.argv:
        from marram.answers.error_answer import usage_answer
        from marram.answers.shape import json_text

        click.echo(json_text(usage_answer(visible(error.format_message()), where="command line", hint="Try --help.")))
    else:
        error.show()
