"""Who answered, as sentences: how many of each kind of player, what they say weighted to who was asked, what the silent could turn."""

from __future__ import annotations

from collections.abc import Iterator

from marram.evidence.weighing.response import QuestionResponse
from marram.evidence.weighing.weighting import FEWEST_IN_A_CELL
from marram.records.outcomes import Weighing
from marram.records.rows import Arm

LEAST_RESPONSE = 0.5
"""Where fewer than so many of those asked answer, a kind of player is named (common practice)."""
_MOST_KINDS = 12


def asked_words(response: QuestionResponse) -> str:
    """The question that was put to players."""
    asked = f"“{response.question}”" if response.question else response.outcome.means.rstrip(".").partition(":")[0]
    return asked if response.arm is Arm.TRIAL else f"{asked}, on ordinary days"


def kinds_words(response: QuestionResponse) -> tuple[str, ...]:
    """How many of each kind of player were heard from, of how many; of many kinds the first."""
    told = [f"{one.kind}: {one.asked - one.silent} of {one.asked}" for one in response.kinds[:_MOST_KINDS]]
    more = len(response.kinds) - len(told)
    return (*told, *([f"and {more} more"] if more else []))


def what_is_shared(response: QuestionResponse) -> str:
    """What a share of the answers is a share of."""
    return "say yes" if response.outcome.kind is Weighing.SHARE else "give one of the two best of five"


def response_sentence(response: QuestionResponse) -> str:
    """Who answered one question, and what that says of all who were asked."""
    asked, answered, not_met, silent = (
        sum(getattr(one, part) for one in response.kinds) for part in ("asked", "answered", "did_not_meet", "silent")
    )
    not_theirs = f", {not_met} say that they did not meet it" if not_met else ""
    told = f"{asked_words(response)}: of {asked} asked {answered} answered{not_theirs}, and {silent} said nothing"
    told += f" (heard from, of {'; '.join(kinds_words(response))})."
    share = response.share
    if share is None:
        return told
    ends = share.interval95
    return (
        f"{told} {share.unweighted:.0%} of the answers {what_is_shared(response)}; weighted to who was asked {share.estimate:.0%} (95 %: "
        f"{ends.low:.0%} to {ends.high:.0%}); {share.if_silent_said_no:.0%} if all who said nothing had said the worst, "
        f"{share.if_silent_said_yes:.0%} if the best."
    )


def response_warnings(response: QuestionResponse) -> tuple[str, ...]:
    """Kinds of player of whom none, too few or fewer than half were heard from."""
    return tuple(_warnings(response))


def _warnings(response: QuestionResponse) -> Iterator[str]:
    for one in response.kinds:
        heard_from = one.asked - one.silent
        if not one.asked:
            continue
        if not heard_from:
            yield f"Of {one.kind} nobody said anything, of {one.asked} asked: others stand for them, who may think otherwise."
        elif heard_from < LEAST_RESPONSE * one.asked:
            yield f"Of {one.kind} fewer than half were heard from, {heard_from} of {one.asked}: weights cannot put that right."
        elif one.answered < FEWEST_IN_A_CELL and len(response.kinds) > 1 and response.share is not None:
            yield f"Of {one.kind} {one.answered} answered, too few to weigh alone: they are taken together with others."
