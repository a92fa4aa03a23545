"""Whether a score counts for handicap, as what, and if it does not, why."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from marram.core.errors import HandicapError
from marram.handicaps.adjusted_score import ScoreOf, holes_to_fill, score_of
from marram.handicaps.rules.acceptance_rules import AcceptanceRules
from marram.handicaps.strokes_on_holes import FULL_ROUND, HALF_ROUND
from marram.rulebook.handicap_words import Accepted, FilledBy, ScoreNeeds
from marram.rulebook.values import nearest_names


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundPlayed:
    """What is known of a round.

    Attributes:
        holes_played: Holes that were at least begun.
        holes_of_round: Holes that were to be played, nine or 18.
        format: The format, a name of the book; empty where it is one that counts everywhere.
        has_valid_reason: Whether holes were left out for a valid reason.
        is_not: What does not hold of the round, each with why; what is not named holds.
        association_accepts: Whether the national association accepts the format; None where it has not been said.
    """

    holes_played: int
    holes_of_round: int = FULL_ROUND
    format: str = ""
    has_valid_reason: bool = True
    is_not: Mapping[ScoreNeeds, str] = field(default_factory=dict)
    association_accepts: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Acceptance:
    """Whether a score counts for handicap.

    Attributes:
        counts_as: What it counts as; no score where it does not count.
        filled: Holes that are made up.
        filled_by: What stands for them.
        because: Why it does not count, or on what it still hangs; empty where it counts.
        hangs_on_association: Whether it counts where the national association says so, and that was not said.
    """

    counts_as: ScoreOf
    filled: int
    filled_by: FilledBy
    because: tuple[str, ...]
    hangs_on_association: bool = False

    @property
    def is_acceptable(self) -> bool:
        """Whether it counts."""
        return self.counts_as is not ScoreOf.NOTHING


def accept(played: RoundPlayed, rules: AcceptanceRules) -> Acceptance:
    """Say whether a score counts for handicap, as what, and if not, why.

    Args:
        played: What is known of the round.
        rules: What a score needs.

    Raises:
        HandicapError: The holes cannot be, or the book knows no such format.

    Source:
        Rules of Handicapping 2020 and 2024, Rules 2.1, 2.1a, 2.1b and 2.2.
    """
    _refuse(played, rules)
    made = score_of(played.holes_played, played.holes_of_round, rules.holes)
    because = tuple(_reasons(played, made, rules))
    accepted = rules.formats.get(played.format, Accepted.ALWAYS)
    hangs = accepted is Accepted.AS_THE_ASSOCIATION_DECIDES and played.association_accepts is None
    counts_as = ScoreOf.NOTHING if because else made
    if hangs and not because:
        because = ("a score in this format counts where the national association accepts it",)
    return Acceptance(
        counts_as=counts_as,
        filled=holes_to_fill(played.holes_played, counts_as),
        filled_by=rules.holes.filled_by,
        because=because,
        hangs_on_association=hangs,
    )


def _reasons(played: RoundPlayed, made: ScoreOf, rules: AcceptanceRules) -> Iterator[str]:
    accepted = rules.formats.get(played.format, Accepted.ALWAYS)
    for need, words in rules.needs.items():
        if need in played.is_not:
            yield f"it needs {words}: {played.is_not[need]}"
        elif need is ScoreNeeds.AUTHORIZED_FORMAT and accepted is Accepted.NEVER:
            yield "a score in this format is no player's own"
        elif need is ScoreNeeds.AUTHORIZED_FORMAT and accepted is not Accepted.ALWAYS and played.association_accepts is False:
            yield "the national association does not accept this format"
        elif need is ScoreNeeds.ENOUGH_HOLES and made is ScoreOf.NOTHING:
            yield f"it needs {words}: {_least(rules, played.holes_of_round)}, and {played.holes_played} were played"
    if played.holes_played < played.holes_of_round and not played.has_valid_reason:
        yield "holes were left out without a valid reason; the Committee may post a penalty score"


def _least(rules: AcceptanceRules, holes_of_round: int) -> str:
    nine = f"{rules.holes.nine_least} for a score of nine"
    return nine if holes_of_round <= HALF_ROUND else f"{rules.holes.eighteen_least} of {FULL_ROUND}, or {nine}"


def _refuse(played: RoundPlayed, rules: AcceptanceRules) -> None:
    if played.holes_of_round not in {HALF_ROUND, FULL_ROUND} or not 0 <= played.holes_played <= played.holes_of_round:
        told = f"{played.holes_played} holes played of {played.holes_of_round}"
        raise HandicapError(f"{told} cannot be.", hint=f"A round has {HALF_ROUND} or {FULL_ROUND} holes.")
    if played.format and played.format not in rules.formats:
        near = nearest_names(played.format, list(rules.formats)) or list(rules.formats)
        raise HandicapError(f"There is no format {played.format!r}.", hint=f"Nearest: {', '.join(near)}.")
