"""What an act leads to, in lines: what decides is asked first, and no verdict stands above a question that overturns it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from marram.core.terms import Form
    from marram.rulings.acts.acts import ActAnswer

_DEPENDS = "It depends."
_THEN = " Then: "
_FIRST_YES = "It depends; the first yes decides."


def verdict_lines(answer: ActAnswer) -> list[str]:
    """What an act leads to under one book: one line, or the questions that decide with an answer for each.

    Args:
        answer: The answer; where it has no case, why it has none is told.
    """
    if answer.case is None:
        return [answer.why_none]
    last_hole = [answer.last_hole_words] if answer.last_hole_words else []
    if _is_asked_alike(answer):
        turns = ((turn.questions, answer.says(turn.then)) for turn in answer.turns)
        return [*asked_lines(turns, answer.says(answer.case)), *last_hole]
    return [*(line for form in answer.turns_in for line in _lines_in(answer, form)), *last_hole]


def _is_asked_alike(answer: ActAnswer) -> bool:
    """Whether both forms of play ask the same questions, or the act can happen in one of them only."""
    asked = {tuple(turn.facts for turn in turns) for turns in answer.turns_in.values()}
    return len(asked) == 1 or (answer.case is not None and bool(answer.case.only_in))


def _lines_in(answer: ActAnswer, form: Form) -> list[str]:
    """What the act leads to in one form of play, with the questions that decide there."""
    if answer.case is None:
        return []
    turns = ((turn.questions, answer.says_in(form, turn.then)) for turn in answer.turns_in[form])
    told = asked_lines(turns, answer.says_in(form, answer.case))
    return [f"In {form.words}: {told[0]}", *told[1:]]


def asked_lines(turns: Iterable[tuple[Sequence[str], str]], otherwise: str) -> list[str]:
    """A verdict with the questions that decide, each run of questions of one answer together."""
    told = list(_runs(turns))
    if not told:
        return [otherwise]
    if len(told) == 1 and _THEN not in told[0][1]:
        ((questions, yes),) = told
        no = "No" if questions.endswith("Yes") else "Otherwise"
        return [f"{_DEPENDS} {questions}: {yes} {no}: {otherwise}"]
    return [_FIRST_YES if len(told) > 1 else _DEPENDS, *(f"{questions}: {yes}" for questions, yes in told), f"Otherwise: {otherwise}"]


def _runs(turns: Iterable[tuple[Sequence[str], str]]) -> Iterator[tuple[str, str]]:
    """Questions with the answer that counts, and what it leads to.

    What asks for more than the question after it is told behind that question, since it comes up only once that is answered; that question
    then stands alone, or the exception would read as one to its neighbours too.
    """
    waiting: list[tuple[Sequence[str], str]] = []
    for (is_joint, yes), run in groupby(turns, key=lambda turn: (len(turn[0]) > 1, turn[1])):
        listed = [questions for questions, _ in run]
        if is_joint:
            waiting += [(questions, yes) for questions in listed]
            continue
        asked = [questions[0] for questions in listed]
        behind = [(more, then) for more, then in waiting if asked[0] in more]
        yield from ((_joint(more), then) for more, then in waiting if asked[0] not in more)
        waiting = []
        if behind:
            first = asked.pop(0)
            yield f"{first} Yes", yes + "".join(f"{_THEN}{_joint([one for one in more if one != first])}: {then}" for more, then in behind)
        if asked:
            yield f"{' '.join(asked)} {'Yes' if len(asked) == 1 else 'Yes to any'}", yes
    yield from ((_joint(more), then) for more, then in waiting)


def _joint(questions: Sequence[str]) -> str:
    """Questions that must all be answered with yes."""
    return f"{' And: '.join(questions)} {'Yes' if len(questions) == 1 else 'Yes to all'}"
