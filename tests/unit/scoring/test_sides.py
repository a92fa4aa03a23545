"""Sides: one ball off one handicap, and the best of several balls, in stroke play and in matches.

Source: Rules of Golf (January 2023), Rules 22 and 23; Rules of Handicapping 2024, Appendix C (allowances, the lowest handicap first).
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from marram.core.errors import CardError
from marram.core.terms import Form
from marram.scoring.cards.card import Card, CardStatus, Penalty
from marram.scoring.competition.terms_of_competition import Maximum, SetAs, Sides
from tests.support.scored_cards import PAR, STROKE_INDEX, card, only, results

LEVEL = list(PAR)
BLANK: list[int | None] = [None] * 18


def partner(player: str, side: str, gross: list[int | None] | list[int], **more: object) -> Card:
    return card(player, gross, **{"side": side, **more})  # type: ignore[arg-type]


def one_ball(course_handicaps: list[str], gross: list[int]) -> list[Card]:
    """A side that plays one ball: the first row holds the scores."""
    return [
        partner(str(place), "AB", gross if place == 0 else BLANK, course_handicap=Fraction(course))
        for place, course in enumerate(course_handicaps)
    ]


@pytest.mark.parametrize(
    ("sides", "course_handicaps", "handicap"),
    [
        (Sides.FOURSOMES, ["10.4", "19.7"], 15),  # half of 30.1 is 15.05
        (Sides.GREENSOMES, ["17.8", "6.3"], 11),  # 60 % of 6.3 and 40 % of 17.8: 10.90
        (Sides.BOTH_DRIVE_AND_SWAP, ["6.3", "17.8"], 11),
        (Sides.SCRAMBLE, ["20.5", "9.0"], 6),  # 35 % of 9 and 15 % of 20.5: 6.225
        (Sides.SCRAMBLE, ["7.5", "14.0", "22.0"], 7),  # 2.25 + 2.80 + 2.20 = 7.25
        (Sides.SCRAMBLE, ["5.0", "10.0", "15.0", "20.0"], 8),  # 1.25 + 2 + 2.25 + 2 = 7.5, halves up: 8
    ],
)
def test_one_ball_off_one_handicap(sides: Sides, course_handicaps: list[str], handicap: int) -> None:
    (found,) = results("2023", Form.STROKE_PLAY, one_ball(course_handicaps, LEVEL), sides=sides, is_net=True).ranked
    assert (found.name, found.total) == ("AB", 72 - handicap)
    points = results("2023", Form.STABLEFORD, one_ball(course_handicaps, LEVEL), sides=sides, is_net=True).ranked[0]
    assert points.total == 36 + handicap  # each stroke makes a point more


def test_the_handicap_of_a_side_may_be_stated_once() -> None:
    cards = [partner("A", "AB", LEVEL, handicap=9), partner("B", "AB", BLANK)]
    assert results("2023", Form.STROKE_PLAY, cards, sides=Sides.FOURSOMES, is_net=True).ranked[0].total == 63


def test_a_side_that_plays_one_ball_is_penalised_as_a_side() -> None:
    late = [Penalty(act="late-start-within-5", ruling="R1")]
    cards = [partner("A", "AB", LEVEL), partner("B", "AB", BLANK, penalties=late)]
    found = results("2023", Form.STROKE_PLAY, cards, sides=Sides.FOURSOMES).ranked[0]
    assert (found.total, found.charges[0].ruling) == (74, "R1")


def test_faults_of_sides() -> None:
    with pytest.raises(CardError, match="one score for a hole"):
        results("2023", Form.STROKE_PLAY, [partner("A", "AB", LEVEL), partner("B", "AB", LEVEL)], sides=Sides.FOURSOMES)
    with pytest.raises(CardError, match="column side"):
        results("2023", Form.STROKE_PLAY, [card("A", LEVEL)], sides=Sides.FOUR_BALL)
    with pytest.raises(CardError, match="each player"):
        results("2023", Form.STROKE_PLAY, [partner("A", "AB", LEVEL), partner("B", "AB", BLANK)], sides=Sides.FOURSOMES, is_net=True)


A_GROSS: list[int | None] = [None, 5, *LEVEL[2:]]
B_GROSS: list[int | None] = [5, None, *[par + 1 for par in PAR[2:]]]


@pytest.mark.parametrize(
    ("form", "total"),
    [
        (Form.STROKE_PLAY, 74),  # 5 and 5 on the first two, level after that
        (Form.STABLEFORD, 34),
        (Form.PAR_BOGEY, -2),
        (Form.MAXIMUM_SCORE, 74),
    ],
)
def test_the_better_ball_counts(form: Form, total: int) -> None:
    maximum = Maximum(set_as=SetAs.FIXED_NUMBER, amount=8) if form is Form.MAXIMUM_SCORE else None
    cards = [partner("A", "AB", A_GROSS), partner("B", "AB", B_GROSS)]
    assert results("2023", form, cards, sides=Sides.FOUR_BALL, maximum=maximum).ranked[0].total == total


def test_a_hole_that_no_partner_finishes() -> None:
    cards = [partner("A", "AB", [None, *LEVEL[1:]]), partner("B", "AB", [None, *LEVEL[1:]])]
    stroke = results("2023", Form.STROKE_PLAY, cards, sides=Sides.FOUR_BALL).ranked[0]
    assert (stroke.status, stroke.total) == (CardStatus.DISQUALIFIED, None) and stroke.citations
    assert results("2023", Form.STABLEFORD, cards, sides=Sides.FOUR_BALL).ranked[0].total == 34


def test_each_partner_has_his_own_strokes() -> None:
    """Four-ball stroke play: 85 % of 10 is 8.5, so 9 strokes for A; none for B, who is a stroke better on every hole of index 10 to 18."""
    a = partner("A", "AB", LEVEL, course_handicap=Fraction(10))
    b = partner("B", "AB", [par - (index > 9) for par, index in zip(PAR, STROKE_INDEX, strict=True)], course_handicap=Fraction(0))
    assert results("2023", Form.STROKE_PLAY, [a, b], sides=Sides.FOUR_BALL, is_net=True).ranked[0].total == 72 - 18


def test_best_of_several_adds_up_as_many_as_count() -> None:
    team = [partner(name, "T", gross) for name, gross in (("A", LEVEL), ("B", [par + 1 for par in PAR]), ("C", [par - 1 for par in PAR]))]
    assert results("2023", Form.STROKE_PLAY, team, sides=Sides.BEST_OF, best_of=2).ranked[0].total == 72 + 54
    assert results("2023", Form.STABLEFORD, team, sides=Sides.BEST_OF, best_of=3).ranked[0].total == 36 + 18 + 54
    assert results("2023", Form.STROKE_PLAY, team, sides=Sides.BEST_OF, best_of=1).ranked[0].total == 54


def test_a_partner_who_is_out_leaves_the_other_to_play_for_the_side() -> None:
    cards = [partner("A", "AB", LEVEL), partner("B", "AB", [3] * 18, status=CardStatus.WITHDRAWN, why="withdrawn")]
    assert results("2023", Form.STROKE_PLAY, cards, sides=Sides.FOUR_BALL).ranked[0].total == 72


def test_points_off_the_round_come_off_the_side_once() -> None:
    late = [Penalty(act="late-start-within-5")]
    cards = [partner("A", "AB", LEVEL, penalties=late), partner("B", "AB", LEVEL)]
    assert results("2019", Form.STABLEFORD, cards, sides=Sides.FOUR_BALL).ranked[0].total == 34
    assert results("2023", Form.STABLEFORD, cards, sides=Sides.FOUR_BALL).ranked[0].total == 36  # on A's first hole, and B's counts


def test_four_ball_is_counted_back_by_strokes_as_they_fall() -> None:
    """A stroke on hole 5 only: by share it would come off the last nine, as it falls it does not."""
    one = [partner("A", "AB", [par + (hole == 5) for hole, par in enumerate(PAR, 1)], handicap=1), partner("B", "AB", BLANK, handicap=0)]
    two = [partner("C", "CD", LEVEL, handicap=0), partner("D", "CD", BLANK, handicap=0)]
    found = results("2023", Form.STROKE_PLAY, [*one, *two], sides=Sides.FOUR_BALL, is_net=True).ranked
    assert [one.placed.decided_by for one in found if one.placed is not None] == ["joint", "joint"]


def test_four_ball_match() -> None:
    """90 % of 6.4, 14.9, 10.2 and 21.7 are 6, 13, 9 and 20: off 6 the others receive 7, 3 and 14 (Appendix C)."""
    cards = [
        partner(name, side, LEVEL[:9], match="1", course_handicap=Fraction(course))
        for name, side, course in (("A", "AB", "6.4"), ("B", "AB", "14.9"), ("C", "CD", "10.2"), ("D", "CD", "21.7"))
    ]
    (found,) = results("2023", Form.MATCH_PLAY, cards, sides=Sides.FOUR_BALL, is_net=True).matches
    assert [ball.received for ball in found.balls] == [0, 7, 3, 14]
    # D alone has a stroke on holes 1, 4 and 9 (index 9, 11 and 13); B and D on 2, 5, 6 and 8
    assert [hole.won.outcome for hole in found.holes] == [-1, 0, 0, -1, 0, 0, 0, 0, -1]


def test_foursomes_match() -> None:
    """Half of 23.4 and 36.6: 12 and 18, so the second side receives six (Appendix C)."""
    cards = [
        partner(f"{side}{place}", side, LEVEL[:3] if place == 0 else BLANK, match="1", course_handicap=Fraction(course))
        for side, courses in (("one", ("8.1", "15.3")), ("two", ("12.0", "24.6")))
        for place, course in enumerate(courses)
    ]
    (found,) = results("2023", Form.MATCH_PLAY, cards, sides=Sides.FOURSOMES, is_net=True).matches
    assert [(ball.name, ball.received) for ball in found.balls] == [("one", 0), ("two", 6)]


def test_best_ball_is_one_against_the_better_of_two() -> None:
    cards = [card("A", [4, 4], match="1"), partner("B", "BC", [5, 3], match="1"), partner("C", "BC", [3, 5], match="1")]
    (found,) = results("2023", Form.MATCH_PLAY, cards, sides=Sides.BEST_BALL).matches
    assert [hole.won.outcome for hole in found.holes] == [-1, -1]


def test_a_player_alone_is_no_side() -> None:
    assert only("2023", Form.STROKE_PLAY, card("A", LEVEL)).name == "A"


def test_what_a_partner_bears_too() -> None:
    """Rule 23.8a: too many clubs cost the side, any other breach the partner who did it, unless it helped the other."""
    clubs = [Penalty(hole=1, act="too-many-clubs")]
    level = partner("B", "AB", LEVEL)
    side = results("2023", Form.STROKE_PLAY, [partner("A", "AB", LEVEL, penalties=clubs), level], sides=Sides.FOUR_BALL)
    assert side.ranked[0].total == 74
    wrong_place = [Penalty(hole=1, act="wrong-place-minor")]
    alone = results("2023", Form.STROKE_PLAY, [partner("A", "AB", LEVEL, penalties=wrong_place), level], sides=Sides.FOUR_BALL)
    assert alone.ranked[0].total == 72
    helped = [Penalty(hole=1, act="wrong-place-minor", facts=frozenset({"helped_partner"}))]
    both = results("2023", Form.STROKE_PLAY, [partner("A", "AB", LEVEL, penalties=helped), level], sides=Sides.FOUR_BALL)
    assert both.ranked[0].total == 74


def test_a_disqualification_of_one_or_of_both() -> None:
    late = [Penalty(act="late-start-over-5")]
    one = results(
        "2023", Form.STROKE_PLAY, [partner("A", "AB", [3] * 18, penalties=late), partner("B", "AB", LEVEL)], sides=Sides.FOUR_BALL
    )
    assert one.ranked[0].total == 72  # B plays for the side
    both = [partner("A", "AB", LEVEL, penalties=late), partner("B", "AB", LEVEL, penalties=late)]
    assert results("2023", Form.STROKE_PLAY, both, sides=Sides.FOUR_BALL).ranked[0].status is CardStatus.DISQUALIFIED
    altered = [Penalty(hole=3, act="altered-ball-played")]
    side = results(
        "2023", Form.STROKE_PLAY, [partner("A", "AB", LEVEL, penalties=altered), partner("B", "AB", LEVEL)], sides=Sides.FOUR_BALL
    )
    assert side.ranked[0].status is CardStatus.DISQUALIFIED


def test_one_partner_is_enough_to_certify() -> None:
    cards = [partner("A", "AB", LEVEL), partner("B", "AB", BLANK, is_certified_by_player=False)]
    assert results("2023", Form.STROKE_PLAY, cards, sides=Sides.FOURSOMES).ranked[0].total == 72
