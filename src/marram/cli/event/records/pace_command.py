"""`marram event pace`: time by hole, gap ahead, and who is out of position."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from marram.cli.common import json_option
from marram.cli.event.event_options import event_option, hand_of, reason_option, store_option, who_option

if TYPE_CHECKING:
    from collections.abc import Iterator

    from marram.answers.events.event_pace_answer import EventPaceAnswer, HolePaceShape


@click.command()
@click.option("--time-par", default="", metavar="MINUTES", help="Set minutes for each hole, or for each par, such as '3=11 4=13 5=15.5'.")
@click.option("--gap", "gap_min", type=float, metavar="MINUTES", help="With --time-par: from which gap a group has lost its position.")
@click.option("--group", type=click.IntRange(1, 9999), help="Every hole of one group.")
@click.option("--round", "number", type=click.IntRange(1, 8), default=1, show_default=True, help="The round.")
@event_option
@store_option
@who_option
@reason_option
@json_option
def pace(
    *,
    time_par: str,
    gap_min: float | None,
    group: int | None,
    number: int,
    asked: str,
    store_at: str,
    who: str | None,
    reason: str,
    as_json: bool,
) -> None:
    """Tell how groups stand by the times that were written down, against the time par that the official sets.

    Out of position is a group behind its time par with too large a gap to the group ahead. Waiting stands beside it. Whether a group is
    warned or timed the Committee decides.
    """
    from marram.answers.events.event_pace_answer import event_pace_answer
    from marram.answers.shape import json_text
    from marram.office.event_records.watch_pace import find_pace, set_time_par
    from marram.office.workroom import Workroom

    if gap_min is not None and not time_par:
        raise click.UsageError("--gap is set together with --time-par.")
    room = Workroom()
    store = room.store(store_at)
    event = room.event(store, asked)
    if time_par:
        set_time_par(store, hand_of(who), event, time_par, gap_min, reason)
        event = room.event(store, event.name)
    answer = event_pace_answer(event, find_pace(event, number))
    click.echo(json_text(answer) if as_json else "\n".join(_lines(answer, group)))


def _lines(answer: EventPaceAnswer, group: int | None) -> Iterator[str]:
    if answer.time_par_min:
        whole = round(sum(answer.time_par_min))
        yield f"time par {whole // 60}:{whole % 60:02d} for the round, gap {answer.gap_min:g} min"
    else:
        yield "no time par is set: gaps and times alone are told"
    if not answer.groups:
        yield "no times of holes are written down yet"
    for one in answer.groups:
        if group is None:
            yield f"group {one.group:>2}  {_hole(one.holes[-1])}{_lost([hole.hole for hole in one.holes if hole.out_of_position])}"
        elif group == one.group:
            yield from (f"group {one.group:>2}  {_hole(hole)}{'  out of position' * bool(hole.out_of_position)}" for hole in one.holes)


def _lost(holes: list[int]) -> str:
    return f"  out of position on {', '.join(map(str, holes))}" if holes else ""


def _hole(one: HolePaceShape) -> str:
    took = "" if one.took_min is None else f" {one.took_min:.1f} min"
    waited = "" if not one.waited_min else f", waited {one.waited_min:.1f}"
    behind = "" if one.behind_min is None else f", {abs(one.behind_min):.1f} min {'behind' if one.behind_min > 0 else 'ahead'}"
    gap = "" if one.gap_min is None else f", {one.gap_min:.1f} min after the group ahead"
    return f"hole {one.hole:>2}{took}{waited}{behind}{gap}"
