"""What a breach of one partner costs the other, and whom a disqualification strikes, where partners play a ball each."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from marram.core.citations import Citation
from marram.rulebook.book import Book
from marram.rulebook.consequence_words import HOLE_IS_LOST, BorneBy, HoleIs
from marram.rulebook.consequences import Consequence

_ROW = "partner-bears"


class PartnerBears(StrEnum):
    """What the partner bears of a breach."""

    SIDE = "side"
    SAME = "same"
    NONE = "none"
    IF_IT_HELPED = "if-it-helped"
    IF_IT_HELPED_OR_HURT = "if-it-helped-or-hurt"
    SIDE_IS_OUT = "side-is-out"
    SIDE_IS_OUT_IF_BOTH = "side-is-out-if-both"
    NO_SCORE_FOR_HOLE = "no-score-for-hole"


_SAYS = {
    PartnerBears.SIDE: "The side bears it.",
    PartnerBears.SAME: "The partner bears the same; in a match the side bears it.",
    PartnerBears.NONE: "The partner bears nothing.",
    PartnerBears.IF_IT_HELPED: "Only the player bears it, unless it helped the partner's play: then the partner bears the same.",
    PartnerBears.IF_IT_HELPED_OR_HURT: (
        "Only the player bears it, unless it helped the partner's play or hurt an opponent's: then the partner bears the same."
    ),
    PartnerBears.SIDE_IS_OUT: "It disqualifies the side.",
    PartnerBears.SIDE_IS_OUT_IF_BOTH: "It disqualifies the side only if both partners are so; else the player alone.",
    PartnerBears.NO_SCORE_FOR_HOLE: "The player is not disqualified, but has no score for the hole; the partner's score may count.",
}
_NO_SCORE = "In the match the player has no score for the hole; the partner plays on for the side."


@dataclass(frozen=True, slots=True, kw_only=True)
class PartnerShare:
    """What the partner bears of a breach.

    Attributes:
        bears: It in a word; None where the book does not say.
        says: It in a sentence.
        citations: The rules.
    """

    bears: PartnerBears | None
    says: str
    citations: tuple[Citation, ...]


NOTHING_SAID = PartnerShare(bears=None, says="", citations=())
"""What is told where there is no partner, or the breach costs nothing."""
SIDE_SHARE = PartnerShare(bears=PartnerBears.SIDE, says=_SAYS[PartnerBears.SIDE], citations=())
"""What is told where partners play one ball: the side bears everything."""


def partner_share(book: Book, act: str, case: Consequence, *, is_match: bool, is_out: bool) -> PartnerShare:
    """What the partner bears of a breach in four-ball.

    Args:
        book: The book.
        act: Name of the act.
        case: What the act leads to.
        is_match: Whether the sides play a match.
        is_out: Whether the act disqualifies in this form.
    """
    costs = case.match_strokes or case.hole in HOLE_IS_LOST or case.per_hole if is_match else case.strokes
    if case.who is not BorneBy.PLAYER or not book.has_row(_ROW) or not (costs or is_out):
        return NOTHING_SAID
    bears = _out(book, act) if is_out else _strokes(book, act, is_match=is_match)
    has_no_score = is_match and not is_out and case.hole is HoleIs.LOST and bears is not PartnerBears.SAME
    return PartnerShare(bears=bears, says=f"{_SAYS[bears]} {_NO_SCORE}" if has_no_score else _SAYS[bears], citations=book.citations(_ROW))


def _out(book: Book, act: str) -> PartnerBears:
    if act in book.words(f"{_ROW}.side_is_out").value:
        return PartnerBears.SIDE_IS_OUT
    is_both = act in book.words(f"{_ROW}.side_is_out_if_both").value
    return PartnerBears.SIDE_IS_OUT_IF_BOTH if is_both else PartnerBears.NO_SCORE_FOR_HOLE


def _strokes(book: Book, act: str, *, is_match: bool) -> PartnerBears:
    if act in book.words(f"{_ROW}.always").value:
        return PartnerBears.SAME
    hurt = book.yes(f"{_ROW}.where_it_hurt_in_{'match' if is_match else 'stroke_play'}").value
    if act in book.words(f"{_ROW}.never").value or not (hurt or book.yes(f"{_ROW}.where_it_helped").value):
        return PartnerBears.NONE
    return PartnerBears.IF_IT_HELPED_OR_HURT if hurt else PartnerBears.IF_IT_HELPED
