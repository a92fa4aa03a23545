"""`marram event log`, `withdraw`, `delay` and `close`: the day as it goes."""

from __future__ import annotations

import click

from marram.cli.common import json_option
from marram.cli.event.event_options import after_closing_option, event_option, hand_of, reason_option, store_option, who_option
from marram.core.words import visible


@click.command()
@click.argument("player")
@click.option("--hole", type=click.IntRange(1, 18), help="The hole; left out for the round.")
@click.option("--act", "act", default="", metavar="ACT", help='The act of the rule data (marram act --find "words").')
@click.option("--fact", "facts", multiple=True, metavar="NAME", help="A fact of the act that is true; may be repeated.")
@click.option("--strokes", type=click.IntRange(1, 20), help="Penalty strokes, where no act says them.")
@click.option("--in-score", "is_in_score", is_flag=True, help="The player has counted them already.")
@click.option("--says", default="", metavar="WORDS", help="What happened and what was ruled.")
@click.option("--seconds", type=float, metavar="S", help="Seconds from the question to the answer, for the log of the day.")
@click.option("--round", "number", type=click.IntRange(1, 8), default=1, show_default=True, help="The round.")
@click.option("--supersede", "supersedes", default="", metavar="RULING", help="The ruling whose place it takes, such as R3.")
@click.option("--strike", "struck", default="", metavar="RULING", help="A ruling that does not stand any more.")
@after_closing_option
@event_option
@store_option
@who_option
@reason_option
@json_option
def log(
    player: str,
    *,
    hole: int | None,
    act: str,
    facts: tuple[str, ...],
    strokes: int | None,
    is_in_score: bool,
    says: str,
    seconds: float | None,
    number: int,
    supersedes: str,
    struck: str,
    after_closing: str,
    asked: str,
    store_at: str,
    who: str | None,
    reason: str,
    as_json: bool,
) -> None:
    """Log a ruling of a PLAYER: what it costs reaches the card once, also where the card comes in later."""
    from marram.answers.events.event_answer import event_ruling_answer
    from marram.answers.shape import json_text
    from marram.office.events.log_event import RulingAsked, log_ruling
    from marram.office.workroom import Workroom

    if act and strokes is not None:
        raise click.UsageError("An act says its strokes itself; give --act or --strokes.")
    room = Workroom()
    store = room.store(store_at)
    event = room.event(store, asked)
    ruling = log_ruling(
        store,
        hand_of(who),
        event,
        RulingAsked(
            player=player,
            says=says,
            hole=hole,
            act=act,
            facts=facts,
            strokes=strokes,
            is_in_score=is_in_score,
            round=number,
            supersedes=supersedes or struck,
            is_struck=bool(struck),
            reason=reason,
            seconds=seconds,
        ),
        after_closing=after_closing,
    )
    answer = event_ruling_answer(event, ruling)
    if as_json:
        click.echo(json_text(answer))
        return
    cost = f"{answer.act or answer.strokes}" if answer.act or answer.strokes else "no penalty"
    told = "does not stand any more" if answer.struck else f"{cost}{f', hole {answer.hole}' if answer.hole else ''}"
    click.echo(visible(f"{answer.ruling}: {answer.player}, {told}"))


@click.command()
@click.argument("player")
@click.option(
    "--as",
    "became",
    type=click.Choice(["withdrawn", "no-show", "no-return", "disqualified", "back"]),
    default="withdrawn",
    show_default=True,
    help="What became of the player; back for one who plays on after all.",
)
@after_closing_option
@event_option
@store_option
@who_option
@reason_option
def withdraw(player: str, *, became: str, after_closing: str, asked: str, store_at: str, who: str | None, reason: str) -> None:
    """Log that a PLAYER withdraws, does not start, returns no card or is disqualified, with the reason and its rule."""
    from marram.office.events.log_event import take_out
    from marram.office.workroom import Workroom

    room = Workroom()
    store = room.store(store_at)
    take_out(store, hand_of(who), room.event(store, asked), player, became, reason, after_closing=after_closing)
    click.echo(visible(f"{player}: {became.replace('-', ' ')}, {reason}"))


@click.command()
@click.argument("minutes", type=click.IntRange(1, 720))
@click.option("--from", "from_time", default="00:00", show_default=True, metavar="TIME", help="Times from this one on, such as 09:30.")
@event_option
@store_option
@who_option
@reason_option
@json_option
def delay(minutes: int, *, from_time: str, asked: str, store_at: str, who: str | None, reason: str, as_json: bool) -> None:
    """Delay every starting time by MINUTES, or those from one time on."""
    from marram.answers.events.event_answer import event_times_answer
    from marram.answers.shape import json_text
    from marram.cli.event.draw_command import timed_lines
    from marram.office.events.log_event import delay_event
    from marram.office.events.run_event import minutes_of
    from marram.office.workroom import Workroom

    room = Workroom()
    store = room.store(store_at)
    event = room.event(store, asked)
    answer = event_times_answer(event, delay_event(store, hand_of(who), event, minutes, minutes_of(from_time), reason))
    click.echo(json_text(answer) if as_json else "\n".join(timed_lines(answer)))


@click.command()
@click.option(
    "--as", "state", type=click.Choice(["provisional", "final", "closed"]), default="closed", show_default=True, help="How far they stand."
)
@event_option
@store_option
@who_option
@reason_option
def close(*, state: str, asked: str, store_at: str, who: str | None, reason: str) -> None:
    """Say how far the results stand. After closing only a mistake of the Committee or a disqualification is put right."""
    from marram.office.events.log_event import set_state
    from marram.office.events.run_event import state_of
    from marram.office.workroom import Workroom

    room = Workroom()
    store = room.store(store_at)
    event = room.event(store, asked)
    set_state(store, hand_of(who), event, state_of(state), reason)
    click.echo(f"{event.name}: {state}")
