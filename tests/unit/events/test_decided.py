"""What a Committee decides, by hand: holes that count, the cut, the draw by score, play-offs, and teams."""

from __future__ import annotations

from datetime import date

import pytest

from marram.core.errors import EventError
from marram.core.terms import Form
from marram.events.decided.as_decided import terms_as_decided
from marram.events.decided.cut_made import CutMade, make_cut
from marram.events.decided.cut_terms import CutTerms, TiesAtTheCut
from marram.events.decided.play_off import PlayOff, refuse_unequal
from marram.events.decided.regrouped import Move, move_player
from marram.events.decided.round_counts import RoundCounts, hole_words, read_holes
from marram.events.decided.score_draw import draw_by_score
from marram.events.event_terms import EventTerms
from marram.events.starting_list import StartingGroup, StartingList
from marram.events.team_places import BestOf, PlayerScore, TeamStep, TeamTerms, place_teams
from marram.scoring.cards.card import CardStatus
from marram.scoring.cards.tee import Tee
from marram.scoring.competition.terms_of_competition import Step, Terms, Ties
from marram.scoring.ranked import Ranked
from marram.scoring.ties.placing import Placed


def ranked(name: str, place: int | None, total: int | None) -> Ranked:
    placed = None if place is None else Placed(place=place, name=name, is_joint=False, decided_by="score", compared=())
    status = CardStatus.RETURNED if place is not None else CardStatus.WITHDRAWN
    return Ranked(name=name, placed=placed, total=total, words="", status=status, rounds=(), charges=(), decisions=(), citations=())


# second and third are equal and apart by countback; fourth and fifth are joint
FIELD = [
    ranked("Alder", 1, 68),
    ranked("Beech", 2, 70),
    ranked("Cedar", 3, 70),
    ranked("Dogwood", 4, 71),
    ranked("Elm", 4, 71),
    ranked("Fir", 6, 79),
    ranked("Gorse", None, None),
]


def through(places: int, **more: object) -> tuple[str, ...]:
    return make_cut(CutTerms(after_round=1, places=places, **more), FIELD).through  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("places", "more", "on"),
    [
        (1, {}, 1),
        (2, {}, 3),
        (3, {}, 3),
        (4, {}, 5),
        (2, {"ties": TiesAtTheCut.AS_DECIDED}, 2),
        (4, {"ties": TiesAtTheCut.AS_DECIDED}, 5),  # no step parts them
        (1, {"within": 2}, 3),
        (1, {"within": 3}, 5),
        (1, {"within": 1}, 1),
        (50, {}, 6),
    ],
)
def test_the_cut_takes_so_many_and_those_who_are_equal_or_near(places: int, more: dict[str, object], on: int) -> None:
    assert through(places, **more) == ("Alder", "Beech", "Cedar", "Dogwood", "Elm", "Fir")[:on]


def test_a_cut_says_its_line_and_who_is_out() -> None:
    made = make_cut(CutTerms(after_round=1, places=2, rule="The leading two and ties."), FIELD)
    assert (made.line, made.out) == (70, ("Dogwood", "Elm", "Fir"))
    assert made.says == "Cut after round 1: 3 play on, 3 do not. The leading two and ties."
    assert make_cut(CutTerms(after_round=1, places=9), FIELD).line is None
    with pytest.raises(EventError, match="Nobody has a result"):
        make_cut(CutTerms(after_round=1, places=2), FIELD[-1:])


def test_leaders_start_last_and_of_equal_ones_the_first_in_starts_later() -> None:
    drawn = draw_by_score(FIELD, ["Cedar", "Elm", "Dogwood", "Beech", "Alder"], {}, size=3)
    # Fir came in last of all; of Dogwood and Elm Elm was in first, of Beech and Cedar Cedar
    assert drawn.groups == (("Fir", "Dogwood", "Elm"), ("Beech", "Cedar", "Alder"))
    assert draw_by_score(FIELD[:5], [], {}, size=2).groups == (("Elm", "Dogwood"), ("Cedar", "Beech", "Alder"))
    with pytest.raises(EventError, match="nobody can be drawn"):
        draw_by_score(FIELD[-1:], [], {}, size=2)


def test_partners_of_a_side_start_together() -> None:
    members = {name: (f"{name} 1", f"{name} 2") for name in ("Alder", "Beech", "Cedar")}
    drawn = draw_by_score(FIELD[:3], ["Beech", "Cedar", "Alder"], members, size=4)
    assert drawn.groups == (("Cedar 1", "Cedar 2"), ("Beech 1", "Beech 2", "Alder 1", "Alder 2"))


def test_a_new_group_takes_a_time_that_was_to_stay_empty() -> None:
    listed = StartingList(groups=(StartingGroup(number=1, start_min=480, hole=1, players=("Alder",)),), empty=((490, 1), (490, 10)))
    moved = move_player(listed, Move(player="Beech", start_min=490, hole=1))
    assert [(group.number, group.start_min, group.players) for group in moved.groups] == [(1, 480, ("Alder",)), (2, 490, ("Beech",))]
    assert moved.empty == ((490, 10),)


def test_holes_are_read_and_told() -> None:
    assert read_holes("1-9", 18) == tuple(range(1, 10))
    assert read_holes(" 10 - 12, 1-2,18", 18) == (1, 2, 10, 11, 12, 18)
    assert hole_words((1, 2, 10, 11, 12, 18)) == "1 to 2, 10 to 12, 18"
    for bad in ("0-9", "10-19", "9-1", "one", "", "1-5,5", "1--2"):
        with pytest.raises(EventError):
            read_holes(bad, 18)
    assert RoundCounts(round=2, holes=(), why="snow").says == "Round 2 is cancelled: snow. Its scores and penalties count for nothing."
    assert RoundCounts(round=2, holes=(1, 2), why="snow").says == "Round 2 counts over 2 holes alone, 1 to 2: snow."
    assert RoundCounts(round=2, holes=None, why="sun").says == "Round 2 counts in full: sun."


def held(*names: str, step: Step = Step.PLAY_OFF) -> PlayOff:
    return PlayOff(step=step, order=names)


@pytest.mark.parametrize(
    ("one", "told"),
    [
        (held("Beech", "Cedar", step=Step.LOT), "The terms decide no tie by lot"),
        (held("Beech", "Gorse"), "Gorse: no place"),
        (held("Beech"), "Two players or sides at least"),
        (held("Beech", "Beech"), "each once"),
        (held("Alder", "Beech"), "They are not equal: Alder 68, Beech 70"),
    ],
)
def test_a_play_off_that_cannot_be_is_refused(one: PlayOff, told: str) -> None:
    with pytest.raises(EventError, match=told):
        refuse_unequal(one, Ties(steps=(Step.PLAY_OFF,)), FIELD, "medal")


def test_whoever_is_equal_takes_part_in_a_play_off() -> None:
    refuse_unequal(held("Cedar", "Beech"), Ties(steps=(Step.PLAY_OFF,)), FIELD, "medal")
    equal = [ranked(name, place, 70) for place, name in enumerate(("Alder", "Beech", "Cedar"), start=1)]
    with pytest.raises(EventError, match="Cedar is equal with them and not named"):
        refuse_unequal(held("Alder", "Beech"), Ties(steps=(Step.PLAY_OFF,)), equal, "medal")


def scores(*given: tuple[str, int, int]) -> list[PlayerScore]:
    return [PlayerScore(player=player, round=number, score=score) for player, number, score in given]


TEAMS = {
    # best two of each round: North 70 + 72 and 69 + 75 = 286, South 71 + 71 and 70 + 74 = 286, East has one score in round 2
    "North": scores(("A", 1, 70), ("B", 1, 72), ("C", 1, 80), ("A", 2, 75), ("B", 2, 90), ("C", 2, 69)),
    "South": scores(("D", 1, 71), ("E", 1, 71), ("F", 1, 75), ("D", 2, 70), ("E", 2, 74), ("F", 2, 76)),
    "East": scores(("G", 1, 60), ("H", 1, 60), ("G", 2, 60)),
}


def places(terms: TeamTerms, *, is_more_better: bool = False) -> list[tuple[int | None, str, int | None, str]]:
    found = place_teams(terms, TEAMS, [1, 2], is_more_better=is_more_better)
    return [(team.place, team.team, team.total, team.decided_by) for team in found]


def test_the_best_scores_of_each_round_are_added_up() -> None:
    assert places(TeamTerms(best_of=2)) == [(1, "North", 286, "joint"), (1, "South", 286, "joint"), (None, "East", None, "")]
    # the best score that counts is 69 against 70; the best that does not is 80 against 75
    assert places(TeamTerms(best_of=2, ties=(TeamStep.BEST_SCORE,)))[0] == (1, "North", 286, "best score")
    assert places(TeamTerms(best_of=2, ties=(TeamStep.NEXT_SCORE,)))[0] == (1, "South", 286, "next score")
    east = place_teams(TeamTerms(best_of=2), TEAMS, [1, 2], is_more_better=False)[-1]
    assert east.why == "round 2: 1 score, and 2 count"
    # in points the best two are the highest: North 80 + 72 and 90 + 75, South 75 + 71 and 76 + 74
    assert places(TeamTerms(best_of=2), is_more_better=True)[:2] == [(1, "North", 317, "score"), (2, "South", 296, "score")]
    assert places(TeamTerms(best_of=1))[0] == (1, "East", 120, "score")


def test_totals_of_the_event_are_added_up_where_the_terms_say_so() -> None:
    given = {"North": scores(("A", 0, 145), ("B", 0, 162), ("C", 0, 149)), "South": scores(("D", 0, 141), ("E", 0, 145))}
    found = place_teams(TeamTerms(best_of=2, each=BestOf.EVENT), given, [1, 2], is_more_better=False)
    assert [(team.team, team.total) for team in found] == [("South", 286), ("North", 294)]
    assert [one.player for one in found[1].scores if one.does_count] == ["A", "C"]


def test_a_team_without_the_score_that_a_step_compares_comes_after_one_that_has_it() -> None:
    given = {"North": scores(("A", 1, 70), ("B", 1, 70)), "South": scores(("C", 1, 70), ("D", 1, 70), ("E", 1, 99))}
    found = place_teams(TeamTerms(best_of=2, ties=(TeamStep.NEXT_SCORE,)), given, [1], is_more_better=False)
    assert [(team.team, team.place) for team in found] == [("South", 1), ("North", 2)]


def test_the_order_of_a_play_off_goes_before_that_of_the_terms_and_leaves_the_rest_of_it() -> None:
    tee = Tee(name="white", par=(4,) * 9)
    terms = Terms(title="Medal", form=Form.STROKE_PLAY, tees={"white": tee}, rounds=2, ties=Ties(drawn=("Beech", "Elm", "Alder")))
    cut = CutMade(after_round=1, line=70, through=("Alder", "Beech"), out=("Elm",))
    counts = [RoundCounts(round=2, holes=(1, 2)), RoundCounts(round=1, holes=None)]
    found = terms_as_decided(EventTerms(terms=terms), counts, cut, [held("Alder", "Beech")]).terms
    assert found.ties.drawn == ("Alder", "Beech", "Elm")
    assert (found.counted.holes, found.counted.out_after) == ({2: (1, 2)}, {"Elm": 1})


def test_terms_of_several_rounds_may_state_the_day_of_each() -> None:
    tee = Tee(name="white", par=(4,) * 9)
    terms = Terms(title="Medal", form=Form.STROKE_PLAY, tees={"white": tee}, rounds=2)
    first, second = date(2026, 6, 13), date(2026, 6, 14)
    both = EventTerms(terms=terms, day=first, days=(first, second))
    assert [both.day_of(number) for number in (1, 2)] == [first, second]
    assert EventTerms(terms=terms, day=first, days=(first,)).day_of(2) == first
