"""`marram trial`: a trial of changed rules."""

from __future__ import annotations

import click

from marram.cli.lazy import lazy_group

_COMMANDS = {
    "guide": ("marram.cli.trial_guide", "guide", "Show players how each changed procedure is carried out, and what stays forbidden."),
}


@click.group(cls=lazy_group(_COMMANDS))
def trial() -> None:
    """A trial of changed rules, from its draft to its guide."""
