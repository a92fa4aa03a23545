"""Accept a score for handicap, or say why it does not count, under each book."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marram.core.citations import Citation, merged
from marram.core.errors import HandicapError
from marram.core.field_names import Field
from marram.handicaps.acceptability import Acceptance, RoundPlayed, accept
from marram.handicaps.rules.acceptance_rules import acceptance_rules
from marram.handicaps.strokes_on_holes import FULL_ROUND, HALF_ROUND
from marram.office.handicaps.written_figures import Written
from marram.rulebook.book import Book
from marram.rulebook.handicap_words import ScoreNeeds

_AS_STATED = "stated as lacking"


@dataclass(frozen=True, slots=True, kw_only=True)
class ScoreAccepted:
    """Whether a score counts under a book.

    Attributes:
        book: Name of the book.
        stamp: Its stamp.
        accepted: What it counts as, and why not.
        says: The same in words.
        citations: The rules.
    """

    book: str
    stamp: str
    accepted: Acceptance
    says: tuple[str, ...]
    citations: tuple[Citation, ...]


def list_score_needs() -> tuple[str, ...]:
    """Names of what a score needs."""
    return tuple(need.value for need in ScoreNeeds)


def accept_score(
    books: Sequence[Book],
    played: str,
    *,
    holes: int = FULL_ROUND,
    format_: str = "",
    lacks: Sequence[str] = (),
    has_valid_reason: bool = True,
    association_accepts: bool | None = None,
) -> tuple[ScoreAccepted, ...]:
    """Say whether a score counts for handicap, under each book.

    Args:
        books: Books of handicapping.
        played: Holes that were at least begun.
        holes: Holes that were to be played, 18 or nine.
        format_: The format, a name of the book; empty for a competition that counts everywhere.
        lacks: What does not hold of the round, names of ``list_score_needs``.
        has_valid_reason: Whether holes were left out for a valid reason.
        association_accepts: Whether the national association accepts the format; None where that is not known.

    Raises:
        HandicapError: Something cannot be as it is written; every fault is told.
    """
    written = Written()
    count = written.whole(Field.PLAYED, played, 0, holes)
    if holes not in {HALF_ROUND, FULL_ROUND}:
        written.fault(Field.ROUND_HOLES, f"{holes} cannot be; expected {HALF_ROUND} or {FULL_ROUND}.")
    for need in lacks:
        if need not in list(ScoreNeeds):
            written.fault(Field.LACKS, f"{need!r} is nothing that a score needs; expected {', '.join(ScoreNeeds)}.")
    written.refuse()
    assert count is not None
    round_ = RoundPlayed(
        holes_played=count,
        holes_of_round=holes,
        format=format_,
        has_valid_reason=has_valid_reason,
        is_not={ScoreNeeds(need): _AS_STATED for need in lacks},
        association_accepts=association_accepts,
    )
    return tuple(_under(book, round_) for book in books)


def _under(book: Book, played: RoundPlayed) -> ScoreAccepted:
    cited = acceptance_rules(book)
    try:
        accepted = accept(played, cited.value)
    except HandicapError as problem:
        raise HandicapError(problem.message, field=Field.FORMAT, hint=problem.hint) from None
    citations = merged(cited.citations, cited.value.cited.get(played.format, ()))
    return ScoreAccepted(book=book.name, stamp=book.stamp, accepted=accepted, says=tuple(_says(accepted)), citations=citations)


def _says(accepted: Acceptance) -> list[str]:
    told = [f"It counts as {accepted.counts_as.value}." if accepted.is_acceptable else "It does not count for handicap."]
    told += [f"{reason[0].upper()}{reason[1:]}." for reason in accepted.because]
    if accepted.filled:
        told.append(f"Holes made up: {accepted.filled}, by {accepted.filled_by.value.replace('-', ' ')}.")
    return told
