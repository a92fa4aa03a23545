"""The terms of a competition, as a Committee sets them beforehand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction

from marram.core.terms import Form
from marram.scoring.cards.tee import Tee
from marram.scoring.competition.counted_rounds import CountedRounds


class Sides(StrEnum):
    """Who plays together, and with how many balls."""

    INDIVIDUAL = "individual"
    FOURSOMES = "foursomes"
    THREESOMES = "threesomes"
    FOUR_BALL = "four-ball"
    BEST_BALL = "best-ball"
    THREE_BALL = "three-ball"
    GREENSOMES = "greensomes"
    BOTH_DRIVE_AND_SWAP = "both-drive-and-swap"
    SCRAMBLE = "scramble"
    BEST_OF = "best-of"


ONE_BALL = frozenset({Sides.FOURSOMES, Sides.THREESOMES, Sides.GREENSOMES, Sides.BOTH_DRIVE_AND_SWAP, Sides.SCRAMBLE})
"""Sides that return one score for a hole, off one handicap of the side."""


class SetAs(StrEnum):
    """How the maximum for a hole is set."""

    FIXED_NUMBER = "fixed-number"
    TIMES_PAR = "times-par"
    OVER_PAR = "over-par"
    NET_DOUBLE_BOGEY = "net-double-bogey"


@dataclass(frozen=True, slots=True, kw_only=True)
class Maximum:
    """The maximum for a hole.

    Attributes:
        set_as: How it is set.
        amount: The number, the times par, or the strokes over par; 2 for net double bogey.
    """

    set_as: SetAs
    amount: int = 2

    def of_hole(self, par: int, received: int) -> int:
        """The most strokes that count on a hole.

        Args:
            par: Par of the hole.
            received: Strokes received on it; below zero where they are given.
        """
        match self.set_as:
            case SetAs.FIXED_NUMBER:
                return self.amount
            case SetAs.TIMES_PAR:
                return self.amount * par
            case SetAs.OVER_PAR:
                return par + self.amount
            case SetAs.NET_DOUBLE_BOGEY:
                return par + self.amount + received


class Step(StrEnum):
    """Ways to decide between equal scores, in the order that the terms name them."""

    LAST_ROUND = "last-round"
    LAST_18 = "last-18"
    LAST_9 = "last-9"
    LAST_6 = "last-6"
    LAST_3 = "last-3"
    LAST_1 = "last-1"
    FIRST_9 = "first-9"
    FIRST_6 = "first-6"
    FIRST_3 = "first-3"
    FIRST_1 = "first-1"
    HOLE_BY_HOLE_BACK = "hole-by-hole-back"
    LOWER_HANDICAP = "lower-handicap"
    HIGHER_HANDICAP = "higher-handicap"
    PLAY_OFF = "play-off"
    LOT = "lot"


COUNTBACK = (Step.LAST_9, Step.LAST_6, Step.LAST_3, Step.LAST_1)
"""What the terms call countback."""


class Fractions(StrEnum):
    """What becomes of the part of a stroke in a share of the handicap."""

    KEPT = "kept"
    ROUNDED = "rounded"


class OverHoles(StrEnum):
    """How a net score is counted over some holes."""

    SHARE_OF_HANDICAP = "share-of-handicap"
    STROKES_AS_THEY_FALL = "strokes-as-they-fall"


class ParDifference(StrEnum):
    """What is done where players of one competition play from tees of different par."""

    HIGHER_PAR_RECEIVES = "higher-par-receives"
    LOWER_PAR_GIVES = "lower-par-gives"
    NOTHING = "nothing"


@dataclass(frozen=True, slots=True, kw_only=True)
class Ties:
    """How ties are decided.

    Attributes:
        steps: The steps, in order; none where a tie stands.
        fractions: What becomes of parts of strokes.
        counted: How net scores are counted over some holes; None for as the form of play asks.
        drawn: Players or sides in the order in which the lot or the play-off put them.
    """

    steps: tuple[Step, ...] = COUNTBACK
    fractions: Fractions = Fractions.KEPT
    counted: OverHoles | None = None
    drawn: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """The terms of a competition.

    Attributes:
        title: Its name.
        form: The form of play.
        tees: The tees, by name.
        sides: Who plays together.
        is_net: Whether handicap strokes are taken off.
        rounds: How many rounds count.
        over_par: The target score of a hole less par: 0 for par, 1 for bogey, -1 for birdie.
        targets: The target score of each hole, where the Committee sets them one by one; empty where it is told by par.
        maximum: The maximum for a hole; None where the form has none.
        allowances: Parts of the Course Handicaps that are played off, the lowest handicap first; none where they come from the form.
        ties: How ties are decided.
        is_told_against_par: Whether totals are compared as strokes over or under par.
        par_difference: What is done about tees of different par.
        best_of: How many scores of a side count on a hole.
        handicapping: The edition of the handicap rules; empty for the latest.
        has_certification_penalty: Whether a local rule sets strokes in place of disqualification for a card that is not certified.
        may_end_tied: Whether a match may end in a tie.
        counted: What of the rounds counts; all of it unless the Committee decided otherwise.
    """

    title: str
    form: Form
    tees: Mapping[str, Tee]
    sides: Sides = Sides.INDIVIDUAL
    is_net: bool = False
    rounds: int = 1
    over_par: int = 0
    targets: tuple[int, ...] = ()
    maximum: Maximum | None = None
    allowances: tuple[Fraction, ...] = ()
    ties: Ties = field(default_factory=Ties)
    is_told_against_par: bool = False
    par_difference: ParDifference = ParDifference.HIGHER_PAR_RECEIVES
    best_of: int = 1
    handicapping: str = ""
    has_certification_penalty: bool = False
    may_end_tied: bool = False
    counted: CountedRounds = field(default_factory=CountedRounds)

    @property
    def needs_stroke_index(self) -> bool:
        """Whether strokes are taken hole by hole: in all but a total of strokes, or where the maximum depends on them."""
        depends = self.maximum is not None and self.maximum.set_as is SetAs.NET_DOUBLE_BOGEY
        has_many_balls = self.sides not in ONE_BALL | {Sides.INDIVIDUAL}
        return self.is_net and (self.form not in {Form.STROKE_PLAY, Form.MAXIMUM_SCORE} or depends or has_many_balls)

    def tee_of(self, name: str) -> Tee:
        """A tee by name; the only one where no name is given."""
        return self.tees[name] if name else next(iter(self.tees.values()))

    def target_of(self, place: int, par: int) -> int:
        """The target score of a hole.

        Args:
            place: Its place among the holes, from 0.
            par: Its par.
        """
        return self.targets[place] if self.targets else par + self.over_par
