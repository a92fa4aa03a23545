"""Where two lists of cases lead to different things: for every combination of facts, not by how their cases are written."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace

from marram.rulebook.consequence_words import BallIs, PutRight
from marram.rulebook.consequences import Cases, Consequence
from marram.rulebook.facts import Facts

_UNSAID_BALL = BallIs.NONE
_PUT_RIGHT_BALLS = frozenset({BallIs.CORRECTED, BallIs.WRONG_BALL_CORRECTED})


def cases_that_differ(
    first: Cases, second: Cases, *, facts: Facts | None = None, never: Collection[str] = ()
) -> tuple[tuple[int, int], ...]:
    """Places of the cases of two lists that hold of the same facts and lead to different things; none where the lists say the same.

    Of two cases it is enough to look at the facts of both: further facts can only bring in earlier cases.

    Args:
        first: The first list.
        second: The second.
        facts: The catalogue of facts, by which facts that exclude each other are never true together.
        never: Facts that are not looked at.
    """
    found = []
    for here, one in enumerate(first):
        for there, other in enumerate(second):
            known = frozenset(one.when) | frozenset(other.when)
            if known & frozenset(never) or _excluded(known, facts or {}):
                continue
            if _holds(first, known) == here and _holds(second, known) == there and not lead_to_the_same(one, other):
                found.append((here, there))
    return tuple(found)


def facts_of(cases: Cases) -> frozenset[str]:
    """The facts that a list of cases reads."""
    return frozenset(name for case in cases for name in case.when)


def lead_to_the_same(one: Consequence, other: Consequence) -> bool:
    """Whether two cases lead to the same; what one of them leaves unsaid of the ball is no difference."""
    ball = _UNSAID_BALL if _UNSAID_BALL in {one.ball, other.ball} else None
    is_unsaid = one.ball == other.ball and one.ball in _PUT_RIGHT_BALLS and PutRight.NOTHING in {one.put_right, other.put_right}
    plain = [
        replace(
            case,
            when=(),
            ball=ball or case.ball,
            put_right=PutRight.NOTHING if is_unsaid else case.put_right,
        )
        for case in (one, other)
    ]
    return plain[0] == plain[1]


def _holds(cases: Cases, known: frozenset[str]) -> int:
    return next(place for place, case in enumerate(cases) if known.issuperset(case.when))


def _excluded(known: frozenset[str], facts: Mapping[str, object]) -> bool:
    return any(not known.isdisjoint(getattr(facts[name], "excludes", ())) for name in known if name in facts)
