"""How the command line ends: what is told of an error, and with which exit code it leaves."""

from __future__ import annotations

import os
import sys
from traceback import walk_tb

import click

from marram.cli.fields import tell_in_options
from marram.core.errors import DataError, MarramError, OwnFault, Stopped
from marram.core.words import visible


def open_what_is_closed() -> None:
    """Give streams that were closed a place that takes and gives nothing: a file opened later would else stand for them."""
    for number in range(3):
        try:
            os.fstat(number)
        except OSError:
            os.open(os.devnull, os.O_RDWR)
    sys.stdin, sys.stdout, sys.stderr = (
        stream or open(number, mode, closefd=False)  # noqa: SIM115, PTH123  they stay open as long as the program runs
        for number, (stream, mode) in enumerate(((sys.stdin, "r"), (sys.stdout, "w"), (sys.stderr, "w")))
    )


def tell_ending(problem: Exception) -> int:
    """Tell why a command ended early.

    Args:
        problem: What ended it.

    Returns:
        The exit code to leave with. What is no error that Marram raises on purpose is a fault of the program: it is told as one, and never
        leaves with the code of a check that found faults.
    """
    match problem:
        case MarramError():
            _tell(problem)
            return problem.exit_code
        case click.exceptions.Exit():
            return problem.exit_code
        case click.Abort():
            click.echo("Stopped: nothing was written.", err=True)
            return Stopped.exit_code
        case click.ClickException():
            _tell_usage(problem)
            return DataError.exit_code
        case BrokenPipeError():
            sys.stderr.close()
            return 0
        case OSError():
            return _tell_full(problem)
    _tell(_own_fault(problem))
    return OwnFault.exit_code


def _own_fault(slip: Exception) -> MarramError:
    """What a fault of the program is told as: where in the program, and that the official did nothing wrong."""
    passed = [(frame.f_globals.get("__name__", ""), line) for frame, line in walk_tb(slip.__traceback__)]
    module, line = next((at for at in reversed(passed) if at[0].startswith("marram")), ("marram", 0))
    hint = "Nothing that was given need be wrong. Please pass this line and the command on to whoever keeps Marram."
    return OwnFault(f"Marram itself has a fault here: {type(slip).__name__}: {slip}", where=f"{module}, line {line}", hint=hint)


def _tell_full(problem: OSError) -> int:
    """Say what could not be printed or used, and print nothing more."""
    what = "The answer cannot be printed" if problem.filename is None else f"{problem.filename} cannot be used"
    click.echo(visible(f"marram: {what}: {problem.strerror}. Give a place that is there and has room."), err=True)
    os.dup2(os.open(os.devnull, os.O_WRONLY), 1)  # what is left over is not tried again at the end
    return DataError.exit_code


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
