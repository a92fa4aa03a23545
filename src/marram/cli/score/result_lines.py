"""Results as lines of text: the place, the player, the result, what decided, and each charge with its rule."""

from __future__ import annotations

import re
from collections.abc import Iterator
from textwrap import fill
from typing import TYPE_CHECKING

from marram.cli.common import rules_once_line
from marram.core.words import visible

if TYPE_CHECKING:
    from marram.scoring.forms.card_score import CardScore
    from marram.scoring.forms.charges import Charge
    from marram.scoring.forms.returned_card import CardDecision
    from marram.scoring.matches.match_score import Ball, MatchScore
    from marram.scoring.ranked import Ranked, Results
    from marram.scoring.ties.placing import Placed

_WIDTH, _NAME = 100, 28


def result_lines(results: Results, form: str, *, with_holes: bool) -> Iterator[str]:
    """The results under a book.

    Args:
        results: The results.
        form: The form of play.
        with_holes: Whether every hole is shown.
    """
    yield f"{results.book}  [{results.stamp}]  {form}"
    if results.why_none:
        yield _filled(f"There is no such form here: {results.why_none}.", "   ")
    for remark in results.remarks:
        yield _filled(remark, "   ")
    for match in results.matches:
        yield from _match(match, with_holes=with_holes)
    for ranked in results.ranked if not results.matches else ():
        yield from player_lines(ranked, with_holes=with_holes)
    if results.tie_citations:
        yield _filled(f"Ties: {rules_once_line(results.tie_citations)}", "   ")


def player_lines(ranked: Ranked, *, with_holes: bool) -> Iterator[str]:
    """A player or side in the results.

    Args:
        ranked: The player or side.
        with_holes: Whether every hole is shown.
    """
    placed = ranked.placed
    place = "-" if placed is None else f"{placed.place}{'=' * placed.is_joint}"
    name = visible(ranked.name)
    lines = _charged(ranked)
    if placed is None:
        why = _out_of(ranked, lines)
        status = ranked.status.value.replace("-", " ")
        yield _filled(f"{place:>4}  {name:<{_NAME}} {status}{': ' * bool(why)}{why}".rstrip(), "")
    else:
        decided = f"  {_decided(placed)}" if placed.compared or placed.is_joint else ""
        yield f"{place:>4}  {name:<{_NAME}} {ranked.words}{decided}".rstrip()
    yield from (_filled(line, "         ") for _, line in lines)
    for one in ranked.rounds:
        yield from _card(one) if with_holes else ()


def _out_of(ranked: Ranked, lines: list[tuple[Charge | CardDecision, str]]) -> str:
    """Why there is no result: the line of what disqualified, which is then not told again below; else what the results say of it."""
    out = next((place for place, (one, _) in enumerate(lines) if _is_out(one) and _is_why(one, ranked)), None)
    if out is not None:
        return lines.pop(out)[1].replace(": disqualified", "", 1)
    status = ranked.status.value.replace("-", " ")
    return f"{ranked.words.removeprefix(status).removeprefix(': ')} {rules_once_line(ranked.citations)}".strip()


def _is_why(one: Charge | CardDecision, ranked: Ranked) -> bool:
    """Whether it is the reason for having no result: of a side, a partner may be disqualified alone."""
    return one.says in ranked.words and (one.player == ranked.name or one.player in ranked.words)


def _is_out(one: Charge | CardDecision) -> bool:
    return getattr(one, "is_out", False) or getattr(one, "charged", "") == "disqualified"


def _decided(placed: Placed) -> str:
    """What decided between equal results: the step last, with what was equal before it."""
    from marram.answers.scores.score_answer import value_words

    told = [f"{one.step} {value_words(one.value)}" for one in placed.compared]
    if placed.is_joint:
        return f"joint ({', '.join(told)})" if told else "joint"
    return f"{told[-1]} ({', '.join(told[:-1])})" if told[:-1] else told[-1]


def _charged(ranked: Ranked) -> list[tuple[Charge | CardDecision, str]]:
    """What was charged and decided, each with its line: whom, which round and which hole it touches, where that is not plain."""
    of_rounds = max((one.card.round for one in ranked.rounds), default=1) > 1
    told: list[Charge | CardDecision] = [*ranked.charges, *ranked.decisions]
    return [(one, _line(one, name=ranked.name, of_rounds=of_rounds)) for one in told]


def _line(one: Charge | CardDecision, *, name: str, of_rounds: bool) -> str:
    already = ", in the score already" if getattr(one, "is_in_score", False) else ""
    ruling = f" (ruling {one.ruling})" if one.ruling else ""
    is_said = one.hole is None or re.search(rf"\bhole {one.hole}\b", one.says)
    who = visible(one.player) if one.player not in {"", name} else ""
    at = ", ".join(filter(None, (who, f"round {one.round}" * of_rounds, "" if is_said else f"hole {one.hole}")))
    return f"{at}{': ' * bool(at)}{one.says}{already}{ruling} {rules_once_line(one.citations)}".rstrip()


def _card(one: CardScore) -> Iterator[str]:
    if one.strokes.says:
        yield _filled(one.strokes.says, "         ")
    for hole in one.holes:
        shown = "-" if hole.strokes is None else str(hole.strokes)
        value = "-" if hole.value is None else str(hole.value)
        stop = f"   stop after {hole.stop_after}" if hole.may_stop else "" if hole.does_count else "   does not count"
        yield f"         {hole.hole:>2}  par {hole.par}  received {hole.received:>2}  strokes {shown:>2}  counts {value:>3}{stop}"


def _match(match: MatchScore, *, with_holes: bool) -> Iterator[str]:
    course, (first, second) = match.course, map(visible, match.sides)
    named = f"{visible(match.match)}: " if match.match else ""
    winner = {1: first, -1: second}.get(course.winner, "")
    leader = {1: first, -1: second}.get((course.states[-1].lead > 0) - (course.states[-1].lead < 0), "") if course.states else ""
    how = f"{winner} wins, {course.told}" if winner else f"{leader} {course.told}".lstrip() if course.ended == "not-over" else course.told
    yield _filled(f"   {named}{first} v {second}   {how} {rules_once_line(match.citations)}".rstrip(), "")
    for ball in match.balls:
        yield from (_filled(line, "         ") for line in _ball(ball))
    for hole in match.holes if with_holes else ():
        state = course.states[hole.played - 1]
        won = {1: first, -1: second}.get(hole.won.outcome, "tied")
        leads = {True: first, False: second}[state.lead > 0] + " " if state.lead else ""
        yield f"         {hole.played:>2}  {won}   {leads}{state.words}"


def _ball(ball: Ball) -> Iterator[str]:
    """What is told of a ball of a match: strokes received, what it was charged, what was conceded and declared."""
    name = visible(ball.name)
    if ball.received:
        holes = ", ".join(str(hole) for hole, strokes in enumerate(ball.by_hole, start=1) for _ in range(strokes))
        yield f"{name} receives {ball.received}: holes {holes}"
    yield from (_line(charge, name="", of_rounds=False) for charge in ball.charges)
    for given, judged in ball.conceded:
        stands = "concedes" if judged.stands else "does not concede"
        what = f"hole {given.hole}" if given.what == "hole" else f"the {given.what.value}"
        at = f" on hole {given.hole}" if given.what == "stroke" else ""
        yield f"{name} {stands} {what}{at}: {judged.says} {rules_once_line(judged.citations)}"
    if ball.declared is not None:
        yield f"{name}: {ball.declared.says} {rules_once_line(ball.declared.citations)}"


def _filled(told: str, indent: str) -> str:
    return fill(told, width=_WIDTH, initial_indent=indent, subsequent_indent=indent + "      ", break_on_hyphens=False)
