"""Whether a score counts for handicap, as what, and if it does not, why."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from marram.core.errors import HandicapError
from marram.handicaps.adjusted_score import ScoreOf, holes_to_fill, score_of
from marram.handicaps.rules.acceptance_rules import AcceptanceRules
from marram.handicaps.strokes_on_holes import FULL_ROUND, HALF_ROUND
from marram.rulebook.handicap_words import Accepted, AfterBreach, FilledBy, ScoreNeeds
from marram.rulebook.values import nearest_names

_ASSOCIATION = "a score in this format counts where the national association accepts it"
_COMMITTEE = "it counts where the Committee says so"


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
        breach: A breach of the Rules of Golf, a name of the book; empty where there was none.
        changes: Changes of the Rules of Golf under which it was played and that are no local rule, each in words.
        are_changes_approved: Whether the authorized association has approved them in writing.
        length_yd: Length of the course, yards; None where it is not looked at.
    """

    holes_played: int
    holes_of_round: int = FULL_ROUND
    format: str = ""
    has_valid_reason: bool = True
    is_not: Mapping[ScoreNeeds, str] = field(default_factory=dict)
    association_accepts: bool | None = None
    breach: str = ""
    changes: tuple[str, ...] = ()
    are_changes_approved: bool = False
    length_yd: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Acceptance:
    """Whether a score counts for handicap.

    Attributes:
        counts_as: What it counts as; no score where it does not count.
        filled: Holes that are made up.
        filled_by: What stands for them.
        because: Why it does not count, or on what it still hangs; empty where it counts.
        hangs_on_association: Whether it counts where the national association says so, and that was not said.
        hangs_on_committee: Whether it counts where the Committee says so.
    """

    counts_as: ScoreOf
    filled: int
    filled_by: FilledBy
    because: tuple[str, ...]
    hangs_on_association: bool = False
    hangs_on_committee: bool = False

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
    counts_as = ScoreOf.NOTHING if because else made
    accepted = rules.formats.get(played.format, Accepted.ALWAYS)
    of_association = accepted is Accepted.AS_THE_ASSOCIATION_DECIDES and played.association_accepts is None
    of_committee = _after(played, rules) is AfterBreach.THE_COMMITTEE_DECIDES
    if not because:
        hangs = {_ASSOCIATION: of_association, f"{_COMMITTEE}: {_means(played, rules)}": of_committee}
        because = tuple(words for words, is_so in hangs.items() if is_so)
    return Acceptance(
        counts_as=counts_as,
        filled=holes_to_fill(played.holes_played, counts_as),
        filled_by=rules.holes.filled_by,
        because=because,
        hangs_on_association=of_association,
        hangs_on_committee=of_committee,
    )


def _after(played: RoundPlayed, rules: AcceptanceRules) -> AfterBreach:
    return rules.breaches[played.breach].after if played.breach else AfterBreach.COUNTS


def _means(played: RoundPlayed, rules: AcceptanceRules) -> str:
    means = rules.breaches[played.breach].means.rstrip(".") if played.breach else ""
    return means[:1].lower() + means[1:]


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
    if _after(played, rules) is AfterBreach.DOES_NOT_COUNT:
        yield f"it does not count after this: {_means(played, rules)}"
    if played.changes and not (played.are_changes_approved and rules.approved_counts):
        changes = "; ".join(played.changes)
        yield f"it was played under changed rules that are no local rule and not stated to be approved in writing: {changes}"
    least_yd = rules.least_yd[played.holes_of_round <= HALF_ROUND]
    if played.length_yd is not None and played.length_yd < least_yd:
        yield f"a course of {played.length_yd} yd cannot be rated; for {played.holes_of_round} holes it takes {least_yd} yd"
    if played.holes_played < played.holes_of_round and not played.has_valid_reason:
        yield "holes were left out without a valid reason; the Committee may post a penalty score"


def _least(rules: AcceptanceRules, holes_of_round: int) -> str:
    nine = f"{rules.holes.nine_least} for a score of nine"
    return nine if holes_of_round <= HALF_ROUND else f"{rules.holes.eighteen_least} of {FULL_ROUND}, or {nine}"


def _refuse(played: RoundPlayed, rules: AcceptanceRules) -> None:
    if played.holes_of_round not in {HALF_ROUND, FULL_ROUND} or not 0 <= played.holes_played <= played.holes_of_round:
        told = f"{played.holes_played} holes played of {played.holes_of_round}"
        raise HandicapError(f"{told} cannot be.", hint=f"A round has {HALF_ROUND} or {FULL_ROUND} holes.")
    for name, known in ((played.format, list(rules.formats)), (played.breach, list(rules.breaches))):
        if name and name not in known:
            near = nearest_names(name, known) or known
            raise HandicapError(f"{name!r} is not known.", hint=f"Nearest: {', '.join(near)}.")
