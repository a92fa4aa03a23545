"""`marram event draw` and `marram event times`: who plays with whom, when, and from which hole."""

from __future__ import annotations

import secrets
from pathlib import Path
from typing import TYPE_CHECKING

import click

from marram.cli.common import json_option, write_whole
from marram.cli.event.event_options import event_option, hand_of, reason_option, round_option, store_option, who_option
from marram.cli.writing import file_option
from marram.core.words import visible

if TYPE_CHECKING:
    from collections.abc import Iterator

    from marram.answers.events.event_answer import EventDrawAnswer, EventTimesAnswer

_FILE = click.Path(path_type=Path, dir_okay=False)


@click.command()
@click.option("--by", type=click.Choice(["random", "handicap", "list", "score"]), default="random", show_default=True, help="What decides.")
@click.option("--seed", default="", metavar="WORDS", help="What chance is worked out from; without it one is made, told and kept.")
@click.option("--from", "table", type=_FILE, help="With --by list: a table with player, and group where groups are named.")
@click.option("--size", type=click.IntRange(1, 4), help="How many play together; without it what the terms say, else three.")
@round_option
@event_option
@store_option
@who_option
@reason_option
@json_option
def draw(
    *,
    number: int,
    by: str,
    seed: str,
    table: Path | None,
    size: int | None,
    asked: str,
    store_at: str,
    who: str | None,
    reason: str,
    as_json: bool,
) -> None:
    """Draw the field into groups, in the order in which they start.

    At random each name is put in the order of a digest of seed and name, so that whoever knows the seed can repeat the draw.
    """
    from marram.answers.events.event_answer import event_draw_answer
    from marram.answers.shape import json_text
    from marram.office.events.run_event import DrawAsked, draw_field
    from marram.office.events.run_event import drawn_by as by_word
    from marram.office.workroom import Workroom

    if (by == "list") != (table is not None):
        raise click.UsageError("--by list takes the list with --from, and nothing else does.")
    room = Workroom()
    store = room.store(store_at)
    event = room.event(store, asked)
    chosen = "" if by == "list" else seed or f"{secrets.randbelow(10**8):08d}"
    listed = room.draw_list(table) if table is not None else ()
    wanted = DrawAsked(by=by_word(by), seed=chosen, listed=listed, size=size, reason=reason, round=number)
    answer = event_draw_answer(event, draw_field(store, hand_of(who), event, wanted))
    click.echo(json_text(answer) if as_json else "\n".join(_drawn(answer)))


def _drawn(answer: EventDrawAnswer) -> Iterator[str]:
    seed = f", seed {answer.seed}" if answer.seed else ""
    yield f"{answer.event}: drawn {'at random' if answer.by == 'random' else f'by {answer.by}'}{seed}, {len(answer.groups)} groups"
    for group in answer.groups:
        yield f"{group.number:>4}  {visible('; '.join(group.players))}"
    yield from [answer.under.says] if answer.under.says else []


@click.command()
@file_option("-o", "out", help="Write the starting list to a CSV file as well.")
@round_option
@event_option
@store_option
@who_option
@reason_option
@json_option
def times(*, number: int, out: Path | None, asked: str, store_at: str, who: str | None, reason: str, as_json: bool) -> None:
    """Give each group its time and its hole, as the terms say: from one tee, from two, or all at once."""
    from marram.answers.events.event_answer import event_times_answer
    from marram.answers.shape import json_text
    from marram.office.events.event_tables import starting_table
    from marram.office.events.run_event import give_times
    from marram.office.workroom import Workroom

    room = Workroom()
    store = room.store(store_at)
    event = room.event(store, asked)
    starts = give_times(store, hand_of(who), event, None, reason, number=number)
    if out is not None:
        write_whole(out, starting_table(starts))
    answer = event_times_answer(event, starts)
    for remark in answer.remarks:
        click.echo(f"marram: {remark}", err=True)
    click.echo(json_text(answer) if as_json else "\n".join(timed_lines(answer)))


def timed_lines(answer: EventTimesAnswer) -> Iterator[str]:
    """A starting list, a group a line."""
    yield f"{answer.event}: {len(answer.groups)} groups"
    lines = [(one.time, f"  {one.time}  hole {one.hole:>2}{one.letter}  {visible('; '.join(one.players))}") for one in answer.groups]
    lines += [(one.time, f"  {one.time}  hole {one.hole:>2}  stays empty") for one in answer.empty]
    yield from (line for _, line in sorted(lines, key=lambda found: found[0]))
    yield from [answer.under.says] if answer.under.says else []
