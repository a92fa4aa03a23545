"""Match play: states, results in words, strokes off the lowest, extra holes, holes off the match, concessions, a wrong handicap.

Source: Rules of Golf (January 2023), Rules 3.2 and 4.1b(4); Rules of Golf 2016, Rules 2 and 6-2a; Rules of Handicapping 2024, Appendix C.
"""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from marram.core.errors import CardError
from marram.core.terms import Form
from marram.interchange.books.book_files import read_book
from marram.scoring.cards.card import Card, CardStatus, HoleEntry, Penalty, ShownHandicap
from marram.scoring.cards.concessions import Conceded, Concession
from marram.scoring.competition.terms_of_competition import Sides
from marram.scoring.matches.concession import judge_concession
from marram.scoring.matches.hole_won import BallPlayed, who_wins
from marram.scoring.matches.match_score import MatchScore
from marram.scoring.matches.state import Ended, follow_match
from tests.support.scored_cards import PAR, card, results

LEVEL = list(PAR)


@pytest.mark.parametrize(
    ("outcomes", "winner", "result", "ended_on", "dormie"),
    [
        ([1] * 10, 1, "10 & 8", 10, 9),
        ([1, 1, *[0] * 14, 0], 1, "2 & 1", 17, 16),
        ([-1, *[0] * 17], -1, "1 up", 18, 17),
        ([1, *[0] * 16, 1], 1, "2 up", 18, 17),
        ([0] * 18, 0, "all square", 18, None),  # Rule 3.2a(4) (2023): extra holes, unless the terms let a match end in a tie
        ([*[0] * 18, 0, -1], -1, "20th hole", 20, None),
        ([1, 1, 1, *[0] * 8], 0, "3 up", 11, None),
        ([*[0] * 20, 1], 1, "21st hole", 21, None),
        ([*[0] * 21, 1], 1, "22nd hole", 22, None),
        ([1, -1, *[0] * 15], 0, "all square", 17, None),
    ],
)
def test_a_match_hole_by_hole(outcomes: list[int], winner: int, result: str, ended_on: int, dormie: int | None) -> None:
    course = follow_match(outcomes, 18)
    assert (course.winner, course.result, course.ended_on, course.dormie_after) == (winner, result, ended_on, dormie)


def test_holes_after_the_end_do_not_count_and_a_tie_may_stand() -> None:
    assert follow_match([1] * 18, 18).ended_on == 10
    assert follow_match([*[0] * 18, 1], 18, may_end_tied=True).ended is Ended.TIED
    assert follow_match([0] * 18, 18, may_end_tied=True).result == "tied"
    assert follow_match([0] * 18, 18).ended is Ended.NOT_OVER
    assert follow_match([*[0] * 18, 0], 18).ended is Ended.NOT_OVER
    assert follow_match([0] * 17, 18).ended is Ended.NOT_OVER


def test_holes_come_off_the_match_after_the_hole_of_the_breach() -> None:
    course = follow_match([1, 1, 1], 18, {1: -1, 2: -1})
    assert [state.lead for state in course.states] == [0, 0, 1]
    assert [state.words for state in course.states] == ["all square", "all square", "1 up"]


def test_dormie_in_words() -> None:
    assert follow_match([1, 1, *[0] * 14], 18).states[-1].words == "2 up, dormie"


def match(a: Card, b: Card, book: str = "2023", **more: object) -> MatchScore:
    (found,) = results(book, Form.MATCH_PLAY, [a, b], **more).matches
    return found


def of_match(player: str, gross: Sequence[int | None], **more: object) -> Card:
    return card(player, gross, **{"match": "final", **more})  # type: ignore[arg-type]


def test_strokes_are_received_off_the_lowest() -> None:
    """+2 and 3: the difference is 5, on stroke index 1 to 5: holes 2, 5, 8, 12 and 14."""
    found = match(of_match("A", LEVEL, handicap=-2), of_match("B", LEVEL, handicap=3), is_net=True)
    assert [(ball.received, [hole for hole, stroke in enumerate(ball.by_hole, 1) if stroke]) for ball in found.balls] == [
        (0, []),
        (5, [2, 5, 8, 12, 14]),
    ]
    # B is 5 up after 14 with 4 left; after 12 it was 4 up with 6 left
    assert (found.course.winner, found.course.result) == (-1, "5 & 4")


def test_extra_holes_give_strokes_as_in_the_round() -> None:
    """One stroke, on hole 5, where B is one over: level after 18, and again on holes 1 to 5; then B wins its fifth extra hole."""
    b = [par + (hole == 5) for hole, par in enumerate(PAR, start=1)]
    found = match(of_match("A", [*LEVEL, *LEVEL[:5]], handicap=0), of_match("B", [*b, *LEVEL[:5]], handicap=1), is_net=True)
    assert (found.course.winner, found.course.result, found.holes[-1].hole) == (-1, "23rd hole", 5)


def test_a_start_from_another_tee_follows_the_order_of_play() -> None:
    """From hole 10: A wins holes 10 to 18 and 1, the tenth hole played, with eight left."""
    won = [par - 1 for par in PAR]
    found = match(of_match("A", won, start=10), of_match("B", LEVEL, start=10))
    assert (found.course.result, [hole.hole for hole in found.holes][-2:]) == ("10 & 8", [18, 1])


@pytest.mark.parametrize("book", ["2016", "2019", "2023"])
def test_clubs_take_holes_off_the_match(book: str) -> None:
    clubs = [Penalty(hole=hole, act="too-many-clubs", ruling=f"R{hole}") for hole in (1, 2, 3)]
    ahead = [par - (hole <= 3) for hole, par in enumerate(PAR[:4], start=1)]
    found = match(of_match("A", ahead, penalties=clubs), of_match("B", LEVEL[:4]), book)
    assert found.course.states[2].lead == 1  # three up less two
    other = match(of_match("B", LEVEL[:4]), of_match("A", ahead, penalties=clubs), book)
    assert other.course.states[2].lead == -1


def test_a_late_start_and_a_wrong_ball_lose_the_hole() -> None:
    late = [Penalty(act="late-start-within-5"), Penalty(hole=2, act="wrong-ball")]
    found = match(of_match("A", [3, 3, 3, 5], penalties=late), of_match("B", LEVEL[:4]))
    assert [hole.won.outcome for hole in found.holes] == [-1, -1, 0, 0]


def entries(*texts: str) -> tuple[HoleEntry, ...]:
    made = {"C": HoleEntry(has_conceded=True), "X": HoleEntry(is_picked_up=True), "": HoleEntry()}
    return tuple(made[text] if text in made else HoleEntry(strokes=int(text)) for text in texts)


def test_conceded_and_picked_up_holes() -> None:
    a = Card(player="A", match="1", entries=entries("C", "4", "X", "5"))
    b = Card(player="B", match="1", entries=entries("", "C", "3", "X"))
    found = match(a, b)
    assert [hole.won.outcome for hole in found.holes] == [-1, 1, -1, 1]


def test_a_match_conceded_or_decided_by_a_disqualification() -> None:
    given = match(of_match("A", LEVEL[:3], status=CardStatus.CONCEDED), of_match("B", LEVEL[:3]))
    assert (given.course.winner, given.course.result) == (-1, "conceded")
    absent = match(of_match("A", [], status=CardStatus.DID_NOT_START), of_match("B", []))
    assert (absent.course.winner, absent.course.result) == (-1, "walkover")
    out = match(of_match("A", LEVEL[:3]), of_match("B", LEVEL[:3], status=CardStatus.DISQUALIFIED))
    assert (out.course.winner, out.course.result) == (1, "disqualified")


@pytest.mark.parametrize(
    ("book", "shown", "winner", "received"),
    [
        ("2023", 12, -1, 1),  # one stroke more than 11 against 10: disqualified
        ("2016", 12, -1, 1),
        ("2023", 9, 0, 0),  # plays off 9: the opponent receives one
        ("2023", 11, 0, 1),
    ],
)
def test_a_handicap_declared_wrongly(book: str, shown: int, winner: int, received: int) -> None:
    a = of_match("A", LEVEL[:3], handicap=11, shown=ShownHandicap(strokes=shown))
    found = match(a, of_match("B", LEVEL[:3], handicap=10), book, is_net=True)
    assert (found.course.winner, found.balls[0].received) == (winner, received)
    declared = found.balls[0].declared
    assert declared is None if shown == 11 else declared is not None and declared.citations


def test_a_handicap_too_high_that_changes_no_stroke_costs_nothing() -> None:
    """Off the lowest of three: only the difference counts, and the declared one leaves it as it is for none; so it disqualifies."""
    a = of_match("A", LEVEL[:3], handicap=4, shown=ShownHandicap(strokes=5))
    assert match(a, of_match("B", LEVEL[:3], handicap=10), is_net=True).course.winner == -1  # gives five in place of six


def test_three_ball_is_three_matches() -> None:
    cards = [of_match(name, gross) for name, gross in (("A", [4, 4]), ("B", [5, 4]), ("C", [4, 5]))]
    found = results("2023", Form.MATCH_PLAY, cards, sides=Sides.THREE_BALL).matches
    assert [(one.sides, one.course.states[-1].lead) for one in found] == [(("A", "B"), 1), (("A", "C"), 1), (("B", "C"), 0)]
    with pytest.raises(CardError, match="two sides"):
        results("2023", Form.MATCH_PLAY, cards)


@pytest.mark.parametrize(
    ("concession", "stands", "is_out"),
    [
        (Concession(what=Conceded.STROKE), True, False),
        (Concession(what=Conceded.HOLE, is_taken_back=True), True, False),
        (Concession(what=Conceded.HOLE, is_decided=True), False, False),
        (Concession(what=Conceded.STROKE, is_in_time=False), False, False),
        (Concession(what=Conceded.MATCH, is_by_player=False), False, False),
        (Concession(what=Conceded.HOLE, is_agreed_to_shorten=True), False, True),
    ],
)
@pytest.mark.parametrize("book", ["2016", "2019", "2023"])
def test_concessions(book: str, concession: Concession, stands: bool, is_out: bool) -> None:
    judged = judge_concession(read_book(book), concession)
    assert (judged.stands, judged.is_out) == (stands, is_out)
    assert judged.citations and judged.says


def test_nobody_holes_out() -> None:
    """Clarification 23.2a/1: the last to pick up wins, and nobody where the order is not known."""
    first, last, unknown = BallPlayed(net=None, given_up=1), BallPlayed(net=None, given_up=2), BallPlayed(net=None)
    assert who_wins([first], [last]).outcome == -1
    assert who_wins([last], [first]).outcome == 1
    assert who_wins([unknown], [last]).outcome == 0
    assert who_wins([BallPlayed(net=4, has_lost_hole=True), unknown], [BallPlayed(net=5)]).outcome == -1


def test_a_breach_between_holes_loses_the_next() -> None:
    practice = [Penalty(hole=2, act="practice-between-holes-forbidden")]
    found = match(of_match("A", LEVEL[:4], penalties=practice), of_match("B", LEVEL[:4]))
    assert [hole.won.outcome for hole in found.holes] == [0, 0, -1, 0]


def test_nobody_wins_where_both_sides_are_out() -> None:
    found = match(of_match("A", LEVEL[:3], status=CardStatus.DISQUALIFIED), of_match("B", LEVEL[:3], status=CardStatus.CONCEDED))
    assert (found.course.winner, found.course.ended) == (0, Ended.DISQUALIFIED)


@pytest.mark.parametrize(
    ("concession", "outcomes", "ended"),
    [
        (Concession(what=Conceded.HOLE, hole=2), [0, -1, 0], Ended.NOT_OVER),
        (Concession(what=Conceded.HOLE, hole=2, is_taken_back=True), [0, -1, 0], Ended.NOT_OVER),
        (Concession(what=Conceded.HOLE, hole=2, is_by_player=False), [0, 0, 0], Ended.NOT_OVER),
        (Concession(what=Conceded.HOLE, hole=2, is_decided=True), [0, 0, 0], Ended.NOT_OVER),
        (Concession(what=Conceded.STROKE, hole=2), [0, 0, 0], Ended.NOT_OVER),
        (Concession(what=Conceded.MATCH), [0, 0, 0], Ended.CONCEDED),
        (Concession(what=Conceded.MATCH, is_by_player=False), [0, 0, 0], Ended.NOT_OVER),
        (Concession(what=Conceded.HOLE, hole=2, is_agreed_to_shorten=True), [0, 0, 0], Ended.DISQUALIFIED),
    ],
)
def test_concessions_in_a_match(concession: Concession, outcomes: list[int], ended: Ended) -> None:
    found = match(of_match("A", LEVEL[:3], concessions=(concession,)), of_match("B", LEVEL[:3]))
    assert ([hole.won.outcome for hole in found.holes], found.course.ended) == (outcomes, ended)
    assert found.course.winner == (0 if ended is Ended.NOT_OVER else -1)


def test_the_result_is_told_from_each_side() -> None:
    ranked = results("2023", Form.MATCH_PLAY, [of_match("A", [5, 4]), of_match("B", [4, 4])]).ranked
    assert [(one.name, one.total, one.placed) for one in ranked] == [("A", -1, None), ("B", 1, None)]
