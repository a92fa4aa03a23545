"""A card as it was returned: strokes by hole, what was penalised, and what the player answers for."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from marram.scoring.cards.concessions import Concession


class CardStatus(StrEnum):
    """What became of a card."""

    RETURNED = "returned"
    WITHDRAWN = "withdrawn"
    NOT_RETURNED = "not-returned"
    DID_NOT_START = "did-not-start"
    DISQUALIFIED = "disqualified"
    CONCEDED = "conceded"
    MISSED_CUT = "missed-cut"


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleEntry:
    """What a card shows for a hole.

    Attributes:
        strokes: Strokes with the penalty strokes that the player added; None where the card shows no score.
        is_picked_up: Whether the card says that the player picked up.
        given_up: When that was among the balls of the hole, from 1; None where nobody knows.
        has_conceded: Whether the player conceded the hole of a match.
    """

    strokes: int | None = None
    is_picked_up: bool = False
    given_up: int | None = None
    has_conceded: bool = False

    @property
    def is_played(self) -> bool:
        """Whether anything is known of the hole."""
        return self.strokes is not None or self.is_picked_up or self.has_conceded


@dataclass(frozen=True, slots=True, kw_only=True)
class Penalty:
    """A penalty beside a card.

    Attributes:
        hole: The hole; None for the round.
        act: The act of the rule data; empty where strokes alone are stated.
        strokes: Strokes that are stated; None where the act says them.
        facts: Facts of the act that are true.
        ruling: Id of the ruling; empty where there is none.
        is_in_score: Whether the strokes stand in the score of the hole already.
    """

    hole: int | None = None
    act: str = ""
    strokes: int | None = None
    facts: frozenset[str] = frozenset()
    ruling: str = ""
    is_in_score: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Correction:
    """What was found out of a hole after the card was returned.

    Attributes:
        hole: The hole.
        actual: The score that was right, without a penalty that the player did not know of.
        facts: Facts of the mistake that are true.
        left_out: Penalty strokes that the player did not know of and left out; None where the score was wrong for another reason.
        ruling: Id of the ruling; empty where there is none.
    """

    hole: int
    actual: int
    facts: frozenset[str] = frozenset()
    left_out: int | None = None
    ruling: str = ""


class Procedure(StrEnum):
    """Whether the Rules allow what was done with a ball."""

    ALLOWED = "allowed"
    NOT_ALLOWED = "not-allowed"
    SERIOUS = "serious"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayedOut:
    """One of two balls with which a hole was played out.

    Attributes:
        strokes: Its score without the penalty of the procedure itself.
        procedure: Whether the procedure is allowed.
        penalty: The penalty of a procedure that is not.
    """

    strokes: int
    procedure: Procedure
    penalty: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class TwoBalls:
    """A hole that a player in doubt played out with two balls.

    Attributes:
        hole: The hole.
        balls: The ball that was played first, and the other.
        chosen: 0 or 1 for the ball that was to count; None where none was chosen in time.
        is_reported: Whether the facts were reported before the card was returned.
        ruling: Id of the ruling; empty where there is none.
    """

    hole: int
    balls: tuple[PlayedOut, PlayedOut]
    chosen: int | None = None
    is_reported: bool = True
    ruling: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownHandicap:
    """The handicap that a card shows.

    Attributes:
        strokes: The strokes; None where it shows none.
    """

    strokes: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """A card.

    Attributes:
        player: The player.
        entries: What it shows for each hole, in the order of the holes.
        row: Its row in the table, for messages; 0 where it comes from none.
        side: The side; empty where the player plays alone.
        match: The match; empty in stroke play.
        round: Number of the round, from 1.
        tee: Name of the tee; empty where the terms have one only.
        start: The hole at which the player began.
        handicap_index: Handicap Index; None where none is stated. A plus handicap is below zero.
        course_handicap: Course Handicap as stated, not rounded where that is known; None where none is stated.
        playing_handicap: Playing Handicap as stated; None where none is stated.
        shown: The handicap that the card shows; None where nobody looked.
        penalties: Penalties beside the scores.
        corrections: What was found out after it was returned.
        two_balls: Holes that were played out with two balls.
        concessions: What the player, or somebody for him, conceded in a match.
        is_certified_by_player: Whether the player certified the scores.
        is_certified_by_marker: Whether the marker did.
        status: What became of it.
        why: Why it does not count, in words; empty where it does.
    """

    player: str
    entries: tuple[HoleEntry, ...]
    row: int = 0
    side: str = ""
    match: str = ""
    round: int = 1
    tee: str = ""
    start: int = 1
    handicap_index: Fraction | None = None
    course_handicap: Fraction | None = None
    playing_handicap: int | None = None
    shown: ShownHandicap | None = None
    penalties: tuple[Penalty, ...] = ()
    corrections: tuple[Correction, ...] = ()
    two_balls: tuple[TwoBalls, ...] = ()
    concessions: tuple[Concession, ...] = ()
    is_certified_by_player: bool = True
    is_certified_by_marker: bool = True
    status: CardStatus = CardStatus.RETURNED
    why: str = ""
