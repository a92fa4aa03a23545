"""What the commands that make guides share: the player, the forms, the files."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

import click

from marram.cli.common import folder_at, write_set
from marram.cli.fields import in_options

if TYPE_CHECKING:
    from marram.office.trials.guide_file import GuideForm
    from marram.rulings.case.incident import Player
    from marram.sheets.guide.content import Guide

F = TypeVar("F", bound=Callable[..., object])
GUIDE_FORMS: tuple[GuideForm, ...] = ("a4", "pocket", "phone", "screen")


def player_options(command: F) -> F:
    """The player who shows the procedures."""
    for option in (
        click.option("--club", type=click.Choice(["driver", "iron", "wedge"]), default="iron", show_default=True, help="The club in hand."),
        click.option("--longest-club", default=45.0, show_default=True, metavar="INCHES", help="Longest club other than a putter."),
        click.option("--hand", type=click.Choice(["right", "left"]), default="right", show_default=True, help="The player's hand."),
    ):
        command = option(command)
    return command


def player_of(hand: str, longest_club: float, club: str) -> Player:
    """The player that the options state.

    Raises:
        DataError: The longest club cannot be.
    """
    from marram.core.terms import Club, Hand
    from marram.office.courses.find_places import player_with

    return player_with(Hand(hand), Club(club), longest_club)


def write_guide(guide: Guide, folder: Path, forms: Sequence[GuideForm], *, as_json: bool) -> None:
    """Write a guide in its forms, and say what was written."""
    from marram.answers.shape import json_text
    from marram.answers.trials.guide_answer import guide_answer
    from marram.office.trials.guide_file import guide_file

    if not guide.pages and not guide.changes:
        forms = ()  # there is nothing to show, and why is said below
    guide = replace(guide, not_shown=tuple(map(in_options, guide.not_shown)))
    folder = folder_at(folder) if forms else folder
    names = {"a4": "guide.pdf", "pocket": "guide-pocket.pdf", "phone": "guide.html", "screen": "guide-screen.html"}
    write_set(folder, {names[form]: guide_file(guide, form) for form in forms})
    if as_json:
        click.echo(json_text(guide_answer(guide, [names[form] for form in forms])))
        return
    click.echo(f"{guide.title}, on {guide.course}, under {guide.book} (stamp {guide.stamp})")
    for number, page in enumerate(guide.pages, start=1):
        click.echo(f"{number:>2}  {page.title}: {page.place}")
    for line in guide.not_shown:
        click.echo(f"    Not shown. {line}")
    written = ", ".join(names[form] for form in forms)
    click.echo(f"Written to {folder}: {written}" if written else "Nothing was written.", err=True)
