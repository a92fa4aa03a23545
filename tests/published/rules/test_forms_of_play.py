"""What each edition says of each form of play, against the collected facts, value by value.

Source: forms_of_play.yaml beside this file, in which each edition of each row names the published title that its values were seen in, or
says that they are from memory. How its sentences read as values stands in forms_of_play_readings.yaml.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from marram.core.terms import Form
from marram.interchange.books.book_files import read_book
from marram.rulebook import packaged_catalogue
from marram.rulings.acts.act_in_form import FormReading, read_in_form
from marram.rulings.acts.acts import rule_on_act
from tests.support.readings import EDITIONS, held, in_order, read_facts, read_in_print

HERE = Path(__file__).parent
FACTS = read_facts(HERE / "forms_of_play.yaml", HERE / "forms_of_play_readings.yaml")


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(("row", "part"), FACTS.stated)
def test_value(row: str, part: str, edition: str) -> None:
    assert in_order(held(row, edition, part)) == in_order(FACTS.expected(row, edition, part))


def test_every_sentence_that_is_read_is_one_of_the_facts() -> None:
    assert not list(FACTS.unread_words())


def test_every_row_of_the_facts_is_read() -> None:
    read = {str(reading.get("of", row)) for row, parts in FACTS.readings.items() for reading in parts.values()}
    assert read == set(FACTS.facts)


def test_what_the_facts_do_not_state_is_not_called_seen() -> None:
    assert not set(FACTS.called_seen()) - read_in_print()


def reading(edition: str, form: Form, act: str, played: Form = Form.STROKE_PLAY, **facts: bool) -> FormReading:
    book = read_book(edition)
    case = rule_on_act(book, act, facts).case
    assert case is not None
    found = read_in_form(book, form, act, case, played)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("edition", "form", "act", "hole", "is_out"),
    [
        ("2019", Form.STABLEFORD, "hole-not-finished", "no-points", False),
        ("2019", Form.STABLEFORD, "wrong-order-foursomes", "", False),
        ("2023", Form.MAXIMUM_SCORE, "hole-not-finished", "maximum", False),
        ("2023", Form.PAR_BOGEY, "hole-not-finished", "hole-lost", False),
        ("2023", Form.STROKE_PLAY, "hole-not-finished", "", True),
        ("2019", Form.STABLEFORD, "late-start-over-5", "", True),
        ("2016", Form.PAR_BOGEY, "hole-not-finished", "hole-lost", False),
        ("2019", Form.PAR_BOGEY, "hole-not-finished", "hole-lost", False),
        ("draft-2017", Form.STABLEFORD, "hole-not-finished", "no-points", False),
        ("2019", Form.FOUR_BALL, "hole-not-finished", "partners-score-counts", False),
        ("2019", Form.FOURSOMES, "hole-not-finished", "", True),
    ],
)
def test_a_breach_that_would_disqualify(edition: str, form: Form, act: str, hole: str, is_out: bool) -> None:  # noqa: FBT001
    """Source: Rules of Golf (January 2019), Rule 21.1c; Rules of Golf (January 2023), Rules 21.1c, 21.2c, 21.3c, printed pages 184, 186."""
    found = reading(edition, form, act)
    assert (found.hole, found.is_out) == (hole, is_out)


@pytest.mark.parametrize(
    ("edition", "form", "act", "strokes", "words"),
    [
        ("2016", Form.STABLEFORD, "too-many-clubs", 0, "two points off the round for each hole with a breach, four at most"),
        ("2019", Form.STABLEFORD, "late-start-within-5", 0, "two points off the round"),
        ("2019", Form.STABLEFORD, "unreasonable-delay", 0, "one the first time, two the second, then disqualified"),
        ("2016", Form.STABLEFORD, "unreasonable-delay", 0, "two the first time, then disqualified"),
        ("2019", Form.PAR_BOGEY, "too-many-clubs", 0, "one hole off the result"),
        ("2023", Form.STABLEFORD, "too-many-clubs", 2, "Two penalty strokes"),
        ("2019", Form.STABLEFORD, "borrows-club", 0, "two points off the round for each hole with a breach, four at most"),
        ("2016", Form.STABLEFORD, "two-caddies", 0, "two points off the round for each hole with a breach, four at most"),
        ("2016", Form.PAR_BOGEY, "ball-of-other-model", 0, "one hole off the result"),
        ("2019", Form.STABLEFORD, "two-caddies", 2, "wo penalty strokes"),
        ("2023", Form.PAR_BOGEY, "late-start-within-5", 2, "Two penalty strokes"),
        ("2023", Form.MAXIMUM_SCORE, "double-hit", 0, "No penalty"),
    ],
)
def test_what_a_form_charges_in_its_own_way(edition: str, form: Form, act: str, strokes: int, words: str) -> None:
    """Source: magazine, Stableford Rule differences (May 2022); Rules of Golf, effective January 2023, printed page 186.

    Clubs, caddies and the one-ball condition in 2016: Rules of Golf 2012-2015, official German text, page 208, and the text pages of
    Rules 4-4 and 6-4 (2016-2017), which all name Note 1 to Rules 32-1a and 32-1b.
    """
    found = reading(edition, form, act)
    assert found.strokes == strokes
    assert words in found.says


def test_a_form_charges_nothing_for_what_costs_nothing() -> None:
    """Source: Decision 4-4a/1 (2016); Rules of Golf (January 2019), Rule 5.3a Exception 3."""
    for edition, act, fact in (
        ("2016", "exchanges-clubs", "put_back_before_stroke"),
        ("2019", "late-start-within-5", "exceptional_circumstances"),
    ):
        book = read_book(edition)
        case = rule_on_act(book, act, {fact: True}).case
        assert case is not None
        found = read_in_form(book, Form.STABLEFORD, act, case)
        assert found is not None
        assert (found.strokes, found.says) == (0, "No penalty.")


def test_partners_bear_penalties_as_their_form_says() -> None:
    """Source: Rules of Golf (January 2019), Rules 22.1 and 23.8, from memory."""
    side = reading("2019", Form.FOURSOMES, "bunker-ground-club")
    assert (side.strokes, side.bears) == (2, "side")
    partner = reading("2019", Form.FOUR_BALL, "bunker-ground-club", Form.MATCH_PLAY)
    assert (partner.strokes, partner.hole, partner.bears) == (0, "lost", "partner-who-did")


def test_a_form_that_an_edition_does_not_know() -> None:
    """Source: 2017 draft proposed-change page, Maximum Score Form of Stroke Play."""
    book = read_book("2016")
    case = rule_on_act(book, "double-hit", {}).case
    assert case is not None
    assert read_in_form(book, Form.MAXIMUM_SCORE, "double-hit", case) is None


def test_every_part_of_these_rows_is_compared_or_follows_from_other_rows() -> None:
    follow = {"takes_after", "bears_penalty", "spares", "clubs_as", "clubs_each", "clubs_most", "late_as", "late_amount", "delay_as"}
    follow |= {"hole_ends", "round_ends", "in_doubt", "may_concede", "counts", "out_of_turn", "tied_hole", "clubs", "late", "delay", "wins"}
    follow |= {"unfinished"}
    follow |= {"wrong_score_must_count"}  # compared card by card in tests/published/scoring/wrong-scores-of-sides.yaml
    rows = [row for row in packaged_catalogue().rows.values() if row.situation == "forms_of_play"]
    stated = {(row.id, name) for row in rows for cell in row.editions.values() for name in cell.values if row.parts[name].decides}
    assert {name for row, name in stated - set(FACTS.stated)} <= follow
