"""`marram event two-balls`, `marker` and `regroup`: what the day brings."""

from __future__ import annotations

import click

from marram.cli.common import json_option
from marram.cli.event.event_options import (
    after_closing_option,
    event_option,
    hand_of,
    reason_option,
    round_option,
    store_option,
    who_option,
)
from marram.core.words import visible


@click.command("two-balls")
@click.argument("player")
@click.option("--hole", type=click.IntRange(1, 18), required=True, help="The hole.")
@click.option("--first", required=True, metavar="BALL", help='The ball played first: its score, 5; once decided "5 allowed".')
@click.option("--second", required=True, metavar="BALL", help="The second ball: its score, 6; once decided 6 not-allowed+2 or 6 serious.")
@click.option("--chosen", type=click.Choice(["first", "second", "none"]), default="none", show_default=True, help="Which was to count.")
@click.option("--not-reported", is_flag=True, help="The facts were not reported before the card was returned.")
@round_option
@after_closing_option
@event_option
@store_option
@who_option
@reason_option
def two_balls(
    player: str,
    *,
    hole: int,
    first: str,
    second: str,
    chosen: str,
    not_reported: bool,
    number: int,
    after_closing: str,
    asked: str,
    store_at: str,
    who: str | None,
    reason: str,
) -> None:
    """Keep both scores of a PLAYER who played a hole out with two balls; with what was found of each, the Committee decides."""
    from marram.office.events.decide.on_the_day import keep_balls, read_two
    from marram.office.workroom import Workroom

    room = Workroom()
    store = room.store(store_at)
    event = room.event(store, asked)
    kept = read_two(event, player, number, hole, (first, second), chosen, is_reported=not not_reported)
    keep_balls(store, hand_of(who), event, kept, reason, after_closing=after_closing)
    click.echo(visible(kept.says))


@click.command()
@click.argument("player")
@click.option("--by", "marker", default="", metavar="NAME", help="Who marks; left out where nobody does.")
@click.option("--from-hole", type=click.IntRange(1, 18), default=1, show_default=True, help="From which hole on.")
@round_option
@event_option
@store_option
@who_option
@reason_option
def marker(player: str, *, marker: str, from_hole: int, number: int, asked: str, store_at: str, who: str | None, reason: str) -> None:
    """Log that a PLAYER has no marker, or who marks the card from a hole on; results are not final while nobody does."""
    from marram.office.events.decide.on_the_day import name_marker, named_marker
    from marram.office.workroom import Workroom

    room = Workroom()
    store = room.store(store_at)
    event = room.event(store, asked)
    found = name_marker(store, hand_of(who), event, named_marker(player, marker, number, from_hole, reason))
    click.echo(visible(found.says))


@click.command()
@click.argument("player")
@click.option("--to", "to", type=click.IntRange(1, 9999), help="Number of the group that the player joins.")
@click.option("--at", "at", default="", metavar="TIME", help="When a new group starts, such as 10:30.")
@click.option("--hole", type=click.IntRange(1, 18), default=1, show_default=True, help="With --at: the hole from which it starts.")
@click.option("--off", is_flag=True, help="Take the player off the starting list.")
@round_option
@event_option
@store_option
@who_option
@reason_option
@json_option
def regroup(
    player: str,
    *,
    to: int | None,
    at: str,
    hole: int,
    off: bool,
    number: int,
    asked: str,
    store_at: str,
    who: str | None,
    reason: str,
    as_json: bool,
) -> None:
    """Move a PLAYER to another group, or let one who entered late start, in a group that is there or in a new one."""
    from marram.answers.events.event_answer import event_times_answer
    from marram.answers.shape import json_text
    from marram.cli.event.draw_command import timed_lines
    from marram.office.events.decide.on_the_day import move_of, regroup_player
    from marram.office.events.run_event import minutes_of
    from marram.office.workroom import Workroom

    if sum((to is not None, bool(at), off)) != 1:
        raise click.UsageError("Give one of --to, --at and --off.")
    room = Workroom()
    store = room.store(store_at)
    event = room.event(store, asked)
    move = move_of(player, to, minutes_of(at) if at else None, hole)
    answer = event_times_answer(event, regroup_player(store, hand_of(who), event, move, number, reason))
    click.echo(json_text(answer) if as_json else "\n".join(timed_lines(answer)))
