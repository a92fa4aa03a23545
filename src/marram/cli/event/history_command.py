"""`marram event history`: every row of an event, or of one player, with who wrote it, when and why."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from marram.cli.common import json_option
from marram.cli.event.event_options import event_option, store_option
from marram.core.words import shortened, visible

if TYPE_CHECKING:
    from marram.answers.events.event_answer import HistoryShape

_LONGEST = 200


@click.command()
@click.option("--player", default="", metavar="NAME", help="The rows of one player alone.")
@event_option
@store_option
@json_option
def history(*, player: str, asked: str, store_at: str, as_json: bool) -> None:
    """Tell how a score came to be: rows in the order in which they were written, and which took the place of which."""
    from marram.answers.events.event_answer import event_history_answer
    from marram.answers.shape import json_text
    from marram.office.events.event_standing import tell_history
    from marram.office.events.kept_event import choose_event
    from marram.office.workroom import Workroom

    store = Workroom().store(store_at)
    name = choose_event(store, asked)
    answer = event_history_answer(name, tell_history(store, name, player))
    if as_json:
        click.echo(json_text(answer))
        return
    for row in answer.rows:
        click.echo("\n".join(_told(row)))


def _told(row: HistoryShape) -> list[str]:
    after = f", in place of row {row.supersedes}" if row.supersedes is not None else ""
    gone = f", superseded by row {row.superseded_by}" if row.superseded_by is not None else ""
    why = f", because: {row.reason}" if row.reason else ""
    about = f"{row.kind} {row.key}".strip()
    head = f"{row.number:>5}  {row.at}  {about}, by {row.who}{after}{gone}{why}  [{row.stamp}]"
    return [visible(head), f"       {visible(shortened(row.says, _LONGEST))}"]
