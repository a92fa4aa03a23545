"""Whether a concession stands: of the next stroke, of a hole, of the match."""

from __future__ import annotations

from dataclasses import dataclass

from marram.core.citations import Citation, merged
from marram.core.terms import Form
from marram.rulebook.book import Book
from marram.rulings.acts.act_in_form import read_in_form
from marram.rulings.acts.acts import rule_on_act
from marram.scoring.cards.concessions import Concession

_MATCH = f"form.{Form.MATCH_PLAY.value}"
_WAIVED = "agree-to-waive-rules"


@dataclass(frozen=True, slots=True, kw_only=True)
class ConcessionJudged:
    """Whether a concession stands.

    Attributes:
        stands: Whether it does.
        is_out: Whether both players are disqualified.
        says: The same in words.
        citations: The rules.
    """

    stands: bool
    is_out: bool
    says: str
    citations: tuple[Citation, ...]


def judge_concession(book: Book, concession: Concession) -> ConcessionJudged:
    """Say whether a concession stands.

    Args:
        book: The book.
        concession: What is known of it.

    Source:
        Rules of Golf (January 2023), Rule 3.2b with clarifications 3.2b(1)/1, 3.2b(1)/2 and 3.2b(2)/1; time limits partly from memory.
    """
    cited = book.cited(f"{_MATCH}.may_concede").citations
    if concession.is_agreed_to_shorten:
        answer = rule_on_act(book, _WAIVED, {"they_knew_the_rule": True})
        reading = read_in_form(book, Form.MATCH_PLAY, _WAIVED, answer.case) if answer.case is not None else None
        is_out = reading is not None and reading.is_out
        return ConcessionJudged(
            stands=False, is_out=is_out, says="holes may not be conceded to shorten a match", citations=answer.citations
        )
    if not concession.is_by_player:
        return ConcessionJudged(stands=False, is_out=False, says="only a player can concede", citations=cited)
    if concession.is_decided or not concession.is_in_time:
        says = "it comes too late: there is nothing left to concede"
        return ConcessionJudged(stands=False, is_out=False, says=says, citations=cited)
    if concession.is_taken_back and not book.yes(f"{_MATCH}.concession_stands").value:
        return ConcessionJudged(stands=False, is_out=False, says="it was taken back", citations=cited)
    final = book.cited(f"{_MATCH}.concession_stands").citations if concession.is_taken_back else ()
    says = (
        "it is final: it can be neither refused nor taken back" if concession.is_taken_back else f"the {concession.what.value} is conceded"
    )
    return ConcessionJudged(stands=True, is_out=False, says=says, citations=merged(cited, final))
