"""`marram event records`: the two tables of a trial's records, from the events of a store, without names."""

from __future__ import annotations

from pathlib import Path

import click

from marram.cli.common import json_option, write_whole
from marram.cli.event.event_options import hand_of, store_option, who_option
from marram.cli.writing import folder_option
from marram.core.words import visible


@click.command()
@click.option("--trial", required=True, type=click.Path(exists=True, path_type=Path, dir_okay=False), help="The trial.")
@click.option("--event", "events", multiple=True, metavar="NAME", help="An event of the trial; left out for all of the store.")
@click.option(
    "--pair", "pairs", multiple=True, metavar="PAIR=EVENT,EVENT", help="The two events of a pair; two events are one pair by themselves."
)
@folder_option("-o", "out", help="Write days.csv and values.csv into this folder.", required=True)
@store_option
@who_option
@json_option
def records(
    *,
    trial: Path,
    events: tuple[str, ...],
    pairs: tuple[str, ...],
    out: Path,
    store_at: str,
    who: str | None,
    as_json: bool,
) -> None:
    """Write the records of a trial from its events, as `marram trial report` takes them. Names stay in the store."""
    from marram.answers.events.event_log_answer import event_records_answer
    from marram.answers.shape import json_text
    from marram.office.event_records.make_records import days_table, make_records, pairs_of, values_table
    from marram.office.workroom import Workroom

    room = Workroom()
    store = room.store(store_at)
    opened = [room.event(store, name) for name in events or store.events()]
    made = make_records(store, hand_of(who), room.trial(trial), opened, pairs_of(pairs))
    out.mkdir(parents=True, exist_ok=True)
    write_whole(out / "days.csv", days_table(made))
    write_whole(out / "values.csv", values_table(made))
    answer = event_records_answer(made)
    if as_json:
        click.echo(json_text(answer))
        return
    for day in answer.days:
        click.echo(visible(f"{day.date}  pair {day.pair}  {day.rules:<8}  {day.day}, {day.field} players"))
    click.echo(", ".join(f"{one.outcome} {one.values}" for one in answer.outcomes) or "no values")
    for remark in answer.remarks:
        click.echo(visible(f"  no row: {remark}"))
