"""From Course Handicaps to what is played off: allowances, sides, different tees, strokes off the lowest."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from marram.core.errors import HandicapError
from marram.handicaps.rounding import Figure, rounded
from marram.handicaps.rules.playing_rules import PlayingHandicapRules
from marram.handicaps.tees import Tee
from marram.rulebook.handicap_words import TakenFrom, TeesDifferBy


def taken_from(course: Figure, rules: PlayingHandicapRules) -> Fraction:
    """The Course Handicap that an allowance is taken from: before it is rounded, or after."""
    return course.unrounded if rules.taken_from is TakenFrom.UNROUNDED_COURSE_HANDICAP else course.value


def playing_handicap(course: Figure, share: Fraction, rules: PlayingHandicapRules, *, added: Fraction | int = 0) -> Figure:
    """The Playing Handicap: a share of the Course Handicap, what the tees add, rounded once at the end.

    Args:
        course: Course Handicap.
        share: The allowance, as a share of one; it brings a plus handicap nearer to zero.
        rules: What becomes of a Course Handicap.
        added: What is added after the allowance because others play other tees.

    Source:
        Rules of Handicapping 2024, Rules 6.2a, 6.2a/1 (rounded once) and 6.2b.
    """
    return rounded(taken_from(course, rules) * share + added, rules.decimals)


def side_handicap(courses: Sequence[Figure], shares: Sequence[Fraction], rules: PlayingHandicapRules) -> Figure:
    """The Playing Handicap of a side: the shares of its players, the lowest first, added and rounded once.

    Args:
        courses: Course Handicap of each player, in any order.
        shares: Share of each, that of the lowest Course Handicap first.
        rules: What becomes of a Course Handicap.

    Raises:
        HandicapError: There are more or fewer players than shares.

    Source:
        Rules of Handicapping 2024, Rule 6.2a and Appendix C; that the side is rounded once is inferred from 6.2a.
    """
    if len(courses) != len(shares):
        raise HandicapError(f"There are {len(courses)} Course Handicaps.", hint=f"This format has {len(shares)} players on a side.")
    lowest_first = sorted(taken_from(course, rules) for course in courses)
    return rounded(sum((handicap * share for handicap, share in zip(lowest_first, shares, strict=True)), Fraction(0)), rules.decimals)


def off_lowest(handicaps: Sequence[int]) -> tuple[int, ...]:
    """Strokes received in a match: the lowest plays off zero, and the others receive the difference from it.

    Args:
        handicaps: Playing Handicaps; below zero for a plus handicap, who then gives nothing back.

    Source:
        Rules of Handicapping 2020 and 2024, Appendix C.
    """
    return tuple(handicap - min(handicaps) for handicap in handicaps)


def added_for_tees(tee: Tee, tees: Sequence[Tee], rules: PlayingHandicapRules) -> Fraction:
    """What a player's tees add where totals are compared: how far their par, or rating, lies above the lowest.

    Nothing is added in Stableford, par/bogey or where results are told against par; who asks knows the form.

    Args:
        tee: The player's tees.
        tees: All tees that are played, his own among them.
        rules: What is levelled between tees.

    Raises:
        HandicapError: A tee lacks what is levelled.

    Source:
        Rules of Handicapping 2020, Rule 6.2b, in a national translation (2021).
    """
    by_rating = rules.tees_differ_by is TeesDifferBy.COURSE_RATING
    levels = [each.course_rating if by_rating else each.par for each in (tee, *tees)]
    known = [Fraction(level) for level in levels if level is not None]
    if len(known) != len(levels):
        lacks = "Course Rating" if by_rating else "par"
        raise HandicapError(f"One of the tees has no {lacks}.", hint="Different tees are levelled by it where totals are compared.")
    return known[0] - min(known)
