"""`marram event shorten`, `cut` and `play-off`: what the Committee decides of rounds and of ties."""

from __future__ import annotations

import click

from marram.cli.common import json_option
from marram.cli.event.event_options import after_closing_option, event_option, hand_of, reason_option, store_option, who_option
from marram.core.words import visible

_STROKES = {"": None, "share": "share-of-handicap", "as-they-fall": "strokes-as-they-fall"}


@click.command()
@click.option("--round", "number", type=click.IntRange(1, 8), default=1, show_default=True, help="The round.")
@click.option("--holes", default="", metavar="HOLES", help="Holes that count, such as 1-9 or 1-6,10-12.")
@click.option("--cancel", is_flag=True, help="The round counts for nothing.")
@click.option("--in-full", is_flag=True, help="All of it counts after all.")
@click.option(
    "--strokes",
    type=click.Choice(["", "share", "as-they-fall"]),
    default="",
    help="How strokes received count over the holes that are left; without it as the form of play asks.",
)
@after_closing_option
@event_option
@store_option
@who_option
@reason_option
@json_option
def shorten(
    *,
    number: int,
    holes: str,
    cancel: bool,
    in_full: bool,
    strokes: str,
    after_closing: str,
    asked: str,
    store_at: str,
    who: str | None,
    reason: str,
    as_json: bool,
) -> None:
    """Cut a round short or cancel it, by decision of the Committee; results follow, and the history says why."""
    from marram.answers.events.decided_answer import event_counts_answer
    from marram.answers.shape import json_text
    from marram.office.events.decide.count_rounds import RoundAsked, shorten_round
    from marram.office.workroom import Workroom

    if sum((bool(holes), cancel, in_full)) != 1:
        raise click.UsageError("Give one of --holes, --cancel and --in-full.")
    room = Workroom()
    store = room.store(store_at)
    event = room.event(store, asked)
    wanted = RoundAsked(round=number, holes=holes, is_cancelled=cancel, strokes=_STROKES[strokes], why=reason)
    found = shorten_round(store, hand_of(who), event, wanted, after_closing=after_closing)
    answer = event_counts_answer(event, found)
    click.echo(json_text(answer) if as_json else visible(answer.counts.says))


@click.command()
@click.option("--after", "after", type=click.IntRange(1, 7), help="After which round; without it what the terms say.")
@click.option("--places", type=click.IntRange(1, 1000), help="So many play on; without it what the terms say.")
@click.option("--ties", type=click.Choice(["in", "as-decided"]), default="in", show_default=True, help="With --places: who of equal ones.")
@click.option("--within", type=click.IntRange(0, 50), help="With --places: whoever is so near the leader plays on too.")
@click.option("--rule", default="", metavar="WORDS", help="With --places: the rule in the Committee's own words.")
@event_option
@store_option
@who_option
@reason_option
@json_option
def cut(
    *,
    after: int | None,
    places: int | None,
    ties: str,
    within: int | None,
    rule: str,
    asked: str,
    store_at: str,
    who: str | None,
    reason: str,
    as_json: bool,
) -> None:
    """Make the cut after a round, by the rule that the terms have, or that is given here."""
    from marram.answers.events.decided_answer import event_cut_answer
    from marram.answers.shape import json_text
    from marram.office.events.decide.later_rounds import cut_terms, make_event_cut
    from marram.office.workroom import Workroom

    if places is None and (after is not None or within is not None or rule):
        raise click.UsageError("--after, --within and --rule go with --places.")
    room = Workroom()
    store = room.store(store_at)
    event = room.event(store, asked)
    terms = None if places is None else cut_terms(after or 1, places, ties, within, rule)
    answer = event_cut_answer(event, make_event_cut(store, hand_of(who), event, terms, reason))
    click.echo(json_text(answer) if as_json else visible(answer.cut.says))


@click.command("play-off")
@click.argument("order", nargs=-1, required=True, metavar="NAMES")
@click.option("--by", type=click.Choice(["play-off", "lot"]), default="play-off", show_default=True, help="What was held.")
@click.option("--how", default="", metavar="WORDS", help="How it went.")
@after_closing_option
@event_option
@store_option
@who_option
@reason_option
@json_option
def play_off(
    order: tuple[str, ...],
    *,
    by: str,
    how: str,
    after_closing: str,
    asked: str,
    store_at: str,
    who: str | None,
    reason: str,
    as_json: bool,
) -> None:
    """Log a play-off or a lot among those who are equal: NAMES in the order that it gave, the best first.

    It is recorded and decides; its holes are not worked out.
    """
    from marram.answers.events.decided_answer import event_play_off_answer
    from marram.answers.shape import json_text
    from marram.office.events.decide.count_rounds import log_play_off
    from marram.office.workroom import Workroom

    room = Workroom()
    store = room.store(store_at)
    event = room.event(store, asked)
    held = log_play_off(store, hand_of(who), event, by, order, how, reason, after_closing=after_closing)
    answer = event_play_off_answer(event, held)
    click.echo(json_text(answer) if as_json else visible(held.says))
