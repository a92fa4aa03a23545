"""What the day brings: two balls in doubt, a marker who is missing, players who change groups or come late."""

from __future__ import annotations

from dataclasses import replace

from marram.core.errors import EventError
from marram.core.words import plain_name
from marram.events.decided.kept_balls import KeptBalls
from marram.events.decided.marker_named import MarkerNamed
from marram.events.decided.regrouped import Move, draw_as_regrouped, move_player
from marram.events.starting_list import StartingList
from marram.interchange.cards.penalty_text import read_ball
from marram.office.events.decide.later_rounds import refuse_round
from marram.office.events.kept_event import KeptEvent, round_key
from marram.office.events.log_event import entry_of
from marram.office.events.writing_rows import need_reason, write_rows
from marram.scoring.cards.card import PlayedOut
from marram.store.contents import written
from marram.store.kept_rows import Hand, Kind, Writing
from marram.store.open_store import Store

_CHOSEN = {"first": 0, "second": 1, "none": None}


def read_two(event: KeptEvent, player: str, number: int, hole: int, texts: tuple[str, str], chosen: str, *, is_reported: bool) -> KeptBalls:
    """Read what is said of two balls.

    Args:
        event: The event.
        player: The player.
        number: Number of the round.
        hole: The hole.
        texts: The score of each ball, or with it whether its procedure is allowed: ``5``, or ``6 not-allowed+2``.
        chosen: ``first``, ``second`` or ``none``.
        is_reported: Whether the facts were reported before the card was returned.

    Raises:
        EventError: A ball cannot be read, one is decided and the other is not, or there is no such player, round or hole.
    """
    refuse_round(event, number)
    holes = event.terms.terms.tee_of(entry_of(event, player).tee).holes
    if not 1 <= hole <= holes:
        raise EventError(f"There is no hole {hole}: a round has {holes}.", where=event.name, hint="Give the hole that was played with two.")
    read = [read_ball(text) for text in texts]
    bad = next((text for text, ball in zip(texts, read, strict=True) if ball is None), None)
    if bad is not None:
        hint = "Give its score, as 5; and once it is decided 5 allowed, 6 not-allowed+2 or 6 serious."
        raise EventError(f"{bad!r} tells nothing of a ball.", where=event.name, hint=hint)
    first, second = (ball for ball in read if ball is not None)
    if isinstance(first, PlayedOut) != isinstance(second, PlayedOut):
        told = "Of one ball it is decided whether its procedure is allowed, and of the other not."
        raise EventError(told, where=event.name, hint="Decide of both, or give the scores alone.")
    decided = (first, second) if isinstance(first, PlayedOut) and isinstance(second, PlayedOut) else None
    scores = tuple(ball.strokes if isinstance(ball, PlayedOut) else ball for ball in (first, second))
    return KeptBalls(
        player=entry_of(event, player).player,
        hole=hole,
        scores=(scores[0], scores[1]),
        round=number,
        chosen=_CHOSEN[chosen],
        is_reported=is_reported,
        decided=decided,
    )


def keep_balls(store: Store, hand: Hand, event: KeptEvent, kept: KeptBalls, reason: str = "", *, after_closing: str = "") -> KeptBalls:
    """Keep both scores of a hole, or what the Committee decided of them.

    Args:
        store: The store.
        hand: Who does it.
        event: The event.
        kept: The two balls.
        reason: Why what stands is put right or decided; empty for a new one.
        after_closing: What is put right after the event was closed; empty before.

    Raises:
        EventError: They are kept already and no reason is given.
    """
    before = event.number_of(Kind.BALLS, kept.key)
    if before is not None:
        need_reason(reason, ["both balls are kept already"])
    row = Writing(kind=Kind.BALLS, key=kept.key, content=written(kept), reason=reason, supersedes=before)
    write_rows(store, hand, event, [row], after_closing=after_closing)
    return kept


def name_marker(store: Store, hand: Hand, event: KeptEvent, named: MarkerNamed) -> MarkerNamed:
    """Log that a player has no marker, or who marks from a hole on.

    Args:
        store: The store.
        hand: Who does it.
        event: The event.
        named: Player, marker and reason.

    Raises:
        EventError: The player has not entered, marks the own card, or no reason is given.
    """
    refuse_round(event, named.round)
    entry = entry_of(event, named.player)
    need_reason(named.why, ["it is not said why"])
    if plain_name(named.marker) == entry.key:
        raise EventError(f"{entry.player} cannot mark the own card.", where=event.name, hint="Name another.")
    named = replace(named, player=entry.player)
    key = f"{entry.key}|{named.round}"
    row = Writing(kind=Kind.MARKER, key=key, content=written(named), reason=named.why, supersedes=event.number_of(Kind.MARKER, key))
    write_rows(store, hand, event, [row])
    return named


def regroup_player(store: Store, hand: Hand, event: KeptEvent, move: Move, number: int, reason: str) -> StartingList:
    """Move a player to another group, to a new one, or off the starting list; also one who entered after the draw.

    Args:
        store: The store.
        hand: Who does it.
        event: The event.
        move: Who goes where.
        number: Number of the round.
        reason: Why.

    Raises:
        EventError: There are no starting times, no such player or group, it is full, or no reason is given.
    """
    starts, draw = event.start_lists.get(number), event.draws.get(number)
    if starts is None or draw is None:
        raise EventError("There are no starting times yet.", where=event.name, hint="Give times first.")
    need_reason(reason, ["starting times stand already"])
    entry = entry_of(event, move.player)
    if move.start_min is not None and not 1 <= move.hole <= event.terms.terms.tee_of(entry.tee).holes:
        raise EventError(f"There is no hole {move.hole}.", where=event.name, hint="Give the hole from which the group starts.")
    found = move_player(starts, replace(move, player=entry.player))
    key = round_key(number)
    rows = [
        Writing(kind=kind, key=key, content=written(value), reason=reason, supersedes=event.number_of(kind, key))
        for kind, value in ((Kind.DRAW, draw_as_regrouped(draw, found)), (Kind.TIMES, found))
    ]
    write_rows(store, hand, event, rows, seen=event.last)
    return found


def named_marker(player: str, marker: str, number: int, from_hole: int, why: str) -> MarkerNamed:
    """A marker as an official names one; none where the name is empty."""
    return MarkerNamed(player=player, marker=marker.strip(), round=number, from_hole=from_hole, why=why)


def move_of(player: str, to: int | None, start_min: int | None, hole: int) -> Move:
    """A move as an official says it: to a group, to a new one at a time, or off the list."""
    return Move(player=player, to=to, start_min=start_min, hole=hole)
