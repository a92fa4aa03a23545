"""`marram event cards`, `results` and `rounds`: cards come in, places and rounds for handicap come out."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from marram.cli.common import json_option, write_whole
from marram.cli.event.event_options import after_closing_option, event_option, hand_of, reason_option, store_option, who_option
from marram.cli.writing import file_option
from marram.core.words import counted, visible

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from marram.events.event_results import PlaceList
    from marram.events.team_places import PlayerScore, TeamPlace
    from marram.office.events.event_standing import EventStanding

_FILE = click.Path(path_type=Path, dir_okay=False)
_SHOWN = 40


@click.command()
@click.argument("table", type=_FILE)
@event_option
@store_option
@who_option
@reason_option
@after_closing_option
@json_option
def cards(table: Path, *, asked: str, store_at: str, who: str | None, reason: str, after_closing: str, as_json: bool) -> None:
    """Take cards in from a TABLE (CSV or XLSX): all of them, or with every fault told none.

    What a card leaves out, such as tee and handicap, comes from the entry and the starting list.
    """
    from marram.answers.events.event_answer import event_taken_answer
    from marram.answers.shape import json_text
    from marram.office.events.run_event import take_cards
    from marram.office.workroom import Workroom

    room = Workroom()
    store = room.store(store_at)
    event = room.event(store, asked)
    read = room.returned_cards(table, event)
    taken = take_cards(store, hand_of(who), event, read.cards, table.name, reason, after_closing=after_closing)
    event = room.event(store, event.name)
    for remark in read.remarks:
        click.echo(f"marram: {remark}", err=True)
    answer = event_taken_answer(event, "cards", taken, event.still_out(), read.remarks)
    if as_json:
        click.echo(json_text(answer))
        return
    click.echo(f"{answer.event}: {counted(answer.added, 'card')} in, {answer.changed} put right, {answer.same} as they were.")
    _tell_out(tuple(one.player for one in answer.still_out))
    if answer.under.says:
        click.echo(answer.under.says)


def _tell_out(players: tuple[str, ...]) -> None:
    if players:
        shown = "; ".join(dict.fromkeys(players[:_SHOWN])) + "; …" * (len(players) > _SHOWN)
        click.echo(f"Not in yet ({len(players)}): {visible(shown)}.")


@click.command()
@file_option("-o", "out", help="Write every list of places to a CSV file as well.")
@click.option("--holes", "with_holes", is_flag=True, help="Show every hole of every card.")
@click.option("--after", "after", type=click.IntRange(1, 8), help="How it stood after a round.")
@event_option
@store_option
@json_option
def results(*, out: Path | None, with_holes: bool, after: int | None, asked: str, store_at: str, as_json: bool) -> None:
    """Give places of the whole field and of each division, gross and net, each with what decided it."""
    from marram.answers.events.event_results_answer import event_results_answer
    from marram.answers.shape import json_text
    from marram.office.events.event_standing import stand_of
    from marram.office.events.event_tables import places_table
    from marram.office.workroom import Workroom

    room = Workroom()
    stands = stand_of(room.event(room.store(store_at), asked), after)
    if out is not None:
        write_whole(out, places_table(stands.found))
    click.echo(json_text(event_results_answer(stands)) if as_json else "\n".join(_lines(stands, with_holes=with_holes)))


def _lines(stands: EventStanding, *, with_holes: bool) -> Iterator[str]:
    from marram.cli.score.result_lines import result_lines

    yield f"{stands.terms.title}: {stands.state}, {stands.entered} entered, event stamp {stands.stamp}"
    yield from (visible(line) for line in (stands.suspended, stands.under.line, *stands.decided) if line)
    first, *others = stands.found.lists
    if stands.bracket is not None:
        from marram.answers.events.decided_answer import bracket_shape
        from marram.cli.event.bracket_command import bracket_lines

        yield from bracket_lines(bracket_shape(stands.bracket))
    after = f", after round {stands.after_round}" if stands.after_round is not None else ""
    yield from result_lines(stands.found.results, f"{stands.terms.form.value}, {_scores(first)}{after}", with_holes=with_holes)
    yield from _teams(stands.found.teams)
    for one in others:
        yield from _list(one)
    for told, players in (
        ("Card not in", [f"{player}" for player, _ in stands.found.not_in]),
        ("Did not start", list(stands.found.not_started)),
    ):
        if players:
            yield f"{told}: {visible('; '.join(players))}"


def _teams(teams: Sequence[TeamPlace]) -> Iterator[str]:
    """Teams with the scores that count; those that do not stand in brackets."""
    if teams:
        yield ""
        yield "Teams"
    for team in teams:
        place = "-" if team.place is None else f"{team.place}{'=' * team.is_joint}"
        decided = f"  {team.decided_by}" if team.decided_by not in {"", "score"} else ""
        yield f"{place:>4}  {visible(team.team):<28} {team.why or team.total}{decided}"
        yield "         " + "; ".join(_of_team(one) for one in team.scores)


def _of_team(one: PlayerScore) -> str:
    told = visible(f"{one.player} {one.score}")
    return told if one.does_count else f"({told})"


def _scores(one: PlaceList) -> str:
    return "net" if one.is_net else "gross"


def _list(one: PlaceList) -> Iterator[str]:
    from marram.cli.score.result_lines import player_lines

    yield ""
    yield f"{one.division}, {_scores(one)}".removeprefix(", ").capitalize() if not one.division else f"{one.division}, {_scores(one)}"
    for ranked in one.ranked:
        if ranked.placed is not None:
            yield next(player_lines(ranked, with_holes=False))


@click.command()
@file_option("-o", "out", help="Write the rounds to a CSV file, in the columns of a handicap record.")
@click.option("--player", default="", metavar="NAME", help="The rounds of one player alone.")
@event_option
@store_option
@json_option
def rounds(*, out: Path | None, player: str, asked: str, store_at: str, as_json: bool) -> None:
    """Rounds that count for handicap, each a row for `marram handicap index`; of the others why they do not."""
    from marram.answers.events.event_answer import event_rounds_answer
    from marram.answers.shape import json_text
    from marram.office.events.handicap_rounds import find_rounds, rounds_table
    from marram.office.workroom import Workroom

    room = Workroom()
    event = room.event(room.store(store_at), asked)
    found = find_rounds(event, player)
    if out is not None:
        write_whole(out, rounds_table(found))
    answer = event_rounds_answer(event, found)
    if as_json:
        click.echo(json_text(answer))
        return
    click.echo(f"{answer.event}: {counted(len(answer.rounds), 'round')} for handicap under {answer.handicapping}")
    for one in answer.rounds:
        told = f"adjusted gross {one.adjusted_gross}, Course Rating {one.course_rating:.1f}, Slope Rating {one.slope}"
        click.echo(f"  {one.date}  {visible(one.player)}  {told}")
    for left in answer.left_out:
        click.echo(f"  no row: {visible(left.player)}: {left.because}")
    if answer.under.says:
        click.echo(answer.under.says)
