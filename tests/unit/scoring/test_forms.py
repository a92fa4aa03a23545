"""Cards in each form of play under each edition: what holes count, how breaches are charged, when a player may stop.

Source: Rules of Golf 2016, Rules 32-1a, 32-1b (charges off the total); Rules of Golf 2019, Rule 21.1c; Rules of Golf (January 2023), Rules
21.1c, 21.2, 21.3c (strokes on the hole). The course and the cards are invented; every sum is worked by hand beside it.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from marram.core.errors import CardError
from marram.core.terms import Form
from marram.interchange.books.book_files import read_handicap_book
from marram.scoring.cards.card import CardStatus, Penalty
from marram.scoring.cards.tee import Tee
from marram.scoring.competition.terms_of_competition import Maximum, ParDifference, SetAs, Sides
from marram.scoring.forms.handicap_law import format_name, read_handicap_law
from tests.support.scored_cards import PAR, STROKE_INDEX, card, only, results, terms

LEVEL = list(PAR)
CLUBS = [Penalty(hole=hole, act="too-many-clubs", ruling=f"R{hole}") for hole in (1, 2, 3)]
LATE = [Penalty(act="late-start-within-5", ruling="L1")]
DELAY = [Penalty(hole=5, act="unreasonable-delay", ruling="D1")]
EIGHT = Maximum(set_as=SetAs.FIXED_NUMBER, amount=8)


@pytest.mark.parametrize(
    ("book", "form", "penalties", "total"),
    [
        ("2016", Form.STROKE_PLAY, CLUBS, 76),  # two strokes on each of two holes, the third is over the cap
        ("2023", Form.STROKE_PLAY, CLUBS, 76),
        ("2016", Form.STABLEFORD, CLUBS, 32),  # 36 - 2 - 2
        ("2019", Form.STABLEFORD, CLUBS, 32),
        ("2023", Form.STABLEFORD, CLUBS, 32),  # two over on two holes: 36 - 2 - 2
        ("2016", Form.PAR_BOGEY, CLUBS, -2),  # one hole off for each of two
        ("2019", Form.PAR_BOGEY, CLUBS, -2),
        ("2023", Form.PAR_BOGEY, CLUBS, -2),  # two holes lost
        ("2019", Form.MAXIMUM_SCORE, CLUBS, 76),
        ("2019", Form.STABLEFORD, LATE, 34),  # two points off
        ("2023", Form.STABLEFORD, LATE, 34),  # two over on the first: 0 points for 2
        ("2019", Form.PAR_BOGEY, LATE, -1),
        ("2016", Form.STROKE_PLAY, DELAY, 74),  # 6-7: two strokes
        ("2019", Form.STROKE_PLAY, DELAY, 73),  # 5.6a: one stroke
        ("2016", Form.STABLEFORD, DELAY, 34),  # two points off
        ("2019", Form.STABLEFORD, DELAY, 35),  # one point off
        ("2023", Form.STABLEFORD, DELAY, 35),  # one over: 1 point for 2
        ("2019", Form.PAR_BOGEY, DELAY, -1),
        ("2023", Form.PAR_BOGEY, DELAY, -1),
    ],
)
def test_breaches_are_charged_as_the_form_says(book: str, form: Form, penalties: list[Penalty], total: int) -> None:
    maximum = EIGHT if form is Form.MAXIMUM_SCORE else None
    assert only(book, form, card("A", LEVEL, penalties=penalties), maximum=maximum).total == total


@pytest.mark.parametrize(
    ("book", "form", "total"),
    [
        ("2019", Form.STABLEFORD, 34),  # 40 points with birdies on holes 1 to 4, 4 + 2 off: 34
        ("2023", Form.STABLEFORD, 35),  # hole 1: 2 + 2 strokes, +3 for 0 points; hole 2: +1 for 1 point
        ("2019", Form.PAR_BOGEY, 1),  # 4 holes won, 2 + 1 off
        ("2023", Form.PAR_BOGEY, 0),  # holes 1 and 2 lost in place of won: 4 - 4
    ],
)
def test_off_the_total_is_not_on_the_hole(book: str, form: Form, total: int) -> None:
    birdies = [par - (place < 4) for place, par in enumerate(PAR)]
    assert only(book, form, card("A", birdies, penalties=[*CLUBS, *LATE])).total == total


def test_a_late_start_falls_on_the_hole_where_the_player_began() -> None:
    found = only("2023", Form.STROKE_PLAY, card("A", LEVEL, penalties=LATE, start=10))
    assert [hole.hole for hole in found.rounds[0].holes if hole.strokes != hole.par] == [10]


def test_the_cap_for_clubs_counts_from_the_hole_where_the_player_began() -> None:
    clubs = [Penalty(hole=hole, act="too-many-clubs") for hole in (1, 17, 18)]
    found = only("2023", Form.STROKE_PLAY, card("A", LEVEL, penalties=clubs, start=17))
    assert [hole.hole for hole in found.rounds[0].holes if hole.strokes != hole.par] == [17, 18]


def test_second_and_third_delay() -> None:
    two = [Penalty(hole=hole, act="unreasonable-delay") for hole in (5, 9)]
    three = [*two, Penalty(hole=12, act="unreasonable-delay")]
    assert only("2019", Form.STROKE_PLAY, card("A", LEVEL, penalties=two)).total == 75  # 1 + 2
    assert only("2019", Form.STABLEFORD, card("A", LEVEL, penalties=two)).total == 33  # 1 + 2 points off
    assert only("2019", Form.PAR_BOGEY, card("A", LEVEL, penalties=two)).total == -2
    for form in (Form.STROKE_PLAY, Form.STABLEFORD, Form.PAR_BOGEY):
        assert only("2019", form, card("A", LEVEL, penalties=three)).status is CardStatus.DISQUALIFIED
        assert only("2016", form, card("A", LEVEL, penalties=two)).status is CardStatus.DISQUALIFIED  # 6-7: the second disqualifies


@pytest.mark.parametrize(
    ("book", "act", "form", "total"),
    [
        ("2023", "wrong-ball", Form.STROKE_PLAY, 74),
        ("2023", "hole-not-finished", Form.STABLEFORD, 34),  # spared: no points for the hole
        ("2019", "wrong-place-serious", Form.MAXIMUM_SCORE, 76),  # the maximum of 8 on a par 4
        ("2023", "wrong-place-serious", Form.PAR_BOGEY, -1),
    ],
)
def test_other_acts_cost_what_the_act_says_in_the_form(book: str, act: str, form: Form, total: int) -> None:
    penalty = Penalty(hole=1, act=act, facts=frozenset({"not_put_right_in_time"} if "serious" in act else set()), ruling="R7")
    found = only(book, form, card("A", LEVEL, penalties=[penalty]), maximum=EIGHT if form is Form.MAXIMUM_SCORE else None)
    assert found.total == total
    (charge,) = found.rounds[0].charges
    assert charge.ruling == "R7" and charge.citations


def test_a_penalty_in_the_score_is_told_and_not_added() -> None:
    there = Penalty(hole=4, strokes=1, ruling="R9", is_in_score=True)
    found = only("2023", Form.STROKE_PLAY, card("A", [*LEVEL[:3], 6, *LEVEL[4:]], penalties=[there]))
    assert (found.total, found.rounds[0].charges[0].is_in_score) == (73, True)
    assert only("2023", Form.STROKE_PLAY, card("A", LEVEL, penalties=[Penalty(hole=4, strokes=2)])).total == 74


@pytest.mark.parametrize(
    ("form", "total", "status"),
    [
        (Form.STROKE_PLAY, None, CardStatus.DISQUALIFIED),
        (Form.STABLEFORD, 34, CardStatus.RETURNED),
        (Form.MAXIMUM_SCORE, 76, CardStatus.RETURNED),
        (Form.PAR_BOGEY, -1, CardStatus.RETURNED),
    ],
)
def test_a_blank_hole(form: Form, total: int | None, status: CardStatus) -> None:
    found = only("2023", form, card("A", [*LEVEL[:9], None, *LEVEL[10:]]), maximum=EIGHT if form is Form.MAXIMUM_SCORE else None)
    assert (found.total, found.status) == (total, status)
    assert found.citations


@pytest.mark.parametrize(
    ("form", "maximum", "stops"),
    [
        (Form.STROKE_PLAY, None, None),
        (Form.STABLEFORD, None, 6),  # par 4 with a stroke: 6 is worth one point, a seventh stroke none
        (Form.PAR_BOGEY, None, 5),  # five ties the hole
        (Form.MAXIMUM_SCORE, EIGHT, 7),  # seven counts less than the maximum
        (Form.MAXIMUM_SCORE, Maximum(set_as=SetAs.TIMES_PAR, amount=2), 7),
        (Form.MAXIMUM_SCORE, Maximum(set_as=SetAs.NET_DOUBLE_BOGEY), 6),  # 4 + 2 + 1 = 7
        (Form.MAXIMUM_SCORE, Maximum(set_as=SetAs.OVER_PAR, amount=3), 6),
    ],
)
def test_a_card_says_when_to_stop(form: Form, maximum: Maximum | None, stops: int | None) -> None:
    gross = [*LEVEL[:4], 9, *LEVEL[5:]]
    found = only("2023", form, card("A", gross, handicap=1), maximum=maximum, is_net=True)
    hole = found.rounds[0].holes[4]  # stroke index 1
    assert (hole.stop_after, hole.may_stop) == (stops, stops is not None)
    assert not found.rounds[0].holes[5].may_stop


def test_points_go_on_past_the_table() -> None:
    assert only("2023", Form.STABLEFORD, card("A", [4, 4, 3, 1, *LEVEL[4:]], handicap=18), is_net=True).rounds[0].holes[3].value == 7


def test_net_totals_from_tees_of_different_par() -> None:
    """Rules of Handicapping, Rule 6.2b: the higher par receives the difference where totals are compared, and nowhere else."""
    both = [card("Blue", [*LEVEL[:-1], 5], handicap=10, tee="blue"), card("White", LEVEL, handicap=10, tee="white")]
    found = {one.name: one.total for one in results("2023", Form.STROKE_PLAY, both, is_net=True).ranked}
    assert found == {"Blue": 73 - 11, "White": 72 - 10}
    gives = {
        one.name: one.total
        for one in results("2023", Form.STROKE_PLAY, both, is_net=True, par_difference=ParDifference.LOWER_PAR_GIVES).ranked
    }
    assert gives == {"Blue": 63, "White": 63}
    points = {one.name: one.total for one in results("2023", Form.STABLEFORD, both, is_net=True).ranked}
    assert points == {"Blue": 46, "White": 46}
    against_par = {one.name: one.total for one in results("2023", Form.STROKE_PLAY, both, is_net=True, is_told_against_par=True).ranked}
    assert against_par == {"Blue": -10, "White": -10}
    gross = {one.name: one.total for one in results("2023", Form.STROKE_PLAY, both).ranked}
    assert gross == {"Blue": 73, "White": 72}


def test_a_plus_handicap_gives_strokes() -> None:
    assert only("2023", Form.STROKE_PLAY, card("A", LEVEL, handicap=-2), is_net=True).total == 74
    points = only("2023", Form.STABLEFORD, card("A", LEVEL, handicap=-2), is_net=True)
    assert [hole.hole for hole in points.rounds[0].holes if hole.value == 1] == [3, 16]  # stroke index 17 and 18


def test_a_book_without_the_form_says_so() -> None:
    found = results("2016", Form.MAXIMUM_SCORE, [card("A", LEVEL)], maximum=EIGHT)
    assert found.ranked == () and found.why_none


def test_what_cannot_be_charged_is_told() -> None:
    with pytest.raises(CardError, match="no act 'flying'"):
        only("2023", Form.STROKE_PLAY, card("A", LEVEL, penalties=[Penalty(hole=1, act="flying")]))
    odd = Penalty(hole=1, act="wrong-ball", facts=frozenset({"not_put_rihgt"}))
    with pytest.raises(CardError, match="does not read not-put-rihgt of it"):
        only("2023", Form.STROKE_PLAY, card("A", LEVEL, penalties=[odd]))
    with pytest.raises(CardError, match="no hole is stated"):
        only("2023", Form.STROKE_PLAY, card("A", LEVEL, penalties=[Penalty(act="too-many-clubs")]))
    with pytest.raises(CardError, match="needs a handicap"):
        only("2023", Form.STROKE_PLAY, card("A", LEVEL), is_net=True)


def test_facts_not_reported_disqualify_where_the_form_asks_for_a_report() -> None:
    silent = [Penalty(hole=1, act="too-many-clubs", facts=frozenset({"not_reported"}))]
    assert only("2019", Form.STABLEFORD, card("A", LEVEL, penalties=silent)).status is CardStatus.DISQUALIFIED
    assert only("2023", Form.STABLEFORD, card("A", LEVEL, penalties=silent)).total == 34


def rated(holes: int = 18) -> Tee:
    return Tee(name="white", par=PAR[:holes], stroke_index=STROKE_INDEX, course_rating=Fraction("71.4"), slope_rating=128)


def test_an_index_becomes_strokes_off_the_tee() -> None:
    """Rules of Handicapping 2024, Rules 6.1a and 6.2a: 12.2 x 128 / 113 - 0.6 = 13.2195; x 95 % = 12.5585, so 13; all of it 13 too."""
    one = card("A", LEVEL, handicap_index=Fraction("12.2"))
    found = only("2023", Form.STROKE_PLAY, one, is_net=True, tees={"white": rated()})
    assert (found.total, found.rounds[0].strokes.total) == (72 - 13, 13)
    assert found.rounds[0].strokes.says == "Course Handicap 13.2195 x 95%: 13" and found.rounds[0].strokes.citations
    half = only("2023", Form.STROKE_PLAY, one, is_net=True, tees={"white": rated()}, allowances=(Fraction(1, 2),))
    assert half.rounds[0].strokes.total == 7  # 6.6098
    stated = card("A", LEVEL, course_handicap=Fraction("14.4"))  # 13.68
    assert only("2023", Form.STABLEFORD, stated, is_net=True).rounds[0].strokes.total == 14


def test_a_format_without_a_recommended_allowance_asks_for_one() -> None:
    with pytest.raises(CardError, match="state it"):
        read_handicap_law(read_handicap_book("2024"), terms(Form.STROKE_PLAY, is_net=True, sides=Sides.BEST_BALL))


def test_what_cannot_be_charged_on_any_card_is_told_at_once() -> None:
    odd = [card(name, LEVEL, penalties=[Penalty(hole=1, act=act)]) for name, act in (("A", "flying"), ("B", "LEVEL"), ("C", "diving"))]
    with pytest.raises(CardError, match=r"(?s)3 faults:.*A, hole 1.*flying.*B, hole 1.*C, hole 1.*diving"):
        results("2023", Form.STROKE_PLAY, odd)


def test_exceptional_circumstances_excuse_a_late_start() -> None:
    excused = [Penalty(act="late-start-within-5", facts=frozenset({"exceptional_circumstances"}))]
    assert only("2023", Form.STROKE_PLAY, card("A", LEVEL, penalties=excused)).total == 72


def test_rounds_against_par_are_added_up() -> None:
    rounds = [card("A", LEVEL, round=1), card("A", [*LEVEL[:-1], 6], round=2)]
    found = results("2023", Form.STROKE_PLAY, rounds, rounds=2, is_told_against_par=True).ranked[0]
    assert (found.total, found.words) == (2, "2 over par")


@pytest.mark.parametrize(
    ("sides", "form", "best_of", "players", "name"),
    [
        (Sides.INDIVIDUAL, Form.STABLEFORD, 1, 1, "stableford"),
        (Sides.FOUR_BALL, Form.STROKE_PLAY, 1, 2, "four-ball"),
        (Sides.FOUR_BALL, Form.PAR_BOGEY, 1, 2, "four-ball-par-bogey"),
        (Sides.FOUR_BALL, Form.MATCH_PLAY, 1, 2, "four-ball-match-play"),
        (Sides.FOURSOMES, Form.STABLEFORD, 1, 2, "foursomes"),
        (Sides.FOURSOMES, Form.MATCH_PLAY, 1, 2, "foursomes-match-play"),
        (Sides.GREENSOMES, Form.MATCH_PLAY, 1, 2, "greensomes"),
        (Sides.SCRAMBLE, Form.STROKE_PLAY, 1, 3, "scramble-3"),
        (Sides.BEST_OF, Form.STROKE_PLAY, 2, 4, "best-2-of-4"),
        (Sides.BEST_OF, Form.PAR_BOGEY, 4, 4, "all-4-of-4-par-bogey"),
        (Sides.THREE_BALL, Form.MATCH_PLAY, 1, 1, "match-play"),
    ],
)
def test_each_format_has_its_allowance(sides: Sides, form: Form, best_of: int, players: int, name: str) -> None:
    asked = terms(form, sides=sides, best_of=best_of, is_net=True)
    assert format_name(asked, players) == name
    assert read_handicap_law(read_handicap_book("2024"), asked, players).shares
