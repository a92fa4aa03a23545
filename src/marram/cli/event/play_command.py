"""`marram event suspend` and `resume`: play is stopped and goes on."""

from __future__ import annotations

import click

from marram.cli.event.event_options import event_option, hand_of, reason_option, store_option, who_option
from marram.core.words import visible


@click.command()
@click.option("--signal", type=click.Choice(["immediate", "normal"]), required=True, help="Whether play stops at once.")
@click.option("--at", "at", required=True, metavar="TIME", help="Since when, such as 10:42.")
@event_option
@store_option
@who_option
@reason_option
def suspend(*, signal: str, at: str, asked: str, store_at: str, who: str | None, reason: str) -> None:
    """Log that play is suspended; every paper says so first. What players must do is told by `marram suspension`."""
    from marram.office.events.log_event import suspend_play
    from marram.office.events.run_event import minutes_of, signal_of
    from marram.office.workroom import Workroom

    room = Workroom()
    store = room.store(store_at)
    found = suspend_play(store, hand_of(who), room.event(store, asked), signal_of(signal), minutes_of(at), reason)
    click.echo(visible(found.says))


@click.command()
@click.option("--at", "at", required=True, metavar="TIME", help="When it goes on, such as 11:30.")
@event_option
@store_option
@who_option
def resume(*, at: str, asked: str, store_at: str, who: str | None) -> None:
    """Log that play goes on: groups that had not started yet start as much later as it was stopped."""
    from marram.office.events.log_event import resume_play
    from marram.office.events.run_event import minutes_of
    from marram.office.workroom import Workroom

    room = Workroom()
    store = room.store(store_at)
    found = resume_play(store, hand_of(who), room.event(store, asked), minutes_of(at))
    click.echo(visible(found.says))
