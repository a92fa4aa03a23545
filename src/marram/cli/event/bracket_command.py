"""`marram event bracket` and `match`: a match play from its draw to its winner."""

from __future__ import annotations

import secrets
from pathlib import Path
from typing import TYPE_CHECKING

import click

from marram.cli.common import json_option
from marram.cli.event.event_options import after_closing_option, event_option, hand_of, reason_option, store_option, who_option
from marram.core.words import visible

if TYPE_CHECKING:
    from collections.abc import Iterator

    from marram.answers.events.decided_answer import BracketShape

_FILE = click.Path(path_type=Path, dir_okay=False)


@click.command()
@click.option(
    "--by",
    type=click.Choice(["entry", "handicap", "random", "list"]),
    default="entry",
    show_default=True,
    help="What gives the numbers, 1 first: order of entry, lowest handicap, chance, or a list such as that of a qualifying round.",
)
@click.option("--seed", default="", metavar="WORDS", help="With --by random: what chance is worked out from; without it one is made.")
@click.option("--from", "table", type=_FILE, help="With --by list: a table with player, number 1 first.")
@event_option
@store_option
@who_option
@reason_option
@json_option
def bracket(*, by: str, seed: str, table: Path | None, asked: str, store_at: str, who: str | None, reason: str, as_json: bool) -> None:
    """Draw the bracket of a match play by the general numerical draw; empty places give the first numbers a bye."""
    from marram.answers.events.decided_answer import event_bracket_answer
    from marram.answers.shape import json_text
    from marram.office.events.decide.play_bracket import draw_bracket
    from marram.office.workroom import Workroom

    if (by == "list") != (table is not None):
        raise click.UsageError("--by list and --from TABLE go together.")
    room = Workroom()
    store = room.store(store_at)
    event = room.event(store, asked)
    chosen = seed or f"{secrets.randbelow(10**8):08d}"
    listed = tuple(player for player, _ in room.draw_list(table)) if table is not None else ()
    answer = event_bracket_answer(event, draw_bracket(store, hand_of(who), event, by, chosen, listed, reason))
    click.echo(json_text(answer) if as_json else "\n".join(bracket_lines(answer.bracket)))


def bracket_lines(bracket: BracketShape) -> Iterator[str]:
    """A bracket as lines, round by round."""
    numbers = {name: number for number, name in enumerate(bracket.numbered, start=1)}
    seed = f", seed {bracket.seed}" if bracket.seed else ""
    yield f"Bracket of {len(bracket.numbered)} by {bracket.by}{seed}"
    for match in bracket.matches:
        named = [visible(f"{name} ({numbers[name]})") if name else "?" for name in match.sides]
        if match.says == "bye":
            yield f"  round {match.round}  {next(name for name in named if name != '?')} has a bye"
            continue
        result = f"   {visible(match.winner)} {visible(match.says)}" if match.winner else ""
        yield f"  round {match.round}  {' v '.join(named)}{result}"
    if bracket.winner:
        yield f"  winner: {visible(bracket.winner)}"


@click.command()
@click.argument("winner")
@click.option("--beats", "loser", required=True, metavar="NAME", help="Who lost.")
@click.option("--by", "result", default="", metavar="RESULT", help="3 & 2, 1 up, 20th hole, walkover, concession or disqualification.")
@click.option("--strike", is_flag=True, help="The result that was reported does not stand any more.")
@after_closing_option
@event_option
@store_option
@who_option
@reason_option
@json_option
def match(
    winner: str,
    *,
    loser: str,
    result: str,
    strike: bool,
    after_closing: str,
    asked: str,
    store_at: str,
    who: str | None,
    reason: str,
    as_json: bool,
) -> None:
    """Take the result of a match in: the WINNER goes on in the bracket."""
    from marram.answers.events.decided_answer import event_match_answer
    from marram.answers.shape import json_text
    from marram.office.events.decide.play_bracket import log_match, strike_match
    from marram.office.workroom import Workroom

    if bool(result) == strike:
        raise click.UsageError("Give --by RESULT, or --strike.")
    room = Workroom()
    store = room.store(store_at)
    event = room.event(store, asked)
    if strike:
        won = strike_match(store, hand_of(who), event, winner, loser, reason, after_closing=after_closing)
    else:
        won = log_match(store, hand_of(who), event, winner, loser, result, reason, after_closing=after_closing)
    answer = event_match_answer(event, won)
    if as_json:
        click.echo(json_text(answer))
        return
    told = "does not stand any more" if answer.struck else f"round {answer.round}"
    click.echo(visible(f"{answer.winner} beat {answer.loser} {answer.says}: {told}"))
