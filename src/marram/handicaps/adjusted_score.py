"""From strokes to a score for handicap: the most that a hole counts, holes not played, holes not finished."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from marram.core.errors import HandicapError
from marram.handicaps.rules.score_rules import HoleLimitRules, HolesNotPlayedRules, MostLikelyRules
from marram.handicaps.strokes_on_holes import FULL_ROUND, HALF_ROUND, places_in_order, strokes_by_hole, strokes_on_hole
from marram.rulebook.handicap_words import FilledBy, PlusGivesFrom

_INCHES_IN_A_YARD = 36


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleCard:
    """A hole as the card has it.

    Attributes:
        par: Its par.
        stroke_index: Its stroke index.
    """

    par: int
    stroke_index: int


class ScoreOf(StrEnum):
    """What so many holes played make."""

    EIGHTEEN = "a score of 18 holes"
    NINE = "a score of nine holes"
    NOTHING = "no score"


def net_double_bogey(par: int, strokes: int, course_handicap: int | None, rules: HoleLimitRules) -> int:
    """The most that a hole counts for handicap.

    Args:
        par: Par of the hole.
        strokes: Strokes received there of the full Course Handicap; below zero where one is given.
        course_handicap: The full Course Handicap, rounded; None where the player has no Index yet.
        rules: How the most is made up.

    Source:
        Rules of Handicapping 2020 and 2024, Rules 3.1a and 3.1b.
    """
    if course_handicap is None:
        return par + rules.no_index_over_par
    most = par + rules.over_par + strokes
    is_limited = course_handicap > rules.limited_above and strokes >= rules.limited_from
    return min(most, par + rules.limited_over_par) if is_limited else most


def hole_limits(
    holes: Sequence[HoleCard], course_handicap: int | None, rules: HoleLimitRules, plus_from: PlusGivesFrom = PlusGivesFrom.HIGHEST_INDEX
) -> tuple[int, ...]:
    """The most that each hole of a round counts, in the order of the holes.

    Args:
        holes: All holes of the round, 18 or nine.
        course_handicap: The full Course Handicap for these holes; None where the player has no Index yet.
        rules: How the most is made up.
        plus_from: Where a plus handicap gives its first stroke.

    Raises:
        HandicapError: The stroke indexes are no such list.
    """
    received = strokes_by_hole(course_handicap or 0, [hole.stroke_index for hole in holes], plus_from)
    return tuple(net_double_bogey(hole.par, strokes, course_handicap, rules) for hole, strokes in zip(holes, received, strict=True))


def adjusted_gross(gross: Sequence[int | None], limits: Sequence[int]) -> int:
    """The score for handicap: each hole as it was played, and no more than its limit.

    Args:
        gross: Strokes on each hole; None where the ball was picked up and counts the limit.
        limits: The most that each counts.

    Raises:
        HandicapError: There are more or fewer scores than holes, or one cannot be.

    Source:
        Rules of Handicapping 2020 and 2024, Rules 3.1 to 3.3.
    """
    if len(gross) != len(limits):
        raise HandicapError(f"There are {len(gross)} scores for {len(limits)} holes.", hint="Give one for each hole.")
    return sum(limit if score is None else min(score, limit) for score, limit in zip(gross, limits, strict=True))


def score_of(holes_played: int, holes_of_round: int, rules: HolesNotPlayedRules) -> ScoreOf:
    """What so many holes of a round make, the others being left out for a valid reason.

    Args:
        holes_played: Holes that were at least begun.
        holes_of_round: Holes that were to be played, nine or 18.
        rules: How many make a score.

    Source:
        Rules of Handicapping 2020 and 2024, Rule 2.2.
    """
    if holes_of_round > HALF_ROUND and holes_played >= rules.eighteen_least:
        return ScoreOf.EIGHTEEN
    return ScoreOf.NINE if holes_played >= rules.nine_least else ScoreOf.NOTHING


def holes_to_fill(holes_played: int, made: ScoreOf) -> int:
    """So many holes must be made up before so many played are the score that they make."""
    of_score = {ScoreOf.EIGHTEEN: FULL_ROUND, ScoreOf.NINE: HALF_ROUND, ScoreOf.NOTHING: 0}[made]
    return max(0, of_score - holes_played)


def entered_for_holes_not_played(
    holes: Mapping[int, HoleCard], not_played: Sequence[int], course_handicap: int, rules: HolesNotPlayedRules
) -> dict[int, int]:
    """What is entered for holes that were not played: net par, the first of them one more where the rules say so.

    Args:
        holes: All holes of the round by number.
        not_played: Numbers of those not played, in the order of play.
        course_handicap: The full Course Handicap.
        rules: What stands for holes not played.

    Raises:
        HandicapError: The rules enter no score, but take an expected differential; or the round has no such hole.

    Source:
        Rules of Handicapping 2020, Rule 3.2; Great Britain and Ireland guidance 2020.
    """
    if rules.filled_by is not FilledBy.NET_PAR:
        hint = "The differential of the holes played is combined with it; how is not published, so state the differential."
        raise HandicapError("Holes not played take an expected differential here, and no score is entered.", hint=hint)
    missing = [number for number in not_played if number not in holes]
    if missing:
        raise HandicapError(f"There is no hole {missing[0]}.", hint=f"Expected holes out of {min(holes)} to {max(holes)}.")
    places = dict(zip(holes, places_in_order([hole.stroke_index for hole in holes.values()]), strict=True))
    entered = {number: holes[number].par + strokes_on_hole(course_handicap, places[number], len(holes)) for number in not_played}
    if not_played and len(holes) - len(not_played) < rules.first_one_more_below:
        entered[not_played[0]] += 1
    return entered


def most_likely_scores(strokes_taken: int, distance_yd: Fraction, rules: MostLikelyRules) -> tuple[int, ...]:
    """Scores that a hole begun and not finished may be given: strokes taken, and those most likely still needed.

    Args:
        strokes_taken: Strokes made and penalty strokes.
        distance_yd: Distance from the hole, yards.
        rules: Strokes that are added.

    Returns:
        The scores that may be chosen among; the lower of the one chosen and net double bogey counts.

    Source:
        Rules of Handicapping 2020 and 2024, Rule 3.3; 2024, 3.3/1.
    """
    if distance_yd * _INCHES_IN_A_YARD <= rules.near_in:
        least, most = rules.near, rules.near
    else:
        least, most = rules.middle if distance_yd <= rules.far_yd else rules.far
    return tuple(strokes_taken + more for more in range(least, most + 1))
