"""What an act leads to, as outsiders read it: in stroke play and match play, case by case, and what it turns on."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import fields
from typing import TYPE_CHECKING

import msgspec

from marram.answers.citation_answer import CitationShape, citation_shapes
from marram.answers.rules.reading_answer import ReadingShape
from marram.answers.rules.together_answer import TogetherShape
from marram.answers.shape import UNSET, Shape, UnsetType

if TYPE_CHECKING:
    from marram.rulebook.consequences import Consequence
    from marram.rulings.acts.acts import ActAnswer
    from marram.rulings.acts.turns import Turn


class CostShape(Shape, frozen=True, kw_only=True):
    """What a case leads to in stroke play, or in match play.

    Attributes:
        strokes: Penalty strokes; null where the amount is only that of other breaches.
        hole: What becomes of the hole in a match; empty where nothing does.
        disqualified: Whether the player is disqualified.
        who: Who bears it in a match; left out in stroke play.
        added: What comes on top of the strokes; left out where nothing does.
        allowed: False for what the Rules do not let a player do and state no penalty for; else left out.
        committee_may_disqualify: Whether the Committee may disqualify; left out where that is not in question.
        stroke: What becomes of the stroke.
        ball: What becomes of the ball.
        put_right: Until when it can, or must, be put right; empty where there is nothing to put right.
        put_right_last_hole: The same on the last hole; empty where the hole makes no difference.
    """

    strokes: int | None
    hole: str
    disqualified: bool
    who: str | UnsetType = UNSET
    added: str | UnsetType = UNSET
    allowed: bool | UnsetType = UNSET
    committee_may_disqualify: bool | UnsetType = UNSET
    stroke: str
    ball: str
    put_right: str
    put_right_last_hole: str


class CaseShape(Shape, frozen=True, kw_only=True):
    """One case of what an act leads to, as the rule data writes it: what is as usual is left out.

    Attributes:
        when: Facts that must all be true; left out in the last case.
        strokes: Penalty strokes in stroke play, where there are any.
        match_strokes: Penalty strokes in match play, where there are any.
        hole: What becomes of the hole in a match.
        who: Who bears it in a match, where it is not the player.
        out: Whom it disqualifies, and where.
        stroke: What becomes of the stroke, where it does not simply count.
        ball: What becomes of the ball.
        put_right: Until when it can, or must, be put right.
        match_stroke: What becomes of the stroke in match play, where that is something else.
        match_ball: What becomes of the ball in match play, where that is something else.
        only_in: The form of play in which it can happen at all, where it is one alone.
        per_hole: Whether it is counted for each hole.
        capped: False where what is counted for each hole does not stop at the cap for clubs.
        added: What comes on top.
        allowed: False for what the Rules do not let a player do and state no penalty for.
    """

    when: tuple[str, ...] | UnsetType = UNSET
    strokes: int | UnsetType = UNSET
    match_strokes: int | UnsetType = UNSET
    hole: str | UnsetType = UNSET
    who: str | UnsetType = UNSET
    out: str | UnsetType = UNSET
    stroke: str | UnsetType = UNSET
    ball: str | UnsetType = UNSET
    put_right: str | UnsetType = UNSET
    match_stroke: str | UnsetType = UNSET
    match_ball: str | UnsetType = UNSET
    only_in: str | UnsetType = UNSET
    per_hole: bool | UnsetType = UNSET
    capped: bool | UnsetType = UNSET
    added: str | UnsetType = UNSET
    allowed: bool | UnsetType = UNSET


class FactAskedShape(Shape, frozen=True, kw_only=True):
    """A fact that a verdict turns on.

    Attributes:
        fact: Name of the fact.
        question: The question that settles it.
    """

    fact: str
    question: str


class ThenShape(Shape, frozen=True, kw_only=True):
    """What an act leads to if what is asked is so.

    Attributes:
        stroke_play: In stroke play; null where it cannot happen there.
        match_play: In match play; null where it cannot happen there.
        stroke: What becomes of the stroke.
        ball: What becomes of the ball.
        put_right: Until when it can, or must, be put right; empty where there is nothing to put right.
        put_right_last_hole: The same on the last hole; empty where the hole makes no difference.
    """

    stroke_play: CostShape | None
    match_play: CostShape | None
    stroke: str
    ball: str
    put_right: str
    put_right_last_hole: str


class TurnShape(Shape, frozen=True, kw_only=True):
    """Something that a verdict turns on: what holds if the answer is yes.

    Attributes:
        act: Name of the act.
        fact: Name of the fact.
        question: The question that settles it.
        and: What must be so besides.
        then: What the act leads to if all of it is so.
        reads: How that reads in the form of play asked about; left out where none is.
    """

    act: str
    fact: str
    question: str
    and_: tuple[FactAskedShape, ...] = msgspec.field(name="and")
    then: ThenShape
    reads: ReadingShape | UnsetType = UNSET


class ActShape(Shape, frozen=True, kw_only=True):
    """What an act leads to under one book.

    Attributes:
        book: The book.
        stamp: Its stamp.
        act: Name of the act.
        means: What the act is.
        stroke_play: In stroke play; null where it cannot happen there, or no case is known.
        match_play: In match play; null where it cannot happen there, or no case is known.
        stroke: What becomes of the stroke; null where no case is known.
        ball: What becomes of the ball; null where no case is known.
        put_right: Until when it can, or must, be put right; null where no case is known.
        put_right_last_hole: The same on the last hole; null where no case is known.
        cases: All cases, in the order in which they are tried; the first whose facts are true holds.
        holds_unless: Facts not stated that would make an earlier case hold.
        depends_on: What the verdict turns on; of acts that are asked about together, what each turns on.
        depends_on_in: What it turns on in each of the two forms of play.
        why_none: Why there is no case; empty where there is one.
        advice: What the official tells besides; it decides nothing.
        cautions: What comes before anything else.
        citations: The rules.
        facts_not_read: Facts stated that the book does not read; left out where none can be stated.
        together: What all acts cost together; null where they cannot be added up, left out where there is nothing to add.
        together_why_not: Why they cannot be added up; left out where they can.
        reads: How it reads in the form of play asked about; left out where none is.
        each_reads: How each of several acts reads there; left out for one alone.
        also: The further acts, each by itself; left out where there are none.
    """

    book: str
    stamp: str
    act: str
    means: str
    stroke_play: CostShape | None
    match_play: CostShape | None
    stroke: str | None
    ball: str | None
    put_right: str | None
    put_right_last_hole: str | None
    cases: tuple[CaseShape, ...]
    holds_unless: tuple[str, ...]
    depends_on: tuple[TurnShape, ...]
    depends_on_in: dict[str, tuple[TurnShape, ...]]
    why_none: str
    advice: str
    cautions: tuple[str, ...]
    citations: tuple[CitationShape, ...]
    facts_not_read: tuple[str, ...] | UnsetType = UNSET
    together: TogetherShape | UnsetType | None = UNSET
    together_why_not: str | UnsetType = UNSET
    reads: ReadingShape | UnsetType = UNSET
    each_reads: tuple[ReadingShape, ...] | UnsetType = UNSET
    also: tuple[ActShape, ...] | UnsetType = UNSET


def act_shape(answer: ActAnswer) -> ActShape:
    """What an act leads to under one book."""
    case = answer.case
    return ActShape(
        book=answer.book,
        stamp=answer.stamp,
        act=answer.act,
        means=answer.means,
        stroke_play=None if case is None else _side(answer, case, is_match=False),
        match_play=None if case is None else _side(answer, case, is_match=True),
        stroke=None if case is None else case.stroke,
        ball=None if case is None else case.ball,
        put_right=None if case is None else case.put_right,
        put_right_last_hole=None if case is None else answer.last_hole_of(case.put_right),
        cases=tuple(map(_case, answer.cases)),
        holds_unless=answer.holds_unless,
        depends_on=turn_shapes(answer, answer.turns),
        depends_on_in={form.value: turn_shapes(answer, turns) for form, turns in answer.turns_in.items()},
        why_none=answer.why_none,
        advice=answer.advice,
        cautions=tuple(caution.value for caution in answer.cautions),
        citations=citation_shapes(answer.citations),
    )


def turn_shapes(answer: ActAnswer, turns: Iterable[Turn]) -> tuple[TurnShape, ...]:
    """What an act turns on, each with what it then leads to."""
    return tuple(_turn(answer, turn) for turn in turns)


def _turn(answer: ActAnswer, turn: Turn) -> TurnShape:
    (fact, *more), (question, *others), then = turn.facts, turn.questions, turn.then
    return TurnShape(
        act=answer.act,
        fact=fact,
        question=question,
        and_=tuple(FactAskedShape(fact=name, question=asked) for name, asked in zip(more, others, strict=True)),
        then=ThenShape(
            stroke_play=_side(answer, then, is_match=False),
            match_play=_side(answer, then, is_match=True),
            stroke=then.stroke,
            ball=then.ball,
            put_right=then.put_right,
            put_right_last_hole=answer.last_hole_of(then.put_right),
        ),
    )


def _side(answer: ActAnswer, case: Consequence, *, is_match: bool) -> CostShape | None:
    """What a case leads to in one form of play, with the time for putting it right on a last hole too."""
    told = case.in_match_play if is_match else case.in_stroke_play
    if told is None:
        return None
    after = case.after_in(is_match=is_match)
    return CostShape(
        strokes=told.strokes,
        hole=told.hole,
        disqualified=told.is_out,
        who=UNSET if told.who is None else told.who,
        added=told.added or UNSET,
        allowed=UNSET if told.is_allowed else False,
        committee_may_disqualify=True if told.committee_may else UNSET,
        stroke=after.stroke,
        ball=after.ball,
        put_right=after.put_right,
        put_right_last_hole=answer.last_hole_of(after.put_right),
    )


def _case(case: Consequence) -> CaseShape:
    """A case without what is as usual."""
    told = {entry.name: value for entry in fields(case) if (value := getattr(case, entry.name)) != entry.default}
    return CaseShape(**told)
