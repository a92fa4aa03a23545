"""Accept a score for handicap, or say why it does not count, under each book."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marram.core.citations import Citation, merged
from marram.core.field_names import Field
from marram.handicaps.acceptability import Acceptance, RoundPlayed, accept
from marram.handicaps.rules.acceptance_rules import BREACHES, FAMILY, AcceptanceRules, acceptance_rules
from marram.handicaps.strokes_on_holes import FULL_ROUND, HALF_ROUND
from marram.office.handicaps.written_figures import Written
from marram.rulebook.book import Book
from marram.rulebook.handicap_words import ScoreNeeds
from marram.rulebook.overlays.overlay import Standing
from marram.rulebook.values import nearest_names

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


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundAsked:
    """A round of which it is asked whether its score counts, as an official writes it down.

    Attributes:
        played: Holes that were at least begun.
        holes: Holes that were to be played, 18 or nine.
        format: The format, a name of the book; empty for a competition that counts everywhere.
        lacks: What does not hold of the round, names of ``list_score_needs``.
        has_valid_reason: Whether holes were left out for a valid reason.
        association_accepts: Whether the national association accepts the format; None where that is not known.
        breach: A breach, a name of the book; empty where there was none.
        are_changes_approved: Whether changed rules were approved in writing.
        length_yd: Length of the course, yards; empty where it is not looked at.
    """

    played: str
    holes: int = FULL_ROUND
    format: str = ""
    lacks: tuple[str, ...] = ()
    has_valid_reason: bool = True
    association_accepts: bool | None = None
    breach: str = ""
    are_changes_approved: bool = False
    length_yd: str = ""


def accept_score(books: Sequence[Book], asked: RoundAsked, under: Book | None = None) -> tuple[ScoreAccepted, ...]:
    """Say whether a score counts for handicap, under each book.

    Args:
        books: Books of handicapping.
        asked: The round.
        under: The rule book that was played by; None for the Rules of Golf in force.

    Raises:
        HandicapError: Something cannot be as it is written; every fault is told.
    """
    written = Written()
    if asked.holes not in {HALF_ROUND, FULL_ROUND}:
        written.fault(Field.ROUND_HOLES, f"{asked.holes} cannot be; expected {HALF_ROUND} or {FULL_ROUND}.")
    count = written.whole(Field.PLAYED, asked.played, 0, asked.holes)
    length = written.whole(Field.LENGTH_YD, asked.length_yd, 100, 10_000) if asked.length_yd else None
    for need in asked.lacks:
        if need not in list(ScoreNeeds):
            written.fault(Field.LACKS, f"{need!r} is nothing that a score needs; expected {', '.join(ScoreNeeds)}.")
    for book in books:
        _know_names(written, asked, acceptance_rules(book).value)
    written.refuse()
    assert count is not None
    round_ = RoundPlayed(
        holes_played=count,
        holes_of_round=asked.holes,
        format=asked.format,
        has_valid_reason=asked.has_valid_reason,
        is_not={ScoreNeeds(need): _AS_STATED for need in asked.lacks},
        association_accepts=asked.association_accepts,
        breach=asked.breach,
        changes=() if under is None else changes_of(under),
        are_changes_approved=asked.are_changes_approved,
        length_yd=length,
    )
    return tuple(_under(book, round_) for book in books)


def changes_of(under: Book) -> tuple[str, ...]:
    """Changes of a rule book that no Committee may adopt as a local rule, each once and in words; a draft is one as a whole."""
    draft = (under.catalogue.editions[under.edition].document,) if under.catalogue.editions[under.edition].is_draft else ()
    laid_on = dict.fromkeys(
        f"{overlay.title}, change {change.number}" for overlay, change in under.changed.values() if change.standing is Standing.UNOFFICIAL
    )
    return (*draft, *laid_on)


def _know_names(written: Written, asked: RoundAsked, rules: AcceptanceRules) -> None:
    for field, name, known in ((Field.FORMAT, asked.format, list(rules.formats)), (Field.BREACH, asked.breach, list(rules.breaches))):
        if name and name not in known:
            near = nearest_names(name, known) or known
            written.fault(field, f"{name!r} is not known; nearest: {', '.join(near)}.")


def _under(book: Book, played: RoundPlayed) -> ScoreAccepted:
    cited = acceptance_rules(book)
    accepted = accept(played, cited.value)
    rows = [
        f"{FAMILY}.{played.format}" if played.format else "",
        f"{BREACHES}.{played.breach}" if played.breach else "",
        "changed-rules" if played.changes else "",
        "course-length" if played.length_yd is not None else "",
    ]
    citations = merged(cited.citations, *(cited.value.cited[row] for row in rows if row))
    return ScoreAccepted(book=book.name, stamp=book.stamp, accepted=accepted, says=tuple(_says(accepted)), citations=citations)


def _says(accepted: Acceptance) -> list[str]:
    told = [f"It counts as {accepted.counts_as.value}." if accepted.is_acceptable else "It does not count for handicap."]
    told += [f"{reason[0].upper()}{reason[1:]}." for reason in accepted.because]
    if accepted.filled:
        told.append(f"Holes made up: {accepted.filled}, by {accepted.filled_by.value.replace('-', ' ')}.")
    return told
