"""Groups of commands that load each command only when it is called, so that help is quick."""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module

import click

Table = Mapping[str, tuple[str, str, str]]


class LazyGroup(click.Group):
    """A group whose commands stand in a table: name, then module, name in the module, and one line of help."""

    table: Table = {}

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Names of the commands, in the table's order."""
        return list(self.table)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import a command."""
        if cmd_name not in self.table:
            return None
        module, name, _ = self.table[cmd_name]
        command = getattr(import_module(module), name)
        assert isinstance(command, click.Command)
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the table without importing anything."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, text) for name, (_, _, text) in self.table.items()])


def lazy_group(table: Table) -> type[LazyGroup]:
    """A group class over a table."""
    return type("TableGroup", (LazyGroup,), {"table": table})
