"""`marram trial`: a trial of changed rules."""

from __future__ import annotations

import click

from marram.cli.lazy import lazy_group

_COMMANDS = {
    "new": ("marram.cli.trial.draft", "new", "Write a trial by answering questions."),
    "from-sheet": ("marram.cli.trial.draft", "from_sheet", "Write a trial from a sheet with new values filled in."),
    "check": ("marram.cli.trial.show_command", "check", "Find every fault of a trial file."),
    "show": ("marram.cli.trial.show_command", "show", "Show each change in words and numbers, and what it touches."),
    "outcomes": ("marram.cli.trial.show_command", "outcomes", "List what a trial can observe."),
    "plan": ("marram.cli.trial.plan_command", "plan", "Plan a trial in pairs of days, with the coin thrown and frozen."),
    "papers": ("marram.cli.trial.papers_command", "papers", "Print the calendar, blank recording sheets and the form for players."),
    "report": ("marram.cli.trial.report", "report", "Say of each change whether it did what it was meant to."),
    "clarity": ("marram.cli.trial.clarity_command", "clarity", "Officials rule written incidents under both texts: draw it, weigh it."),
    "stations": ("marram.cli.trial.stations_command", "stations", "Players do tasks at stations under both texts: draw them, weigh them."),
    "rerule": ("marram.cli.trial.rerule_command", "rerule", "Rule on the logged balls of a season again, under another book."),
    "guide": (
        "marram.cli.trial.guide_command",
        "guide",
        "Show players how each changed procedure is carried out, and what stays forbidden.",
    ),
}


@click.group(cls=lazy_group(_COMMANDS))
def trial() -> None:
    """A trial of changed rules, from its draft to its guide."""
