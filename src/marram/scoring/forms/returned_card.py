"""What a returned card answers for: scores too low, a card that is not certified, a handicap that is wrong; each as the book says."""

from __future__ import annotations

from dataclasses import dataclass

from marram.core.citations import Citation, merged
from marram.core.terms import Form
from marram.rulebook.book import Book
from marram.rulebook.consequence_words import Added
from marram.rulings.acts.act_in_form import FormReading, read_in_form
from marram.rulings.acts.acts import facts_read, rule_on_act
from marram.scoring.cards.card import Card, Correction
from marram.scoring.competition.terms_of_competition import Terms
from marram.scoring.forms.charge_words import strokes_said

_TOO_LOW, _UNKNOWN, _TOO_HIGH = "score-too-low", "score-too-low-unknown-penalty", "score-too-high"
OUT_SAID = ": disqualified"
"""What stands behind the words of a decision that disqualifies."""
_LEFT_OUT_IS_OUT = "penalty_left_out_is_disqualification"
UNSIGNED, _HANDICAP = "card-unsigned", "handicap-missing-on-card"
_BY_LOCAL_RULE = "penalty_strokes_by_local_rule"


@dataclass(frozen=True, slots=True, kw_only=True)
class CardDecision:
    """What the Committee decides of a returned card.

    Attributes:
        act: The act of the rule data.
        hole: The hole; None for the card.
        ruling: Id of the ruling; empty where there is none.
        player: Whose card it is: the player, or the side that plays one ball.
        round: Number of the round.
        is_wrong_score: Whether it disqualifies because the score of the hole is lower than taken, and for nothing else.
        is_out: Whether the player is disqualified.
        strokes: Strokes that are added to the hole, or to the last hole.
        score: The score that stands for the hole before strokes are added; None where the card's own stands.
        has_no_score: Whether no score stands for the hole.
        says: The same in words.
        citations: The rules.
    """

    act: str
    hole: int | None = None
    ruling: str = ""
    player: str = ""
    round: int = 1
    is_wrong_score: bool = False
    is_out: bool = False
    strokes: int = 0
    score: int | None = None
    has_no_score: bool = False
    says: str
    citations: tuple[Citation, ...]


def correct_hole(book: Book, form: Form, correction: Correction, returned: int | None) -> CardDecision:
    """Decide on a hole score that was found to be wrong.

    Args:
        book: The book.
        form: The form of play.
        correction: What was found out.
        returned: The score on the card; None where it shows none.
    """
    right = correction.actual + (correction.left_out or 0)
    if returned is not None and returned >= right:
        says = "the score is right" if returned == right else f"higher than taken: {returned} stands"
        return _decided(book, form, correction, _TOO_HIGH, says=says)
    if correction.left_out is None or returned is None:
        shown = "no score" if returned is None else str(returned)
        return _decided(book, form, correction, _TOO_LOW, says=f"returned {shown}, and {right} was taken")
    return _unknown_penalty(book, form, correction, returned)


def _decided(book: Book, form: Form, correction: Correction, act: str, *, says: str) -> CardDecision:
    reading, citations, _ = _read(book, form, act, correction.facts)
    is_out = reading is not None and reading.is_out
    told = f"{says}{OUT_SAID}" if is_out else says
    return CardDecision(
        act=act,
        hole=correction.hole,
        ruling=correction.ruling,
        is_wrong_score=is_out,
        is_out=is_out,
        says=told,
        citations=citations,
    )


def _unknown_penalty(book: Book, form: Form, correction: Correction, returned: int) -> CardDecision:
    reading, citations, added = _read(book, form, _UNKNOWN, correction.facts)
    left_out = correction.left_out or 0
    own = reading.strokes if reading is not None else 0
    is_out = reading is not None and reading.is_out
    strokes = (left_out if added else 0) + own if not is_out else 0
    if is_out:
        says = f"a penalty was left out{OUT_SAID}"
    elif not added:
        says = f"a penalty was left out and found too late: {returned} stands"
    else:
        more = f", and {strokes_said(own)} more" if own else ""
        says = f"a penalty that the player did not know of is added: {strokes_said(left_out)}{more}"
    score = returned if strokes == 0 else correction.actual
    return CardDecision(
        act=_UNKNOWN,
        hole=correction.hole,
        ruling=correction.ruling,
        is_wrong_score=is_out and _LEFT_OUT_IS_OUT not in correction.facts,
        is_out=is_out,
        strokes=strokes,
        score=score,
        says=says,
        citations=citations,
    )


def _read(book: Book, form: Form, act: str, facts: frozenset[str]) -> tuple[FormReading | None, tuple[Citation, ...], bool]:
    """How an act reads in the form, the rules, and whether the penalty that was left out is added."""
    answer = rule_on_act(book, act, dict.fromkeys(facts, True))
    if answer.case is None:
        return None, answer.citations, False
    reading = read_in_form(book, form, act, answer.case)
    return reading, merged(answer.citations), answer.case.added is Added.PENALTY_LEFT_OUT


def certification_remark(book: Book, terms: Terms) -> str:
    """What is to be told of terms that set strokes for a card not certified, where the book has no such local rule; else empty."""
    if not terms.has_certification_penalty or _BY_LOCAL_RULE in facts_read([book], UNSIGNED):
        return ""
    return (
        f'{book.name} has no local rule that sets penalty strokes for a card that is not certified: certification = "two-strokes" '
        "changes nothing here, and such a card disqualifies."
    )


def certify(book: Book, terms: Terms, card: Card) -> CardDecision | None:
    """Decide on a card that was not certified; None where it was."""
    missing = [who for who, is_done in (("player", card.is_certified_by_player), ("marker", card.is_certified_by_marker)) if not is_done]
    if not missing:
        return None
    facts = frozenset({_BY_LOCAL_RULE}) if terms.has_certification_penalty else frozenset()
    reading, citations, _ = _read(book, terms.form, UNSIGNED, facts)
    is_out, strokes = (reading.is_out, reading.strokes) if reading is not None else (False, 0)
    cost = "disqualified" if is_out else f"{strokes} penalty strokes on the last hole" if strokes else "no penalty"
    by = f"not certified by the {missing[0]}" if len(missing) == 1 else "certified by neither the player nor the marker"
    says = f"{by}: {cost}"
    return CardDecision(act=UNSIGNED, is_out=is_out, strokes=strokes, says=says, citations=citations)


@dataclass(frozen=True, slots=True, kw_only=True)
class HandicapDecision:
    """Which handicap a net score is played off.

    Attributes:
        strokes: The strokes.
        decision: What was decided of the handicap that the card shows; None where there was nothing to decide.
    """

    strokes: int
    decision: CardDecision | None = None


def handicap_to_use(book: Book, form: Form, card: Card, right: int) -> HandicapDecision:
    """Decide which handicap counts, by what the card shows and whether the player answers for it.

    Args:
        book: The book.
        form: The form of play.
        card: The card.
        right: The handicap that is right.
    """
    if card.shown is None or card.shown.strokes == right:
        return HandicapDecision(strokes=right)
    answer = rule_on_act(book, _HANDICAP, {})
    reading = read_in_form(book, form, _HANDICAP, answer.case) if answer.case is not None else None
    answers_for_it = reading is not None and reading.is_out
    shown = card.shown.strokes
    if not answers_for_it:
        says = f"the Committee applies {right}, whatever the card shows"
        return HandicapDecision(strokes=right, decision=CardDecision(act=_HANDICAP, says=says, citations=answer.citations))
    if shown is not None and shown < right:
        says = f"the card shows {shown}, lower than {right}: it stands"
        return HandicapDecision(strokes=shown, decision=CardDecision(act=_HANDICAP, says=says, citations=answer.citations))
    says = f"the card shows {'no handicap' if shown is None else shown}, and {right} is right: disqualified"
    return HandicapDecision(strokes=right, decision=CardDecision(act=_HANDICAP, is_out=True, says=says, citations=answer.citations))
