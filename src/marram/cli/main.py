"""The `marram` command. Each sub-command is loaded only when it is called, so that help is quick."""

from __future__ import annotations

import json
import sys
from importlib import import_module

import click

from marram import __version__
from marram.core.errors import MarramError

_COMMANDS = {
    "rule": ("marram.cli.rule", "rule", "Rule on a ball: options, penalty, where exactly."),
    "book": ("marram.cli.book", "book", "List, show, compare and audit the rules as data."),
}


class _LazyGroup(click.Group):
    """A group that imports a sub-command when it is needed."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(_COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in _COMMANDS:
            return None
        module, name, _ = _COMMANDS[cmd_name]
        command = getattr(import_module(module), name)
        assert isinstance(command, click.Command)
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl([(name, text) for name, (_, _, text) in _COMMANDS.items()])


@click.group(cls=_LazyGroup, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="marram")
def marram() -> None:
    """A bench for rules officials.

    Rules as data by edition, exact relief on a surveyed course, rulings with the rule behind each line. Marram advises; the
    published Rules and the Committee decide.
    """


def main() -> None:
    """Run the command line; an error of Marram's own is one message and an exit code, never a traceback."""
    try:
        marram.main(prog_name="marram", standalone_mode=False)
    except MarramError as error:
        _tell(error)
        sys.exit(error.exit_code)
    except click.exceptions.Exit as done:
        sys.exit(done.exit_code)
    except click.Abort:
        sys.exit(130)
    except click.ClickException as error:
        _tell_usage(error)
        sys.exit(2)
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(0)


def _tell(error: MarramError) -> None:
    if "--json" in sys.argv:
        from marram.interchange.answers import dump, error_object

        click.echo(dump(error_object(error)))
    else:
        click.echo(f"marram: {error}", err=True)


def _tell_usage(error: click.ClickException) -> None:
    if "--json" in sys.argv:
        told = {"code": "usage", "message": error.format_message(), "where": "command line", "hint": "Try --help."}
        click.echo(json.dumps({"error": told}, sort_keys=True, indent=1))
    else:
        error.show()
