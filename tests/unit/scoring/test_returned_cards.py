"""What a returned card answers for, edition by edition, and which of two balls counts.

Source: Rules of Golf 2016, Rules 6-2b, 6-6 and 3-3; Rules of Golf 2019 and (January 2023), Rules 3.3b, 20.1c, 14.7b; Local Rule L-1.
"""

from __future__ import annotations

import pytest

from marram.core.terms import Form
from marram.interchange.books.book_files import read_book
from marram.scoring.cards.card import CardStatus, Correction, PlayedOut, Procedure, ShownHandicap, TwoBalls
from marram.scoring.competition.terms_of_competition import Maximum, SetAs
from marram.scoring.forms.two_balls import which_ball_counts
from tests.support.scored_cards import PAR, card, only

LEVEL = list(PAR)
OUT = None
KEPT_SILENT = frozenset({"was_told_or_unsure_and_kept_silent"})
TOO_LATE = frozenset({"found_after_close_of_competition"})


@pytest.mark.parametrize(
    ("book", "correction", "total"),
    [
        ("2016", Correction(hole=2, actual=3), 72),  # higher stands as returned
        ("2023", Correction(hole=2, actual=3), 72),
        ("2016", Correction(hole=2, actual=5), OUT),  # lower disqualifies
        ("2019", Correction(hole=2, actual=5), OUT),
        ("2023", Correction(hole=2, actual=5), OUT),
        ("2016", Correction(hole=2, actual=4, left_out=2), 76),  # the penalty and two more
        ("2019", Correction(hole=2, actual=4, left_out=2), 74),
        ("2023", Correction(hole=2, actual=4, left_out=1), 73),
        ("2023", Correction(hole=2, actual=4, left_out=2, facts=KEPT_SILENT), OUT),
        ("2016", Correction(hole=2, actual=4, left_out=2, facts=TOO_LATE), 72),
        ("2023", Correction(hole=2, actual=4, left_out=2, facts=frozenset({"penalty_left_out_is_disqualification"})), OUT),
    ],
)
def test_a_hole_score_that_was_wrong(book: str, correction: Correction, total: int | None) -> None:
    found = only(book, Form.STROKE_PLAY, card("A", LEVEL, corrections=(correction,)))
    assert (found.total, found.status is CardStatus.DISQUALIFIED) == (total, total is OUT)
    assert found.decisions[0].citations and found.decisions[0].says


def test_a_low_score_without_effect_on_the_hole() -> None:
    """Par or bogey: 6 or 7 on a par 4 is a loss all the same (Rule 21.3b(2)); 4 for 5 turns a loss into a tie."""
    lost = [*LEVEL[:1], 6, *LEVEL[2:]]
    assert only("2023", Form.PAR_BOGEY, card("A", lost, corrections=(Correction(hole=2, actual=7),))).total == -1
    assert only("2023", Form.PAR_BOGEY, card("A", LEVEL, corrections=(Correction(hole=2, actual=5),))).status is CardStatus.DISQUALIFIED


@pytest.mark.parametrize(
    ("book", "has_local_rule", "total"),
    [("2016", False, OUT), ("2019", True, OUT), ("2023", False, OUT), ("2023", True, 74)],
)
def test_a_card_that_was_not_certified(book: str, has_local_rule: bool, total: int | None) -> None:
    one = card("A", LEVEL, is_certified_by_marker=False)
    found = only(book, Form.STROKE_PLAY, one, has_certification_penalty=has_local_rule)
    assert found.total == total
    if total:
        assert found.rounds[0].holes[-1].strokes == 6  # on the last hole


@pytest.mark.parametrize(
    ("book", "shown", "total"),
    [
        ("2016", 14, OUT), ("2019", 14, OUT), ("2023", 14, 60),
        ("2016", 10, 62), ("2019", 10, 62), ("2023", 10, 60),
        ("2016", None, OUT), ("2019", None, OUT), ("2023", None, 60),
        ("2019", 12, 60),
    ],
)  # fmt: skip
def test_the_handicap_on_the_card(book: str, shown: int | None, total: int | None) -> None:
    one = card("A", LEVEL, handicap=12, shown=ShownHandicap(strokes=shown))
    assert only(book, Form.STROKE_PLAY, one, is_net=True).total == total


def two(first: tuple[int, str], second: tuple[int, str], chosen: int | None = 0, **more: object) -> TwoBalls:
    balls = tuple(
        PlayedOut(strokes=strokes, procedure=Procedure(word), penalty=0 if word == "allowed" else 2) for strokes, word in (first, second)
    )
    return TwoBalls(**{"hole": 2, "balls": balls, "chosen": chosen, **more})  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("hole", "strokes"),
    [
        (two((5, "allowed"), (4, "allowed"), chosen=0), 5),
        (two((5, "allowed"), (4, "allowed"), chosen=1), 4),
        (two((5, "allowed"), (4, "not-allowed"), chosen=1), 5),  # the other ball counts
        (two((5, "not-allowed"), (4, "not-allowed"), chosen=0), 7),  # the chosen ball with its penalty
        (two((5, "serious"), (4, "not-allowed"), chosen=0), 6),
        (two((5, "not-allowed"), (4, "serious"), chosen=1), 7),
        (two((5, "allowed"), (4, "allowed"), chosen=None), 5),  # none chosen: the ball played first
        (two((5, "serious"), (4, "serious")), OUT),
        (two((5, "allowed"), (5, "allowed"), is_reported=False), OUT),  # even though both scores are equal
    ],
)
@pytest.mark.parametrize("book", ["2016", "2019", "2023"])
def test_which_of_two_balls_counts(book: str, hole: TwoBalls, strokes: int | None) -> None:
    """Rules of Golf (January 2023), Rules 20.1c(3), 20.1c(4) and 14.7b(3); the score on the card is replaced."""
    found = only(book, Form.STROKE_PLAY, card("A", [*LEVEL[:1], 9, *LEVEL[2:]], two_balls=(hole,)))
    assert found.total == (None if strokes is OUT else 68 + strokes)
    assert found.decisions[0].citations


def test_two_serious_breaches_cost_the_hole_where_the_form_spares_it() -> None:
    both = two((5, "serious"), (4, "serious"))
    assert only("2023", Form.STABLEFORD, card("A", LEVEL, two_balls=(both,))).total == 34
    eight = Maximum(set_as=SetAs.FIXED_NUMBER, amount=8)
    assert only("2023", Form.MAXIMUM_SCORE, card("A", LEVEL, two_balls=(both,)), maximum=eight).total == 76
    assert which_ball_counts(read_book("2023"), Form.PAR_BOGEY, both).has_no_score


def _with(hole: int, strokes: int) -> list[int]:
    return [strokes if place == hole else par for place, par in enumerate(PAR, start=1)]


@pytest.mark.parametrize("book", ["2016", "2019", "2023"])
@pytest.mark.parametrize(
    ("form", "returned", "actual", "is_free"),
    [
        (Form.STABLEFORD, 2, 3, True),  # two and three over are both no points
        (Form.STABLEFORD, 1, 2, False),  # one over is a point
        (Form.PAR_BOGEY, 1, 2, True),  # the hole is lost either way
        (Form.PAR_BOGEY, 0, 1, False),
        (Form.STROKE_PLAY, 2, 3, False),
    ],
)
def test_a_score_too_low_that_changes_no_hole_costs_nothing(book: str, form: Form, returned: int, actual: int, *, is_free: bool) -> None:
    """Rules of Golf 2016, Rule 32-2a on 6-6d; Rules of Golf 2019 and 2023, Rules 21.1b(2) and 21.3b(2).

    All of it is from memory, but for par or bogey since 2019.
    """
    wrong = Correction(hole=2, actual=PAR[1] + actual)
    found = only(book, form, card("A", _with(2, PAR[1] + returned), corrections=(wrong,)))
    right = only(book, form, card("A", _with(2, PAR[1] + actual)))
    if not is_free:
        assert found.total is None
        return
    assert found.total == right.total
    (decision,) = found.decisions
    assert "without effect" in decision.says
    is_seen = (book, form) in {("2019", Form.PAR_BOGEY), ("2023", Form.PAR_BOGEY)}
    assert any("memory" in citation.seen for citation in decision.citations) is not is_seen
