"""Results as they hang out: lists of places with what decided each, charges with their rules, and who is in no place."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import groupby

from marram.core.citations import rules_words
from marram.core.terms import Form
from marram.core.words import counted
from marram.events.event_results import PlaceList
from marram.events.knockout.match_bracket import MatchBracket
from marram.handicaps.written_handicaps import tell_handicap
from marram.office.events.event_standing import EventStanding, stand_of
from marram.office.events.further_tables import further_tables
from marram.office.events.kept_event import KeptEvent
from marram.scoring.cards.card import CardStatus
from marram.scoring.competition.terms_of_competition import Terms
from marram.scoring.forms.charges import Charge
from marram.scoring.forms.returned_card import CardDecision
from marram.scoring.ranked import Ranked
from marram.scoring.ties.countback import step_words
from marram.sheets.pages.event_sheets import EventHead, PlaceLine, PlaceTable, ResultSheets

_MOST_STEPS, _MOST_ROUNDS = 5, 4
_STATES = {
    CardStatus.DID_NOT_START: "Did not start",
    CardStatus.WITHDRAWN: "Withdrew",
    CardStatus.NOT_RETURNED: "Card not returned",
    CardStatus.DISQUALIFIED: "Disqualified",
    CardStatus.RETURNED: "No result",
    CardStatus.CONCEDED: "Conceded",
    CardStatus.MISSED_CUT: "Missed the cut",
}
_STATES_SAID = {
    "provisional": "They are final when the Committee says so.",
    "final": "The Committee has not closed the event yet.",
    "closed": "Only a mistake of the Committee, or what the Rules still disqualify for, is put right now.",
}
_AWAITED = "Card not in"
_SCORE_HEADS = {Form.STABLEFORD: "Points", Form.PAR_BOGEY: "Result"}


def print_results(event: KeptEvent, head: EventHead, after: int | None = None) -> ResultSheets:
    """The results as they hang out.

    Args:
        event: The event.
        head: What stands at their head.
        after: The round after which results are wanted; None for how they stand now.

    Raises:
        EventError: No card is in.
        CardError: A card cannot be scored.
    """
    stands = stand_of(event, after)
    without = tuple(_without(stands))
    count = len(_not_in(stands)) + sum(told != _AWAITED for told, _ in without)
    return ResultSheets(
        head=head,
        state=stands.state.capitalize(),
        state_says=_state_words(stands),
        tables=(
            *(_table(stands.terms, one) for one in stands.found.lists if _has_places(one)),
            *further_tables(stands.found.teams, stands.bracket),
        ),
        without=without,
        without_count=f"{count} of {stands.entered}",
        foot=tuple(_foot(stands)),
    )


def _has_places(one: PlaceList) -> bool:
    return any(ranked.placed is not None for ranked in one.ranked)


def _state_words(stands: EventStanding) -> str:
    out = len({player for player, _ in stands.found.not_in})
    cards = f"{counted(out, 'card')} still out. " if out else "Every card is in. "
    if stands.bracket is not None:
        cards = f"{stands.bracket.winner} won. " if stands.bracket.winner else _open_words(stands.bracket)
    after = f"As it stood after round {stands.after_round}. " if stands.after_round is not None else ""
    return "".join((after, cards, _STATES_SAID[stands.state], *(f" {told}" for told in stands.decided)))


def _open_words(bracket: MatchBracket) -> str:
    """How many matches can be played now."""
    count = len(bracket.open)
    return f"{count} match{'es' * (count != 1)} to be played now. "


def _foot(stands: EventStanding) -> Iterator[str]:
    if stands.found.results.tie_citations:
        yield f"Ties: {rules_words(stands.found.results.tie_citations)}."
    yield f"Each place and each charge can be looked up in the history of the event, stamp {stands.stamp}. Results are the Committee's."


def _table(terms: Terms, one: PlaceList) -> PlaceTable:
    placed = [ranked for ranked in one.ranked if ranked.placed is not None]
    steps = list(dict.fromkeys(found.step for ranked in placed if ranked.placed is not None for found in ranked.placed.compared))[
        :_MOST_STEPS
    ]
    lines: list[PlaceLine] = []
    is_match = terms.form is Form.MATCH_PLAY
    for _, equal in groupby(placed, key=lambda ranked: ranked.match if is_match else ranked.total):
        group = list(equal)
        after = next((ranked for ranked in placed[len(lines) + len(group) :]), None)
        alone = _alone(terms, group[0], after) if len(group) == 1 and not is_match else ""
        lines += [_line(terms, one, group, place, steps, alone) for place in range(len(group))]
    scores = "Net" if one.is_net else "Gross"
    ties = ", ".join(map(step_words, terms.ties.steps)) or "stand"
    is_strokes = terms.form in {Form.STROKE_PLAY, Form.MAXIMUM_SCORE}
    if is_match:
        return PlaceTable(title="Matches", about=scores.lower(), heads=(), score_head="Result", step_heads=(), lines=tuple(lines))
    return PlaceTable(
        title=f"{one.division}, {scores.lower()}" if one.division else scores,
        about=f"{counted(len(placed), 'place')}. Ties: {ties}",
        heads=(*_round_heads(terms), *_heads(one, is_strokes=is_strokes)),
        score_head=scores if is_strokes else _SCORE_HEADS.get(terms.form, "Result"),
        step_heads=tuple(steps),
        lines=tuple(lines),
    )


def _round_heads(terms: Terms) -> tuple[str, ...]:
    """A head for each of several rounds, as long as they find room."""
    rounds = range(1, terms.rounds + 1)
    return (
        tuple(f"Round {number}" for number in rounds if not terms.counted.is_cancelled(number)) if 1 < len(rounds) <= _MOST_ROUNDS else ()
    )


def _by_round(terms: Terms, ranked: Ranked) -> tuple[str, ...]:
    """What a player scored in each of several rounds."""
    scored = {one.card.round: one.total for one in ranked.rounds}
    numbers = [int(head.rpartition(" ")[2]) for head in _round_heads(terms)]
    return tuple("" if scored.get(number) is None else str(scored[number]) for number in numbers)


def _heads(one: PlaceList, *, is_strokes: bool) -> tuple[str, ...]:
    if not one.is_net:
        return ()
    return ("Gross", "Gets") if is_strokes else ("Gets",)


def _line(terms: Terms, one: PlaceList, group: Sequence[Ranked], place: int, steps: Sequence[str], alone: str) -> PlaceLine:
    ranked = group[place]
    placed = ranked.placed
    assert placed is not None
    values = {found.step: found.value for found in placed.compared}
    decider = next((number for number, step in enumerate(steps) if step == placed.decided_by), None)
    bracket = "" if len(group) == 1 else "first" if place == 0 else "last" if place == len(group) - 1 else "middle"
    return PlaceLine(
        place=str(placed.place),
        player=ranked.name,
        figures=(*_by_round(terms, ranked), *_figures(terms, one, ranked)),
        score=_score(terms, ranked),
        steps=tuple(value_text(values[step]) if step in values else "" for step in steps),
        decider=decider,
        decided=alone or (f"match {ranked.match}" if ranked.match else _decided(group, place)),
        charges=tuple(_charges(ranked)),
        bracket=bracket,
    )


def _alone(terms: Terms, ranked: Ranked, after: Ranked | None) -> str:
    """How far ahead the winner is; of others that nobody has the same result."""
    assert ranked.placed is not None
    if ranked.placed.place > 1 or after is None or ranked.total is None or after.total is None:
        return f"alone on {_score(terms, ranked)}"
    unit = {Form.STABLEFORD: "point", Form.PAR_BOGEY: "hole"}.get(terms.form, "stroke")
    return f"{counted(abs(ranked.total - after.total), unit)} clear"


def _figures(terms: Terms, one: PlaceList, ranked: Ranked) -> tuple[str, ...]:
    if not one.is_net or terms.form is Form.MATCH_PLAY:
        return ()
    gets = tell_handicap(sum(round_.strokes.total for round_ in ranked.rounds))
    gross = [round_.gross for round_ in ranked.rounds]
    known = [strokes for strokes in gross if strokes is not None]
    is_strokes = terms.form in {Form.STROKE_PLAY, Form.MAXIMUM_SCORE}
    return (str(sum(known)) if len(known) == len(gross) else "", gets) if is_strokes else (gets,)


def _score(terms: Terms, ranked: Ranked) -> str:
    if terms.form in {Form.STROKE_PLAY, Form.MAXIMUM_SCORE} and not terms.is_told_against_par:
        return str(ranked.total)
    return ranked.words.replace(": ", " ").removesuffix(" points").removesuffix(" point")


def _decided(group: Sequence[Ranked], place: int) -> str:
    """What decided a place: alone, a step with the figure of the next one beside it, or nothing."""
    placed = group[place].placed
    assert placed is not None
    if placed.is_joint:
        return "joint: equal in every step" if placed.compared else "joint"
    if not placed.compared:
        return ""
    last = placed.compared[-1]
    after = group[place + 1].placed if place + 1 < len(group) else None
    beside = next((found.value for found in (after.compared if after is not None else ()) if found.step == last.step), None)
    against = f" against {value_text(beside)}" if beside is not None else ""
    return f"{last.step}: {value_text(last.value)}{against}"


def _charges(ranked: Ranked) -> Iterator[str]:
    told: tuple[Charge | CardDecision, ...] = (*ranked.charges, *ranked.decisions)
    for charge in told:
        ruling = f", ruling {charge.ruling}" if charge.ruling else ""
        is_said = charge.hole is None or re.search(rf"\bhole {charge.hole}\b", charge.says)
        at = "" if is_said else f"hole {charge.hole}: "
        cited = f" [{rules_words(charge.citations)}]" if charge.citations else ""
        yield f"{at}{charge.says}{ruling}{cited}"


def value_text(value: Fraction) -> str:
    """A figure of a step, to two decimals where it has a part of a stroke.

    Args:
        value: The figure.
    """
    return str(value.numerator) if value.denominator == 1 else f"{float(value):.2f}"


def _not_in(stands: EventStanding) -> list[str]:
    """Players, or sides, whose card is awaited."""
    return list(dict.fromkeys(player for player, _ in stands.found.not_in))


def _without(stands: EventStanding) -> Iterator[tuple[str, str]]:
    out = _not_in(stands)
    if out:
        yield _AWAITED, "; ".join(out)
    for ranked in stands.found.lists[0].ranked:
        if ranked.placed is None:
            status = _STATES[ranked.status]
            why = ranked.words.removeprefix(ranked.status.value.replace("-", " ")).removeprefix(": ")
            cited = f" [{rules_words(ranked.citations)}]" if ranked.citations else ""
            yield status, f"{ranked.name}{': ' * bool(why)}{why}{cited}"
