"""Adapters for examples of what a returned card answers for: hole scores that were wrong, and the handicap that it shows."""

import re
from collections.abc import Mapping

from marram.core.terms import Form
from marram.interchange.books.book_files import read_book, read_handicap_book
from marram.rulebook.book import Book
from marram.scoring.cards.card import Card, Correction, ShownHandicap
from marram.scoring.cards.tee import Tee
from marram.scoring.competition.terms_of_competition import Terms
from marram.scoring.forms.card_score import score_card
from marram.scoring.forms.form_law import read_form
from marram.scoring.forms.strokes_received import strokes_received
from marram.scoring.results import score_competition
from tests.published.adapter import Unfit, to_list, whole
from tests.published.adapters_scoring import COUNTS, OUT, adapter, count_of, entries, handicap

Inputs = Mapping[str, object]
Values = Mapping[str, object]


def _wrong_scores(inputs: Inputs) -> Values:
    total = whole(inputs, "returned_total")
    cases = [str(case) for case in to_list(inputs["cases"], "cases")]
    return {f"RoG{edition}": [_wrong_score(edition, total, case) for case in cases] for edition in ("2016", "2019", "2023")}


def _wrong_score(edition: str, total: int, case: str) -> str:
    """A hole found to be wrong: a penalty left out, a score missing, higher or lower than taken."""
    words = case.casefold()
    if "penalty" in words:
        return _corrected(edition, total, Correction(hole=1, actual=4, left_out=_amount(words), facts=_facts_of(words)))
    if re.search(r"missing|no score|blank|left out|not returned|not entered|omitted", words):
        return _corrected(edition, total, None)
    both = re.search(r"(?:returned|entered|shown|card(?: shows)?|recorded)\D*(\d+)\D+(\d+)", words)
    if both and re.search(r"actual|took|taken|made|should|instead|was|for", words):
        difference = int(both[2]) - int(both[1])
        return _corrected(edition, total, Correction(hole=1, actual=4 + difference))
    if re.search(r"higher|too high|more than|greater", words):
        return _corrected(edition, total, Correction(hole=1, actual=4 - min(_amount(words), 3)))
    if re.search(r"lower|too low|less than|fewer", words):
        return _corrected(edition, total, Correction(hole=1, actual=4 + _amount(words)))
    raise Unfit(f"the case {case!r} is not known")


def _facts_of(words: str) -> frozenset[str]:
    known = r"(?<!not )(?<!never )(?:been )?told|in doubt|doubted|doubtful|warned|unsure|kept silent|knew|(?<!not )aware of"
    facts = {
        "penalty_left_out_is_disqualification": r"(?:penalty|breach)\b[^.;]*\b(?:is|of|was) disqualif|disqualification (?:penalty|breach)",
        "was_told_or_unsure_and_kept_silent": known,
        "found_after_close_of_competition": r"after (?:the )?(?:close|competition (?:has |had |was )?closed?|competition closes)",
    }
    return frozenset(fact for fact, pattern in facts.items() if re.search(pattern, words))


def _amount(words: str) -> int:
    """How many strokes are told; a general penalty is two, and one where nothing is told."""
    number = rf"(\d+|{'|'.join(COUNTS)})"
    patterns = (rf"{number}[ -](?:penalty )?strokes?", rf"penalty(?: strokes?)? of {number}", rf"by {number}", rf"{number} penalty")
    found = next((match for pattern in patterns if (match := re.search(pattern, words))), None)
    return count_of(found[1]) if found else 2 if "general penalty" in words else 1


def _corrected(edition: str, total: int, correction: Correction | None) -> str:
    gross: list[object] = [*[4] * 17, total - 17 * 4]
    if correction is None:
        gross[0] = None
    book: Book = read_book(edition)
    law = read_form(book, Form.STROKE_PLAY)
    tee = Tee(name="", par=(4,) * 18)
    terms = Terms(title="", form=Form.STROKE_PLAY, tees={"": tee})
    card = Card(player="P", entries=entries(gross), corrections=(correction,) if correction is not None else ())
    one = score_card(book, law, terms, card, strokes_received(book, law, terms, None, card, []))
    return OUT if one.total is None else str(one.total)


def _shown_handicaps(inputs: Inputs) -> Values:
    right, gross = handicap(inputs["right"]), whole(inputs, "gross")
    shown = to_list(inputs["shown"], "shown")
    return {f"RoG{edition}": [_with_shown(edition, right, gross, value) for value in shown] for edition in ("2016", "2019", "2023")}


def _with_shown(edition: str, right: int, gross: int, value: object) -> str:
    shown = None if value is None or str(value).casefold() in {"none", "no handicap", "missing"} else handicap(value)
    book = read_book(edition)
    terms = Terms(title="", form=Form.STROKE_PLAY, tees={"": Tee(name="", par=(4,) * 18)}, is_net=True)
    card = Card(
        player="P",
        entries=entries([4] * 17 + [gross - 17 * 4]),
        playing_handicap=right,
        shown=ShownHandicap(strokes=shown),
    )
    (one,) = score_competition(book, read_handicap_book("2024"), terms, [card]).ranked
    return OUT if one.total is None else f"net {one.total}"


ADAPTERS = (
    adapter("scorecard_wrong_score", "returned_total cases", _wrong_scores),
    adapter("scorecard_handicap", "right shown gross", _shown_handicaps),
)
