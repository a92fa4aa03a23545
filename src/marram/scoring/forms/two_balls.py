"""Which of two balls counts, where a player in doubt played a hole out with both."""

from __future__ import annotations

from marram.core.citations import Citation, merged
from marram.core.terms import Form
from marram.rulebook.book import Book
from marram.rulebook.consequence_words import BallIs
from marram.rulings.acts.act_in_form import read_in_form
from marram.rulings.acts.acts import rule_on_act
from marram.scoring.cards.card import PlayedOut, Procedure, TwoBalls
from marram.scoring.forms.returned_card import CardDecision

TWO_BALLS, _SERIOUS = "second-ball-in-doubt", "wrong-place-serious"
_NAMES = ("the ball played first", "the second ball")


def which_ball_counts(book: Book, form: Form, hole: TwoBalls) -> CardDecision:
    """Say which of two balls counts, and with which score.

    Args:
        book: The book.
        form: The form of play.
        hole: What is known of the hole.

    Source:
        Rules of Golf (January 2023), Rules 20.1c(3), 20.1c(4) and 14.7b(3); no choice and no report as each edition says.
    """
    if not hole.is_reported:
        return _not_reported(book, form, hole)
    chosen, late, cited = _chosen(book, hole)
    own, other = hole.balls[chosen], hole.balls[1 - chosen]
    if own.procedure is Procedure.ALLOWED:
        return _counts(hole, chosen, f"{late}its procedure is allowed", cited)
    if other.procedure is Procedure.ALLOWED:
        return _counts(hole, 1 - chosen, f"{late}the procedure of the chosen ball is not allowed, and that of the other is", cited)
    if own.procedure is Procedure.NOT_ALLOWED:
        return _counts(hole, chosen, f"{late}neither procedure is allowed, and the chosen ball counts with its penalty", cited)
    if other.procedure is Procedure.NOT_ALLOWED:
        return _counts(hole, 1 - chosen, f"{late}playing the chosen ball was a serious breach, and playing the other was none", cited)
    return _both_serious(book, form, hole, cited)


def _chosen(book: Book, hole: TwoBalls) -> tuple[int, str, tuple[Citation, ...]]:
    """The ball that is taken as chosen: without a choice in time, the one that the book names."""
    answer = rule_on_act(book, TWO_BALLS, {"chosen_too_late": hole.chosen is None})
    if hole.chosen is not None:
        return hole.chosen, "", answer.citations
    is_first = answer.case is None or answer.case.ball is BallIs.FIRST_BALL_COUNTS
    return (0 if is_first else 1), "none was chosen in time; ", answer.citations


def _counts(hole: TwoBalls, place: int, why: str, citations: tuple[Citation, ...]) -> CardDecision:
    ball: PlayedOut = hole.balls[place]
    penalty = ball.penalty if ball.procedure is not Procedure.ALLOWED else 0
    more = f" and {penalty} penalty strokes" if penalty else ""
    return CardDecision(
        act=TWO_BALLS,
        hole=hole.hole,
        ruling=hole.ruling,
        strokes=penalty,
        score=ball.strokes,
        says=f"{_NAMES[place]} counts, {ball.strokes}{more}: {why}",
        citations=citations,
    )


def _not_reported(book: Book, form: Form, hole: TwoBalls) -> CardDecision:
    answer = rule_on_act(book, TWO_BALLS, {"not_reported": True})
    reading = read_in_form(book, form, TWO_BALLS, answer.case) if answer.case is not None else None
    is_out = reading is not None and reading.is_out
    says = "the facts were not reported before the card was returned" + (": disqualified" if is_out else "")
    return CardDecision(act=TWO_BALLS, hole=hole.hole, ruling=hole.ruling, is_out=is_out, says=says, citations=answer.citations)


def _both_serious(book: Book, form: Form, hole: TwoBalls, cited: tuple[Citation, ...]) -> CardDecision:
    """Playing either ball was a serious breach: as the book answers one that was not put right, in this form of play."""
    answer = rule_on_act(book, _SERIOUS, {"not_put_right_in_time": True})
    reading = read_in_form(book, form, _SERIOUS, answer.case) if answer.case is not None else None
    is_out = reading is None or reading.is_out
    end = "disqualified" if is_out else reading.says if reading is not None else ""
    return CardDecision(
        act=_SERIOUS,
        hole=hole.hole,
        ruling=hole.ruling,
        is_out=is_out,
        has_no_score=not is_out,
        says=f"playing either ball was a serious breach: {end}",
        citations=merged(cited, answer.citations, reading.citations if reading is not None else ()),
    )
