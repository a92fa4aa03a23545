"""Results as lines of text: the place, the player, the result, what decided, and each charge with its rule."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import fill
from typing import TYPE_CHECKING

from marram.cli.common import rules_line
from marram.core.words import visible

if TYPE_CHECKING:
    from marram.core.citations import Citation
    from marram.scoring.forms.card_score import CardScore
    from marram.scoring.forms.charges import Charge
    from marram.scoring.forms.returned_card import CardDecision
    from marram.scoring.matches.match_score import MatchScore
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
    for match in results.matches:
        yield from _match(match, with_holes=with_holes)
    for ranked in results.ranked if not results.matches else ():
        yield from _player(ranked, with_holes=with_holes)
    if results.tie_citations:
        yield _filled(f"Ties: {rules_line(results.tie_citations)}", "   ")


def _player(ranked: Ranked, *, with_holes: bool) -> Iterator[str]:
    placed = ranked.placed
    place = "-" if placed is None else f"{placed.place}{'=' * placed.is_joint}"
    name = visible(ranked.name)
    if placed is None:
        cited = f" {rules_line(ranked.citations)}" if ranked.citations else ""
        status = ranked.status.value.replace("-", " ")
        why = ranked.words.removeprefix(status).removeprefix(": ")
        yield _filled(f"{place:>4}  {name:<{_NAME}} {status}{': ' * bool(why)}{why}{cited}", "")
    else:
        decided = f"  {_decided(placed)}" if placed.compared or placed.is_joint else ""
        yield f"{place:>4}  {name:<{_NAME}} {ranked.words}{decided}".rstrip()
    yield from _charged(ranked.charges, ranked.decisions)
    for one in ranked.rounds:
        yield from _card(one) if with_holes else ()


def _decided(placed: Placed) -> str:
    """What decided between equal results: the step last, with what was equal before it."""
    from marram.answers.scores.score_answer import value_words

    told = [f"{one.step} {value_words(one.value)}" for one in placed.compared]
    if placed.is_joint:
        return f"joint ({', '.join(told)})" if told else "joint"
    return f"{told[-1]} ({', '.join(told[:-1])})" if told[:-1] else told[-1]


def _charged(charges: tuple[Charge, ...], decisions: tuple[CardDecision, ...]) -> Iterator[str]:
    for charge in charges:
        already = ", in the score already" if charge.is_in_score else ""
        ruling = f" (ruling {charge.ruling})" if charge.ruling else ""
        at = f"hole {charge.hole}: " if charge.hole is not None and "hole" not in charge.says else ""
        yield _filled(f"{at}{charge.says}{already}{ruling} {_rules(charge.citations)}".rstrip(), "         ")
    for decision in decisions:
        at = f"hole {decision.hole}: " if decision.hole is not None else ""
        ruling = f" (ruling {decision.ruling})" if decision.ruling else ""
        yield _filled(f"{at}{decision.says}{ruling} {_rules(decision.citations)}".rstrip(), "         ")


def _card(one: CardScore) -> Iterator[str]:
    if one.strokes.says:
        yield _filled(one.strokes.says, "         ")
    for hole in one.holes:
        shown = "-" if hole.strokes is None else str(hole.strokes)
        value = "-" if hole.value is None else str(hole.value)
        stop = f"   stop after {hole.stop_after}" if hole.may_stop else ""
        yield f"         {hole.hole:>2}  par {hole.par}  received {hole.received:>2}  strokes {shown:>2}  counts {value:>3}{stop}"


def _match(match: MatchScore, *, with_holes: bool) -> Iterator[str]:
    course, (first, second) = match.course, map(visible, match.sides)
    named = f"{visible(match.match)}: " if match.match else ""
    winner = {1: first, -1: second}.get(course.winner, "")
    leader = {1: first, -1: second}.get((course.states[-1].lead > 0) - (course.states[-1].lead < 0), "") if course.states else ""
    how = course.result if course.winner or not leader else f"{leader} {course.result}"
    yield _filled(f"   {named}{first} v {second}   {f'{winner} wins, ' * bool(winner)}{how} {_rules(match.citations)}", "")
    for ball in match.balls:
        holes = ", ".join(str(hole) for hole, strokes in enumerate(ball.by_hole, start=1) for _ in range(strokes))
        if ball.received:
            yield _filled(f"{visible(ball.name)} receives {ball.received}: holes {holes}", "         ")
        yield from _charged(ball.charges, ())
        for given, judged in ball.conceded:
            stands = "concedes" if judged.stands else "does not concede"
            at = f" {given.hole}" if given.hole is not None else ""
            yield _filled(
                f"{visible(ball.name)} {stands} the {given.what.value}{at}: {judged.says} {_rules(judged.citations)}", "         "
            )
        if ball.declared is not None:
            yield _filled(f"{visible(ball.name)}: {ball.declared.says} {_rules(ball.declared.citations)}", "         ")
    for hole in match.holes if with_holes else ():
        state = course.states[hole.played - 1]
        won = {1: first, -1: second}.get(hole.won.outcome, "tied")
        leads = {True: first, False: second}[state.lead > 0] + " " if state.lead else ""
        yield f"         {hole.played:>2}  {won}   {leads}{state.words}"


def _rules(citations: tuple[Citation, ...]) -> str:
    return rules_line(citations) if citations else ""


def _filled(told: str, indent: str) -> str:
    return fill(told, width=_WIDTH, initial_indent=indent, subsequent_indent=indent + "      ", break_on_hyphens=False)
