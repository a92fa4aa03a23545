"""`marram event observe`, `observed` and `watch`: what was seen on the day besides cards, one by one or as a table."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from marram.cli.common import json_option
from marram.cli.event.event_options import event_option, hand_of, reason_option, store_option, who_option
from marram.core.words import visible

if TYPE_CHECKING:
    from marram.answers.events.event_log_answer import EventObservedAnswer
    from marram.office.events.kept_event import KeptEvent
    from marram.office.events.run_event import Taken

_THINGS = ["round", "hole", "ruling", "search", "drop", "putt", "answer"]


@click.command()
@click.argument("what", type=click.Choice(_THINGS))
@click.option("--group", metavar="NUMBER", help="The group, by its number in the draw.")
@click.option("--player", metavar="NAME", help="The player.")
@click.option("--hole", metavar="NUMBER", help="The hole.")
@click.option("--ruling", metavar="NAME", help="The ruling that it is about, such as R3.")
@click.option("--value", "values", multiple=True, metavar="NAME=VALUE", help="What was measured, such as search_s=2:35; may be repeated.")
@click.option(
    "--say", "said", multiple=True, metavar="NAME=WORDS", help="What else is known: act, spot, x_m, y_m, at, tee, in, says and so on."
)
@click.option(
    "--name", default="", metavar="NAME", help="Its name in the log; that of an entry that stands takes its place, with --reason."
)
@click.option("--strike", is_flag=True, help="Strike out the entry of that name, with --reason.")
@event_option
@store_option
@who_option
@reason_option
@json_option
def observe(
    what: str,
    *,
    group: str | None,
    player: str | None,
    hole: str | None,
    ruling: str | None,
    values: tuple[str, ...],
    said: tuple[str, ...],
    name: str,
    strike: bool,
    asked: str,
    store_at: str,
    who: str | None,
    reason: str,
    as_json: bool,
) -> None:
    """Write down something that was observed: a ruling with its seconds, a search, a drop, a putt, a hole or a round of a group."""
    from marram.answers.events.event_log_answer import event_entry_answer
    from marram.answers.shape import json_text
    from marram.office.event_records.keep_log import entry_of, keep_entry, strike_entry
    from marram.office.workroom import Workroom

    room = Workroom()
    store = room.store(store_at)
    event = room.event(store, asked)
    if strike:
        kept = strike_entry(store, hand_of(who), event, name, reason)
    else:
        own = {"what": what, "id": name, "group": group, "player": player, "hole": hole, "ruling": ruling}
        cells = {key: text for key, text in own.items() if text} | _named(values) | _named(said)
        kept = keep_entry(store, hand_of(who), event, entry_of(cells), reason)
    answer = event_entry_answer(event, kept)
    if as_json:
        click.echo(json_text(answer))
        return
    where = "".join([f", group {answer.group}" * bool(answer.group), f", hole {answer.hole}" * bool(answer.hole)])
    told = "struck out" if answer.struck else ", ".join(f"{one.outcome} {one.value:g}" for one in answer.values)
    click.echo(visible(f"{answer.entry}: {answer.what}{where}{f': {told}' if told else ''}"))


def _named(given: tuple[str, ...]) -> dict[str, str]:
    """Names with what is said of them."""
    wrong = next((one for one in given if "=" not in one), None)
    if wrong is not None:
        raise click.UsageError(f"{wrong!r} names nothing; give it as NAME=VALUE.")
    return {name.strip(): text.strip() for name, _, text in (one.partition("=") for one in given)}


@click.command()
@click.argument("table", type=click.Path(path_type=Path, dir_okay=False))
@event_option
@store_option
@who_option
@reason_option
@json_option
def observed(table: Path, *, asked: str, store_at: str, who: str | None, reason: str, as_json: bool) -> None:
    """Take the log of a day from a TABLE (CSV or XLSX): all of it, or with every fault told none."""
    from marram.office.event_records.keep_log import keep_log
    from marram.office.workroom import Workroom

    room = Workroom()
    store = room.store(store_at)
    event = room.event(store, asked)
    read = room.day_log(table)
    for remark in read.remarks:
        click.echo(f"marram: {remark}", err=True)
    taken = keep_log(store, hand_of(who), event, read, table.name, reason)
    _tell(event, taken, as_json=as_json)


@click.command()
@click.argument("outcomes", nargs=-1, required=True, metavar="OUTCOME...")
@click.option("--group", "groups", multiple=True, type=click.IntRange(1, 9999), help="The group; left out for all, may be repeated.")
@click.option("--round", "number", type=click.IntRange(1, 8), default=1, show_default=True, help="The round.")
@click.option("--not", "is_struck", is_flag=True, help="It was not watched for after all, with --reason.")
@event_option
@store_option
@who_option
@reason_option
@json_option
def watch(
    outcomes: tuple[str, ...],
    *,
    groups: tuple[int, ...],
    number: int,
    is_struck: bool,
    asked: str,
    store_at: str,
    who: str | None,
    reason: str,
    as_json: bool,
) -> None:
    """Say that groups were watched all round for an OUTCOME: searches, rulings, waiting_min, disputes. What is not there did not happen."""
    from marram.office.event_records.keep_log import keep_watched, statements_of
    from marram.office.workroom import Workroom

    room = Workroom()
    store = room.store(store_at)
    event = room.event(store, asked)
    taken = keep_watched(store, hand_of(who), event, statements_of(outcomes, groups, number, is_struck=is_struck), reason)
    _tell(event, taken, as_json=as_json)


def _tell(event: KeptEvent, taken: Taken, *, as_json: bool) -> None:
    from marram.answers.events.event_log_answer import event_observed_answer
    from marram.answers.shape import json_text

    answer: EventObservedAnswer = event_observed_answer(event, taken)
    if as_json:
        click.echo(json_text(answer))
        return
    click.echo(f"{answer.event}: {answer.added} added, {answer.changed} put right, {answer.same} as they were.")
