"""What an act leads to, as typed cases: a case holds where all its named facts are true, and the last holds without any."""

from __future__ import annotations

from dataclasses import dataclass, fields
from enum import StrEnum

import msgspec

from marram.rulebook.consequence_words import (
    ADDED_WORDS,
    BALL_WORDS,
    HOLE_IS_OVER,
    HOLE_WORDS,
    OUT_OF_MATCH_PLAY,
    OUT_OF_STROKE_PLAY,
    STROKE_COUNTS,
    STROKE_WORDS,
    Added,
    BallIs,
    BorneBy,
    HoleIs,
    OnlyIn,
    Out,
    PutRight,
    StrokeIs,
)

_COMMITTEE_MAY = "the Committee may disqualify"
_NOT_ALLOWED = "not allowed, without a stated penalty"


@dataclass(frozen=True, slots=True, kw_only=True)
class InForm:
    """What a case leads to in one form of play.

    Attributes:
        strokes: Penalty strokes; None where the amount is only that of other breaches.
        hole: What becomes of the hole.
        is_out: Whether the player is disqualified, be it from a net event.
        who: Who bears it in a match; None in stroke play.
        added: What comes on top.
        is_allowed: False for what the Rules do not let a player do and state no penalty for.
        committee_may: Whether the Committee may disqualify.
    """

    strokes: int | None
    hole: HoleIs
    is_out: bool
    who: BorneBy | None
    added: Added
    is_allowed: bool
    committee_may: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class After:
    """What becomes of stroke and ball, and until when it is put right."""

    stroke: StrokeIs
    ball: BallIs
    put_right: PutRight


@dataclass(frozen=True, slots=True, kw_only=True)
class Consequence:
    """One case of what an act leads to.

    Attributes:
        when: Facts that must all be true; none for the last case.
        strokes: Penalty strokes in stroke play.
        match_strokes: Penalty strokes in match play.
        hole: What becomes of the hole in a match; empty where nothing does.
        who: Who bears it in a match.
        out: Whether the player is disqualified.
        stroke: What becomes of the stroke.
        ball: What becomes of the ball.
        put_right: Until when it can, or must, be put right; empty where there is nothing to put right.
        match_stroke: What becomes of the stroke in match play; None where the same as in stroke play.
        match_ball: What becomes of the ball in match play; None where the same as in stroke play.
        only_in: The form of play in which it can happen at all; empty for both.
        per_hole: Whether it is counted for each hole.
        capped: Whether what is counted for each hole stops at the cap for clubs.
        added: What comes on top: the penalty that was left out, or the penalties of the breaches themselves.
        allowed: False for what the Rules do not let a player do and state no penalty for.
    """

    when: tuple[str, ...] = ()
    strokes: int = 0
    match_strokes: int = 0
    hole: HoleIs = HoleIs.NOTHING
    who: BorneBy = BorneBy.PLAYER
    out: Out = Out.NOT
    stroke: StrokeIs = StrokeIs.COUNTS
    ball: BallIs = BallIs.NONE
    put_right: PutRight = PutRight.NOTHING
    match_stroke: StrokeIs | None = None
    match_ball: BallIs | None = None
    only_in: OnlyIn = OnlyIn.BOTH
    per_hole: bool = False
    capped: bool = True
    added: Added = Added.NOTHING
    allowed: bool = True

    @property
    def in_stroke_play(self) -> InForm | None:
        """Strokes, hole and disqualification in stroke play, where no hole is lost; None where it cannot happen there."""
        if self.only_in is OnlyIn.MATCH_PLAY:
            return None
        is_out = self.out in OUT_OF_STROKE_PLAY or self.out is Out.NET_EVENT
        return self._in_form(strokes=self.strokes, hole=HoleIs.NOTHING, is_out=is_out, who=None)

    @property
    def in_match_play(self) -> InForm | None:
        """The same in match play, with who bears it."""
        if self.only_in is OnlyIn.STROKE_PLAY:
            return None
        return self._in_form(strokes=self.match_strokes, hole=self.hole, is_out=self.out in OUT_OF_MATCH_PLAY, who=self.who)

    def _in_form(self, *, strokes: int, hole: HoleIs, is_out: bool, who: BorneBy | None) -> InForm:
        """A form of play; the strokes are not told where the amount is only that of other breaches."""
        return InForm(
            strokes=None if self.added and not strokes else strokes,
            hole=hole,
            is_out=is_out,
            who=who,
            added=self.added,
            is_allowed=self.allowed,
            committee_may=self.out is Out.COMMITTEE_MAY,
        )

    def after_in(self, *, is_match: bool) -> After:
        """What becomes of stroke and ball, and until when it is put right, in match play or in stroke play; a lost hole is over."""
        if not is_match:
            return After(stroke=self.stroke, ball=self.ball, put_right=self.put_right)
        is_over = self.hole in HOLE_IS_OVER
        return After(
            stroke=self.match_stroke or self.stroke,
            ball=BallIs.NONE if is_over else self.match_ball or self.ball,
            put_right=PutRight.NOTHING if is_over or self.match_stroke else self.put_right,
        )

    def is_over_in(self, *, is_match: bool) -> bool:
        """Whether nothing is left to do after it: the player is out, or the hole of the match is lost or won."""
        if self.out in (OUT_OF_MATCH_PLAY if is_match else OUT_OF_STROKE_PLAY):
            return True
        return is_match and self.hole in HOLE_IS_OVER

    def in_words(self, *, is_stroke_in_question: bool) -> str:
        """The case as an official reads it out.

        Args:
            is_stroke_in_question: Whether the act makes a stroke or touches one: elsewhere nobody asks whether it counts.
        """
        if (self.match_stroke or self.match_ball) and not self.only_in:
            in_match = [self.match_play_words, *self._after_words(is_match=True)]
            return f"{', '.join([self.stroke_play_words, *self._after_words(is_match=False)])}; in match play {', '.join(in_match)}."
        after = self.after_words(is_match=False, is_stroke_in_question=is_stroke_in_question)
        return f"{self._cost_words}; {after}." if after else f"{self._cost_words}."

    def in_words_of(self, *, is_match: bool, is_stroke_in_question: bool) -> str:
        """The case as an official reads it out in one form of play; where nothing is left to do, nothing more is told.

        Args:
            is_match: Whether it is match play; else stroke play.
            is_stroke_in_question: Whether the act makes a stroke or touches one.
        """
        cost = self.match_play_words if is_match else self.stroke_play_words
        after = (
            "" if self.is_over_in(is_match=is_match) else self.after_words(is_match=is_match, is_stroke_in_question=is_stroke_in_question)
        )
        return f"{cost}; {after}." if after else f"{cost}."

    def after_words(self, *, is_match: bool, is_stroke_in_question: bool) -> str:
        """What becomes of stroke and ball, as it is told: that the stroke counts only where a stroke is in question."""
        told = [words for words in self._after_words(is_match=is_match) if is_stroke_in_question or words != STROKE_COUNTS]
        return ", ".join(told)

    @property
    def _cost_words(self) -> str:
        """What it costs: once where both forms agree, and only in the form in which it can happen."""
        if self.only_in:
            form, words = ("stroke", self.stroke_play_words) if self.only_in is OnlyIn.STROKE_PLAY else ("match", self.match_play_words)
            return f"in {form} play {words}"
        stroke, match = self.stroke_play_words, self.match_play_words
        return stroke if stroke == match else f"{stroke}, in match play {match}"

    @property
    def stroke_play_words(self) -> str:
        """What it costs in stroke play."""
        if self.only_in is OnlyIn.MATCH_PLAY:
            return "not in question"
        if self.out in OUT_OF_STROKE_PLAY:
            return "disqualified"
        if self.out is Out.NET_EVENT:
            return "disqualified from a net event"
        if self.out is Out.COMMITTEE_MAY:
            return _COMMITTEE_MAY
        if not self.allowed:
            return _NOT_ALLOWED
        if self.added:
            return self._added_words
        counts = {0: "no penalty", 1: "one penalty stroke", 2: "two penalty strokes"}
        each = " for each hole" if self.per_hole and self.strokes else ""
        return counts.get(self.strokes, f"{self.strokes} penalty strokes") + each

    @property
    def match_play_words(self) -> str:
        """What it costs in match play."""
        of = " (opponent)" if self.who is BorneBy.OPPONENT else ""
        if self.only_in is OnlyIn.STROKE_PLAY:
            return "not in question"
        if self.out in OUT_OF_MATCH_PLAY:
            return f"disqualified{of}"
        if self.out is Out.COMMITTEE_MAY:
            return _COMMITTEE_MAY
        if not self.allowed:
            return _NOT_ALLOWED
        if self.added:
            return self._added_words
        if self.hole:
            return HOLE_WORDS[self.hole] + (", for each such hole" if self.per_hole else "") + of
        if self.per_hole and not self.match_strokes:
            return "a hole deducted for each hole"
        each = " for each hole" if self.per_hole else ""
        return {0: "no penalty", 1: "one penalty stroke"}.get(self.match_strokes, f"{self.match_strokes} penalty strokes") + each + of

    @property
    def _added_words(self) -> str:
        own = f" and {self.strokes} penalty strokes" if self.strokes else ""
        return ADDED_WORDS[self.added] + own + (" for each hole" if self.per_hole else "")

    def _after_words(self, *, is_match: bool) -> tuple[str, ...]:
        """What becomes of the stroke and the ball, and until when it is put right."""
        after = self.after_in(is_match=is_match)
        ball = (BALL_WORDS[after.ball],) if BALL_WORDS[after.ball] else ()
        right = () if not after.put_right else (f"to be put right {after.put_right.replace('-', ' ')}",)
        return (STROKE_WORDS[after.stroke], *ball, *right)

    @property
    def words(self) -> str:
        """The case in short words."""
        said = [] if not self.when else [f"where {' and '.join(name.replace('_', ' ') for name in self.when)}:"]
        is_free = not (self.strokes or self.match_strokes or self.hole or self.out or self.added)
        said.append("" if not is_free else "no penalty" if self.allowed else _NOT_ALLOWED)
        said += [f"stroke play {self.strokes}"] if self.strokes else []
        said += [f"match play {self.match_strokes} ({self.who})"] if self.match_strokes else []
        said += [f"hole {self.hole} ({self.who})"] if self.hole else []
        said += [f"disqualified: {self.out}"] if self.out else []
        said += [self._added_words] if self.added else []
        said += [f"ball {self.ball}"] if self.ball is not BallIs.NONE else []
        return " ".join(word for word in said if word)


Cases = tuple[Consequence, ...]


def parse_cases(raw: object) -> Cases | None:
    """Read a list of cases; None where it is not one, or its last case asks for a fact."""
    if not isinstance(raw, list) or not raw:
        return None
    cases = [_parse(entry) for entry in raw]
    sound = tuple(case for case in cases if case is not None)
    if len(sound) != len(raw) or sound[-1].when or any(not case.when for case in sound[:-1]):
        return None
    return sound


def _parse(raw: object) -> Consequence | None:
    if not isinstance(raw, dict) or not set(raw) <= {entry.name for entry in fields(Consequence)}:
        return None
    try:
        case = msgspec.convert(raw, Consequence)
    except msgspec.ValidationError:
        return None
    return case if case.strokes >= 0 and case.match_strokes >= 0 and all(fact.strip() for fact in case.when) else None


def plain_cases(cases: Cases) -> list[dict[str, object]]:
    """The cases as JSON and TOML write them, without what is as usual."""
    usual = {entry.name: entry.default for entry in fields(Consequence)}
    return [{name: _plain(value) for name in usual if (value := getattr(case, name)) != usual[name]} for case in cases]


def _plain(value: object) -> object:
    if isinstance(value, tuple):
        return list(value)
    return value.value if isinstance(value, StrEnum) else value
