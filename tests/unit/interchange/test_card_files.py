"""Terms and cards as files: every member and every column is read as docs/formats/terms.md and docs/formats/cards.md say."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from marram.core.errors import CardError
from marram.core.terms import Form
from marram.interchange.cards.competition_files import Competition, read_competition
from marram.scoring.cards.card import CardStatus, Correction, HoleEntry, Penalty, PlayedOut, Procedure, ShownHandicap, TwoBalls
from marram.scoring.cards.concessions import Conceded, Concession
from marram.scoring.competition.terms_of_competition import Fractions, Maximum, OverHoles, ParDifference, SetAs, Sides, Step, Ties

TEE = '[[tee]]\nname = "white"\npar = [4, 4, 3, 5, 4, 4, 3, 4, 5]\nstroke_index = [9, 5, 7, 1, 3, 6, 8, 2, 4]\n'
BLUE = TEE.replace("white", "blue") + "course_rating = 35.7\nslope_rating = 121\n"
HOLES = ",".join(str(hole) for hole in range(1, 10))
LEVEL = "4,4,3,5,4,4,3,4,5"


def read(folder: Path, terms: str = 'form = "stroke-play"', cards: str = f"player,{HOLES}\nA,{LEVEL}\n", tees: str = TEE) -> Competition:
    (folder / "cards.csv").write_text(cards, encoding="utf-8")
    (folder / "terms.toml").write_text(f'title = "Nine"\n{terms}\n{tees}', encoding="utf-8")
    return read_competition(folder / "cards.csv", folder / "terms.toml")


ALL = """form = "maximum-score"
sides = "best-of"
scores = "net"
rounds = 2
allowance_pct = [60, 37.5]
target = "bogey"
maximum = { over_par = 3 }
told = "against-par"
different_pars = "lower-par-gives"
best_of = 2
handicapping = "2020+rating-less-par-left-out"
certification = "two-strokes"
may_end_tied = true
[ties]
steps = ["last-round", "countback", "lot"]
fractions = "rounded"
counted = "strokes-as-they-fall"
drawn = ["B", "A"]
"""


def test_every_member_of_the_terms(tmp_path: Path) -> None:
    cards = f"player,side,tee,handicap_index,{HOLES}\nA,T,blue,12.3,{LEVEL}\nB,T,blue,+1.4,{LEVEL}\n"
    found = read(tmp_path, ALL, cards, TEE + BLUE)
    terms = found.terms
    assert (terms.title, terms.form, terms.sides, terms.is_net, terms.rounds) == ("Nine", Form.MAXIMUM_SCORE, Sides.BEST_OF, True, 2)
    assert terms.allowances == (Fraction(60, 100), Fraction(375, 1000))
    assert (terms.over_par, terms.maximum) == (1, Maximum(set_as=SetAs.OVER_PAR, amount=3))
    assert (terms.is_told_against_par, terms.par_difference) == (True, ParDifference.LOWER_PAR_GIVES)
    assert (terms.best_of, terms.has_certification_penalty, terms.may_end_tied) == (2, True, True)
    assert found.handicapping.name == "2020+rating-less-par-left-out"
    assert terms.ties == Ties(
        steps=(Step.LAST_ROUND, Step.LAST_9, Step.LAST_6, Step.LAST_3, Step.LAST_1, Step.LOT),
        fractions=Fractions.ROUNDED,
        counted=OverHoles.STROKES_AS_THEY_FALL,
        drawn=("B", "A"),
    )
    blue = terms.tees["blue"]
    assert (blue.course_rating, blue.slope_rating, blue.total_par, blue.stroke_index[3]) == (Fraction("35.7"), 121, 36, 1)
    assert [card.handicap_index for card in found.cards] == [Fraction("12.3"), Fraction("-1.4")]


@pytest.mark.parametrize(
    ("terms", "maximum"),
    [
        ("maximum = { fixed = 8 }", Maximum(set_as=SetAs.FIXED_NUMBER, amount=8)),
        ("maximum = { times_par = 2 }", Maximum(set_as=SetAs.TIMES_PAR, amount=2)),
        ("maximum = { net_double_bogey = true }", Maximum(set_as=SetAs.NET_DOUBLE_BOGEY)),
    ],
)
def test_a_maximum(terms: str, maximum: Maximum, tmp_path: Path) -> None:
    assert read(tmp_path, f'form = "maximum-score"\n{terms}').terms.maximum == maximum


def test_targets_hole_by_hole(tmp_path: Path) -> None:
    found = read(tmp_path, 'form = "stableford"\ntarget = [5, 4, 3, 5, 4, 4, 3, 4, 6]').terms
    assert [found.target_of(place, 4) for place in (0, 8)] == [5, 6]
    with pytest.raises(CardError, match="2 scores for 9 holes"):
        read(tmp_path, 'form = "stableford"\ntarget = [5, 4]')


COLUMNS = f"player,side,match,round,tee,start,course_handicap,playing_handicap,handicap_on_card,{HOLES}"
EXTRA = "penalties,penalties_in_scores,corrections,two_balls,certified,status"


def test_every_column_of_a_card(tmp_path: Path) -> None:
    cards = (
        f"{COLUMNS},{EXTRA}\n"
        f"A,T,,2,white,4,14.4,+2,13,4,x,,P2,4,4,3,4,5,"
        "3: too-many-clubs (not-reported) @R1; 7: 2 @R2,4: 1 @R3; 5: wrong-ball @R4,5: 6 @R5; 6: 4+2 (was-told-or-unsure-and-kept-silent),"
        '"7: 5 allowed / 6 not-allowed+2, chosen second @R6",marker,withdrawn: hurt\n'
    )
    (card,) = read(tmp_path, 'form = "stroke-play"\nrounds = 2', cards).cards
    assert (card.player, card.side, card.round, card.tee, card.start) == ("A", "T", 2, "white", 4)
    assert (card.course_handicap, card.playing_handicap, card.shown) == (Fraction("14.4"), -2, ShownHandicap(strokes=13))
    assert card.entries[:4] == (
        HoleEntry(strokes=4),
        HoleEntry(is_picked_up=True),
        HoleEntry(),
        HoleEntry(is_picked_up=True, given_up=2),
    )
    assert card.penalties == (
        Penalty(hole=3, act="too-many-clubs", facts=frozenset({"not_reported"}), ruling="R1"),
        Penalty(hole=7, strokes=2, ruling="R2"),
        Penalty(hole=4, strokes=1, ruling="R3", is_in_score=True),
        Penalty(hole=5, act="wrong-ball", ruling="R4", is_in_score=True),
    )
    assert card.corrections == (
        Correction(hole=5, actual=6, ruling="R5"),
        Correction(hole=6, actual=4, left_out=2, facts=frozenset({"was_told_or_unsure_and_kept_silent"})),
    )
    balls = (PlayedOut(strokes=5, procedure=Procedure.ALLOWED), PlayedOut(strokes=6, procedure=Procedure.NOT_ALLOWED, penalty=2))
    assert card.two_balls == (TwoBalls(hole=7, balls=balls, chosen=1, ruling="R6"),)
    assert (card.is_certified_by_player, card.is_certified_by_marker) == (False, True)
    assert (card.status, card.why) == (CardStatus.WITHDRAWN, "withdrawn: hurt")


@pytest.mark.parametrize(
    ("text", "chosen", "is_reported"),
    [("2: 5 allowed / 4 serious", None, True), ("2: 5 allowed / 4 serious, chosen first (not-reported)", 0, False)],
)
def test_two_balls_in_other_words(text: str, chosen: int | None, is_reported: bool, tmp_path: Path) -> None:
    (card,) = read(tmp_path, cards=f'player,{HOLES},two_balls\nA,{LEVEL},"{text}"\n').cards
    assert (card.two_balls[0].chosen, card.two_balls[0].is_reported) == (chosen, is_reported)


def test_concessions(tmp_path: Path) -> None:
    cards = f"match,player,{HOLES},concessions\n1,A,{LEVEL},2: hole (taken-back); match (too-late)\n1,B,{LEVEL},3: stroke (not-by-player)\n"
    found = read(tmp_path, 'form = "match-play"', cards).cards
    assert found[0].concessions == (
        Concession(what=Conceded.HOLE, hole=2, is_taken_back=True),
        Concession(what=Conceded.MATCH, is_in_time=False),
    )
    assert found[1].concessions == (Concession(what=Conceded.STROKE, hole=3, is_by_player=False),)
    with pytest.raises(CardError, match="nothing is conceded outside match play"):
        read(tmp_path, cards=cards)


def test_terms_name_a_book_of_handicapping(tmp_path: Path) -> None:
    assert read(tmp_path).handicapping.name == "2024"
    with pytest.raises(CardError, match="handicapping"):
        read(tmp_path, 'form = "stroke-play"\nhandicapping = "1066"')


def test_a_plus_that_was_lost_shows_beside_the_course_handicap(tmp_path: Path) -> None:
    """1.2 over nine: 0.6 x 121 / 113 - 0.3 = 0.34, so 0; with its plus -0.94, so +1. 12.0 gives 6.13, so 6 (Rule 6.1b of 2024)."""
    cards = f"player,handicap_index,course_handicap,{HOLES}\nA,1.2,+1,{LEVEL}\nB,+1.2,+1,{LEVEL}\nC,12.0,6,{LEVEL}\n"
    with pytest.raises(
        CardError, match=r"1 fault:\s+row 2, column handicap_index: 1\.2 gives a Course Handicap of 0, and \+1\.2 gives the \+1"
    ):
        read(tmp_path, cards=cards, tees=BLUE)
