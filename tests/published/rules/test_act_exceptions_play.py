"""What the cases of an act make an exception of: play on the green, at the stroke, touching the ball, in sand and in water.

Source: acts.yaml beside this file, whose `checked` names for each act and edition the title in which it was seen, or says that it is from
memory. Each line of ``EXCEPTIONS`` names the Rule of each edition, and the answer must cite it. Each trap and worked example names its own.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from pathlib import Path

import pytest

from marram.core.terms import Form
from marram.interchange.books.book_files import read_book
from marram.rulebook.consequence_words import BallIs, BorneBy, HoleIs, OnlyIn, Out, PutRight, StrokeIs
from marram.rulebook.consequences import Consequence
from marram.rulebook.reading.files import packaged_catalogue
from marram.rulings.acts.acts import ActAnswer, rule_on_act
from marram.rulings.acts.breaches import NamedAct
from marram.rulings.acts.form_of_play import Happening, describe_form
from marram.rulings.acts.several import SumReading, sum_of_acts
from marram.rulings.acts.sum_of_breaches import Between
from tests.support.editions import WRITTEN_FOR
from tests.support.yaml_text import read_yaml

CORRECTED = [
    case
    for name in ("corrections.yaml", "facts.yaml")
    for case in read_yaml((Path(__file__).parent / name).read_text(encoding="utf-8"))["acts"]
]
EDITIONS = WRITTEN_FOR
BOOKS = {edition: read_book(edition) for edition in EDITIONS}
SITUATIONS = {"acts_on_the_green", "acts_at_the_stroke", "acts_touching_the_ball", "acts_in_sand_and_water"}

AS_IT_LIES = Consequence(ball=BallIs.AS_IT_LIES)
REPLACED = Consequence(ball=BallIs.REPLACED)
HOLED = Consequence(ball=BallIs.HOLED)
ONE_REPLACED = Consequence(strokes=1, match_strokes=1, ball=BallIs.REPLACED)
GENERAL = Consequence(strokes=2, hole=HoleIs.LOST, ball=BallIs.AS_IT_LIES)
GENERAL_REPLAYED = Consequence(strokes=2, hole=HoleIs.LOST, stroke=StrokeIs.REPLAY)
REPLAYED = Consequence(stroke=StrokeIs.REPLAY)
RECALLED = Consequence(stroke=StrokeIs.REPLAY, only_in=OnlyIn.MATCH_PLAY)
REPLACED_IN_A_MATCH = replace(REPLACED, only_in=OnlyIn.MATCH_PLAY)
GIVEN_AWAY = Consequence(only_in=OnlyIn.MATCH_PLAY)
"""What is given away is over: the ball is put back except where the opponent concedes (2023 Rules of Golf, printed page 83, Rule 9.5a)."""
OUT = Consequence(out=Out.ALWAYS)
OUT_OF_STROKE_PLAY = Consequence(out=Out.STROKE_PLAY, only_in=OnlyIn.STROKE_PLAY)
OUT_STROKE_VOID = replace(OUT_OF_STROKE_PLAY, stroke=StrokeIs.CANCELLED)
NEVER_PUT_RIGHT = Consequence(out=Out.STROKE_PLAY, hole=HoleIs.LOST)
"""In a match nothing can be put right: the hole is lost with the stroke."""

SINCE = ("2019", "2023")


def by_rule(rule: str, *editions: str) -> dict[str, str]:
    return dict.fromkeys(editions, rule)


EXCEPTIONS: list[tuple[str, tuple[str, ...], dict[str, str], Consequence]] = [
    # From memory: a loose impediment of the hazard in which the ball lies (Rules of Golf 2016, 13-4c and 23-1).
    ("loose-impediment-before-replacing", ("ball_lies_in_hazard",), {"2016": "Decision 23-1/7"}, replace(GENERAL, ball=BallIs.REPLACED)),
    # On the green, at the hole, with the flagstick.
    ("flagstick-rest-against", ("all_below_lip",), {"2016": "17-4"}, HOLED),
    ("flagstick-rest-against", ("falls_in_when_stick_removed",), {"2016": "17-4"}, HOLED),
    ("flagstick-rest-against", ("any_part_below_surface",), by_rule("13.2c", "draft-2017", *SINCE), HOLED),
    ("flagstick-rest-against", ("moves_when_stick_removed",), by_rule("13.2c", *SINCE), Consequence(ball=BallIs.PLACED_ON_LIP)),
    ("flagstick-off-centre", ("left_leaning_or_centred",), {"2016": "1-2, Decision 17/4"}, AS_IT_LIES),
    ("flagstick-moved-by-player-ball-in-motion", ("could_not_influence_ball",), {"2016": "17-1, 17-2"}, AS_IT_LIES),
    ("flagstick-moved-by-other-ball-in-motion", ("could_not_influence_ball",), {"2016": "17-2"}, AS_IT_LIES),
    (
        "flagstick-moved-by-other-ball-in-motion",
        ("stroke_from_green", "ball_hits_stick_or_attendant"),
        {"2016": "17-2"},
        replace(GENERAL_REPLAYED, who=BorneBy.OPPONENT),
    ),
    ("touch-line-of-putt", ("something_pressed_down",), {"2016": "16-1a"}, GENERAL),
    ("touch-line-of-putt", ("moving_loose_impediment",), {"2016": "16-1a"}, AS_IT_LIES),
    ("touch-line-of-putt", ("club_in_front_of_ball_at_address",), {"2016": "16-1a"}, AS_IT_LIES),
    ("touch-line-of-putt", ("measuring",), {"2016": "16-1a"}, AS_IT_LIES),
    ("touch-line-of-putt", ("lifting_or_replacing_ball",), {"2016": "16-1a"}, AS_IT_LIES),
    ("touch-line-of-putt", ("pressing_ball_marker",), {"2016": "16-1a"}, AS_IT_LIES),
    ("touch-line-of-putt", ("repairing_hole_plug_or_ball_mark",), {"2016": "16-1a"}, AS_IT_LIES),
    ("touch-line-of-putt", ("moving_movable_obstruction",), {"2016": "16-1a"}, AS_IT_LIES),
    (
        "touch-line-of-putt-by-caddie-or-partner",
        ("object_left_to_show_line",),
        {"2019": "10.2b(2)", "2023": "10.2b"},
        GENERAL,
    ),
    ("touch-line-of-putt-by-caddie-or-partner", ("stood_on_or_near_line_to_help",), {"2019": "10.2b(2)"}, GENERAL),
    ("repair-takes-too-long", ("third_breach",), {"draft-2017": "5.6a"} | by_rule("13.1c(2), 5.6a", *SINCE), OUT),
    ("repair-takes-too-long", ("second_breach",), {"draft-2017": "5.6a"} | by_rule("13.1c(2), 5.6a", *SINCE), GENERAL),
    ("test-green-surface", ("forbidden_by_committee",), {"2016": "16-1d"}, GENERAL),
    ("test-green-surface", ("between_holes_on_green_just_played",), {"2016": "16-1d"}, AS_IT_LIES),
    ("test-green-surface", ("between_holes_on_practice_green",), {"2016": "16-1d"}, AS_IT_LIES),
    ("stand-astride-line-of-putt", ("by_accident",), {"2016": "16-1e"} | by_rule("10.1c", "draft-2017", *SINCE), AS_IT_LIES),
    ("stand-astride-line-of-putt", ("to_avoid_line_of_another",), {"2016": "16-1e"} | by_rule("10.1c", "draft-2017", *SINCE), AS_IT_LIES),
    ("two-balls-in-motion-green", ("ball_played_from_green", "known_in_motion_collision"), {"2023": "11.1b(2)"}, REPLAYED),
    ("accidental-move-ball-green", ("local_rule_of_january_2017",), {"2016": "18-2"}, REPLACED),
    (
        "accidental-move-ball-green",
        ("moved_by_opponent",),
        {"2016": "18-2"},
        Consequence(match_strokes=1, who=BorneBy.OPPONENT, only_in=OnlyIn.MATCH_PLAY, ball=BallIs.REPLACED),
    ),
    ("accidental-move-marker-green", ("directly_due_to_marking_or_lifting",), {"2016": "20-1"}, REPLACED),
    ("accidental-move-marker-green", ("local_rule_of_january_2017",), {"2016": "20-1"}, REPLACED),
    ("wrong-green-stance", ("local_rule_stance_alone_is_no_interference",), by_rule("13.1f", *SINCE), AS_IT_LIES),
    ("practice-swing-moves-ball-green", ("local_rule_of_january_2017",), {"2016": "18-2"}, replace(REPLACED, stroke=StrokeIs.NOT_MADE)),
    (
        "deflect-from-green-animal-or-person",
        ("not_replayed",),
        {"2019": "11.1b Exception 2"},
        Consequence(strokes=2, hole=HoleIs.LOST, stroke=StrokeIs.CANCELLED, ball=BallIs.PLAYED_OUT),
    ),
    ("deflect-from-green-animal-or-person", ("known_to_have_hit", "not_replayed"), {"2023": "11.1b(2)"}, GENERAL),
    ("deflect-from-green-animal-or-person", ("known_to_have_hit",), {"2023": "11.1b(2)"}, REPLAYED),
    ("deflect-from-green-insect-or-self", ("it_was_an_insect",), {"2016": "19-1b, 19-2"}, AS_IT_LIES),
    (
        "deflect-from-green-insect-or-self",
        ("clarification_of_december_2018", "it_was_player_or_club_used"),
        {"2019": "11.1b Exception 2"},
        AS_IT_LIES,
    ),
    (
        "deflect-from-green-insect-or-self",
        ("clarification_of_december_2018", "not_known_to_have_hit"),
        {"2019": "11.1b Exception 2"},
        AS_IT_LIES,
    ),
    (
        "deflect-from-green-insect-or-self",
        ("clarification_of_december_2018", "it_was_an_insect"),
        {"2019": "11.1b Exception 2"},
        AS_IT_LIES,
    ),
    ("stroke-while-other-ball-moves-on-green", ("it_was_their_turn",), {"2016": "16-1f"}, AS_IT_LIES),
    # What is played, from where, and how.
    (
        "wrong-ball",
        ("not_put_right_in_time",),
        {"2016": "15-3"} | by_rule("6.3c(1)", *SINCE),
        replace(NEVER_PUT_RIGHT, stroke=StrokeIs.CANCELLED),
    ),
    (
        "wrong-ball",
        ("moving_in_water",),
        {"2016": "15-3"} | by_rule("6.3c(1)", *SINCE),
        Consequence(stroke=StrokeIs.CANCELLED, ball=BallIs.WRONG_BALL_CORRECTED, put_right=PutRight.BEFORE_THE_NEXT_TEE),
    ),
    (
        "wrong-ball",
        ("balls_exchanged", "opponent_played_first"),
        by_rule("6.3c(1)", *SINCE),
        Consequence(hole=HoleIs.LOST, who=BorneBy.OPPONENT, only_in=OnlyIn.MATCH_PLAY, stroke=StrokeIs.CANCELLED),
    ),
    (
        "wrong-ball",
        ("balls_exchanged", "not_known_who_was_first"),
        by_rule("6.3c(1)", *SINCE),
        Consequence(only_in=OnlyIn.MATCH_PLAY, ball=BallIs.PLAYED_OUT),
    ),
    ("wrong-place-serious", ("not_put_right_in_time",), {"2016": "20-7c"} | by_rule("14.7b", *SINCE), NEVER_PUT_RIGHT),
    (
        "outside-teeing-area",
        ("opponent_cancels",),
        {"2016": "11-4"} | by_rule("6.1b", "draft-2017", *SINCE),
        replace(RECALLED, ball=BallIs.TEED_AGAIN),
    ),
    (
        "outside-teeing-area",
        ("opponent_lets_it_stand",),
        {"2016": "11-4"} | by_rule("6.1b", "draft-2017", *SINCE),
        replace(AS_IT_LIES, only_in=OnlyIn.MATCH_PLAY),
    ),
    ("outside-teeing-area", ("not_put_right_in_time",), {"2016": "11-4"} | by_rule("6.1b", *SINCE), OUT_STROKE_VOID),
    (
        "move-tee-marker",
        ("to_change_its_place_or_destroy_it",),
        by_rule("6.2b(4), 8.1a, 8.1c", *SINCE),
        Consequence(out=Out.COMMITTEE_MAY),
    ),
    ("move-tee-marker", ("put_back_before_stroke",), by_rule("6.2b(4), 8.1a, 8.1c", *SINCE), AS_IT_LIES),
    ("move-tee-marker", ("not_improving",), by_rule("6.2b(4), 8.1a, 8.1c", *SINCE), AS_IT_LIES),
    ("out-of-turn", ("opponent_cancels",), {"2016": "10-1c, 10-2c"} | by_rule("6.4", "draft-2017", *SINCE), RECALLED),
    ("out-of-turn", ("agreed_to_gain_advantage",), {"2016": "10-1c, 10-2c"}, OUT_OF_STROKE_PLAY),
    (
        "out-of-turn",
        ("agreed_to_gain_advantage",),
        by_rule("6.4", *SINCE),
        Consequence(strokes=2, only_in=OnlyIn.STROKE_PLAY, ball=BallIs.AS_IT_LIES),
    ),
    ("wrong-order-foursomes", ("not_put_right_in_time",), {"2016": "29-2, 29-3"}, replace(NEVER_PUT_RIGHT, stroke=StrokeIs.CANCELLED)),
    ("wrong-order-foursomes", ("not_put_right_in_time",), by_rule("22.3", *SINCE), replace(NEVER_PUT_RIGHT, stroke=StrokeIs.CANCELLED)),
    ("drop-wrong-way-played", ("played_outside_relief_area",), by_rule("14.3b", *SINCE), GENERAL),
    # What touches, moves or stops the ball.
    *[
        ("accidental-move-by-player", (during,), by_rule("9.4b", *SINCE), REPLACED)
        for during in (
            "marking_lifting_or_replacing",
            "removing_movable_obstruction",
            "restoring_worsened_conditions",
            "taking_relief_or_finding_out",
            "measuring",
        )
    ],
    ("accidental-move-in-search", ("touching_sand_that_covers_it",), {"2016": "18-2, 12-1a-d"}, REPLACED),
    ("accidental-move-in-search", ("probing_in_water",), {"2016": "18-2, 12-1a-d"}, REPLACED),
    ("accidental-move-in-search", ("searching_in_obstruction_or_condition",), {"2016": "18-2, 12-1a-d"}, REPLACED),
    ("accidental-move-in-search", ("putting_back_loose_impediments",), {"2016": "18-2, 12-1a-d"}, REPLACED),
    *[
        ("opponent-moves-not-search", (during,), {"2023": "9.5a, 9.5b"}, REPLACED_IN_A_MATCH)
        for during in (
            "at_the_players_request",
            "marking_by_mistake_for_own_ball",
            "marking_lifting_or_replacing",
            "removing_movable_obstruction",
            "restoring_worsened_conditions",
            "taking_relief_or_finding_out",
            "measuring",
        )
    ],
    ("opponent-moves-not-search", ("conceding",), {"2023": "9.5a, 9.5b"}, GIVEN_AWAY),
    ("cause-unclear-after-address", ("more_likely_than_not_player",), {"2016": "18-2, Decision 18-2/0.5"}, ONE_REPLACED),
    (
        "cause-unclear-after-address",
        ("known_player_moved_it",),
        {"draft-2017": "draft 9.2"} | by_rule("9.2b, 9.4", *SINCE),
        ONE_REPLACED,
    ),
    ("ball-moves-during-backswing", ("player_caused_move",), {"2016": "14-5, 18-2"}, replace(ONE_REPLACED, ball=BallIs.AS_IT_LIES)),
    (
        "ball-moves-during-backswing",
        ("player_caused_move",),
        by_rule("9.1b, 10.1d", *SINCE),
        replace(ONE_REPLACED, ball=BallIs.AS_IT_LIES),
    ),
    (
        "ball-moves-during-backswing",
        ("player_caused_move", "ball_on_green"),
        by_rule("9.1b, 10.1d", *SINCE) | by_rule("9.1b", "draft-2017"),
        AS_IT_LIES,
    ),
    (
        "remove-object-to-affect-moving-ball",
        ("was_equipment_or_held_or_removed_flagstick",),
        {"2016": "23-1, 24-1, 1-2"},
        AS_IT_LIES,
    ),
    ("remove-object-to-affect-moving-ball", ("was_removed_flagstick",), by_rule("11.3", *SINCE), AS_IT_LIES),
    ("remove-object-to-affect-moving-ball", ("was_ball_at_rest_on_green",), by_rule("11.3", *SINCE), AS_IT_LIES),
    ("remove-object-to-affect-moving-ball", ("was_equipment_but_no_marker_nor_ball_off_green",), by_rule("11.3", *SINCE), AS_IT_LIES),
    (
        "deflect-own-side",
        ("rests_in_own_clothes_or_equipment",),
        {"2016": "19-2"},
        replace(ONE_REPLACED, ball=BallIs.DROPPED_UNDER_THE_PLACE),
    ),
    ("deflect-opponent", ("player_cancels",), {"2016": "19-3"}, RECALLED),
    ("equipment-set-as-backstop", ("serious_breach",), {"2016": "1-2"}, OUT),
    ("deliberate-deflection", ("serious_breach",), {"2016": "1-2 Notes, 19-1 Note"}, Consequence(out=Out.STROKE_PLAY, hole=HoleIs.LOST)),
    ("deliberate-deflection", ("ball_of_another", "stroke_from_green"), {"2016": "1-2 Notes, 19-1 Note"}, GENERAL_REPLAYED),
    ("deliberate-deflection", ("ball_of_another",), {"2016": "1-2 Notes, 19-1 Note"}, replace(GENERAL, ball=BallIs.ESTIMATED_PLACE)),
    ("deliberate-deflection", ("stroke_from_green",), by_rule("11.2b, 11.2c", *SINCE), GENERAL_REPLAYED),
    ("helping-ball-left-by-agreement", ("they_knew_it_is_not_allowed",), by_rule("15.3a", *SINCE), OUT_OF_STROKE_PLAY),
    ("boundary-object-moved-and-restored", ("restored_before_stroke",), {"draft-2017": "8.1c"}, AS_IT_LIES),
    ("search-shifting-loose-impediments-in-hazard-moves-ball", ("putting_them_back",), {"2016": "12-1b, 18-2"}, REPLACED),
    ("lift-to-check-relief", ("relief_allowed_and_taken",), by_rule("16.4", *SINCE), Consequence()),
    ("lift-to-check-relief", ("ball_on_green",), by_rule("16.4", *SINCE), REPLACED),
    ("opponent-lifts-or-touches", ("conceding",), by_rule("9.5a, 9.5b", *SINCE), GIVEN_AWAY),
    ("opponent-lifts-or-touches", ("at_the_players_request",), by_rule("9.5a, 9.5b", *SINCE), REPLACED_IN_A_MATCH),
    ("opponent-lifts-or-touches", ("marking_by_mistake_for_own_ball",), by_rule("9.5a, 9.5b", *SINCE), REPLACED_IN_A_MATCH),
    # In sand.
    ("disability-device-touches-sand", ("deliberately_tested_sand",), {"2023": "25.4l"}, GENERAL),
]
TOLD = [(act, edition, facts, rule, expected) for act, facts, rules, expected in EXCEPTIONS for edition, rule in rules.items()]


@lru_cache
def answer(act: str, edition: str, *facts: str) -> ActAnswer:
    return rule_on_act(BOOKS[edition], act, dict.fromkeys(facts, True))


def summed(edition: str, acts: tuple[str, ...], between: Between) -> tuple[SumReading, ...]:
    return sum_of_acts(BOOKS[edition], [NamedAct(act=name, facts={}) for name in acts], between).readings


def case(act: str, edition: str, *facts: str) -> Consequence:
    found = answer(act, edition, *facts).case
    assert found is not None
    return found


def cost(act: str, edition: str, *facts: str) -> tuple[int, str]:
    found = case(act, edition, *facts)
    return found.strokes, found.hole


@pytest.mark.parametrize(
    ("act", "edition", "facts", "rule", "expected"), TOLD, ids=[f"{row[0]}-{row[1]}-{'-'.join(row[2])}" for row in TOLD]
)
def test_an_exception_holds_under_its_facts_and_not_without(
    act: str, edition: str, facts: tuple[str, ...], rule: str, expected: Consequence
) -> None:
    given = answer(act, edition, *facts)
    assert given.case is not None
    assert replace(given.case, when=()) == expected
    assert given.citations[0].rule == rule
    for left_out in facts:
        assert case(act, edition, *(fact for fact in facts if fact != left_out)).when != facts


def test_no_case_with_facts_is_left_untried() -> None:
    """Here, among the corrections, or among the facts told by edition."""
    tried = {(act, edition, facts) for act, edition, facts, _, _ in TOLD} | {
        (case["act"], case["edition"], tuple(case["facts"])) for case in CORRECTED if case["facts"]
    }
    acts = [row.id.removeprefix("act.") for row in packaged_catalogue().rows.values() if row.situation in SITUATIONS]
    there = {(act, edition, found.when) for act in acts for edition in EDITIONS for found in answer(act, edition).cases if found.when}
    assert there <= tried
    assert {(act, edition, facts) for act, edition, facts, _, _ in TOLD} <= there


def test_a_putt_strikes_a_flagstick_that_lies_on_the_green() -> None:
    """Example 22. Rules quiz on Rule 17-3 (2016); Rules of Golf (January 2019), Rule 13.2b(2)."""
    assert [cost("flagstick-on-ground-hit", edition) for edition in EDITIONS] == [(2, "lost"), (0, ""), (0, ""), (0, "")]
    assert {cost("flagstick-on-ground-hit-other-group", edition) for edition in EDITIONS} == {(0, "")}
    assert {case("flagstick-on-ground-hit", edition).ball for edition in EDITIONS} == {"as-it-lies"}


def test_a_ball_above_the_lip_is_not_holed_and_one_below_is() -> None:
    """Example 24. Decisions on the Rules of Golf 2016, Decisions 16/2 and 16/3, for a ball that leans on the flagstick.

    Rule 17-4 (association column, May 2013, quoting it): placed on the lip if it moved when the flagstick was taken out.
    """
    assert case("flagstick-rest-against", "2016", "all_below_lip").ball == "holed"
    assert case("flagstick-rest-against", "2016").ball == "as-it-lies"
    assert case("flagstick-rest-against", "2016", "moves_when_stick_removed").ball == "placed-on-lip"
    assert case("flagstick-rest-against", "2019", "any_part_below_surface").ball == "holed"
    assert case("flagstick-rest-against", "2016", "any_part_below_surface").ball == "as-it-lies"


@pytest.mark.parametrize("edition", ["2016", "2023"])
@pytest.mark.parametrize(
    "acts",
    [
        ("ball-hits-ball-both-on-green", "ball-hits-ball-both-on-green"),
        ("bunker-smooth-on-line", "improve-conditions"),
        ("bunker-practice-swing-touch", "bunker-practice-swing-touch", "bunker-practice-swing-touch"),
    ],
)
def test_one_stroke_or_related_acts_carry_one_penalty(edition: str, acts: tuple[str, ...]) -> None:
    """Example 25. Decisions on the Rules of Golf 2016, Decision 1-4/12; Rules of Golf (January 2023), Rule 1.3c(4)."""
    assert {reading.total.strokes for reading in summed(edition, acts, Between.ONE_ACT)} == {2}


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_second_breach_after_being_told_counts_again(edition: str) -> None:
    """Example 26. Rules of Golf (January 2023), Clarification 1.3c(4)/1, by its reasoning; 2016 and 2019 from memory."""
    acts = ("bunker-practice-swing-touch", "bunker-practice-swing-touch")
    assert {reading.total.strokes for reading in summed(edition, acts, Between.EVENT)} == {4}


def test_a_putt_that_hits_a_raised_hole_liner_and_is_not_replayed() -> None:
    """Example 30. Rules of Golf (2019 and 2023), Interpretation 11.1b/1."""
    stopped = "deflect-from-green-animal-or-person"
    wrong_place = case(stopped, "2019", "not_replayed")
    counted = case(stopped, "2023", "known_to_have_hit", "not_replayed")
    assert (wrong_place.strokes, wrong_place.stroke) == (2, "cancelled")
    assert (counted.strokes, counted.stroke) == (2, "counts")
    assert all("hole-liner" in answer(stopped, edition).advice for edition in SINCE)


@pytest.mark.parametrize("edition", EDITIONS)
def test_an_insect_brushed_off_may_move_the_ball_on_the_green(edition: str) -> None:
    """Example 32, the insect. Decisions on the Rules of Golf 2016, Decision 23-1/12."""
    assert replace(case("loose-impediment-moves-ball-green", edition), when=()) == REPLACED


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_conceded_stroke_that_is_refused_stays_conceded(edition: str) -> None:
    """Example 32, the concession. Decisions on the Rules of Golf 2016, Decision 2-4/7."""
    told = describe_form(BOOKS[edition], Form.MATCH_PLAY, (Happening.CONCEDED,))
    assert any("neither be refused nor taken back" in line.says for line in told.lines)


@pytest.mark.parametrize(("edition", "ball"), list(zip(EDITIONS, ("as-it-lies-new-spot", "replaced", "replaced", "replaced"), strict=True)))
def test_wind_after_replacing_on_the_green(edition: str, ball: str) -> None:
    """Rules of Golf (January 2016), Rules 18-2 and 20-3; (January 2019), Rule 13.1d(2). Not lifted: as it lies in all."""
    assert case("wind-moves-ball-green-after-replaced", edition).ball == ball
    assert case("wind-moves-ball-green-not-lifted", edition).ball == "as-it-lies-new-spot"


TRAPS: list[tuple[str, tuple[str, str, str, str], str, str]] = [
    ("double-hit", ("1", "1", "0", "0"), "14-4", "10.1a"),
    ("repair-spike-mark", ("2 lost", "0", "0", "0"), "16-1c", "13.1c(2)"),
    ("repair-aeration-hole", ("2 lost", "2 lost", "2 lost", "2 lost"), "16-1c", "13.1c(2), 8.1a"),
    ("repair-natural-wear-of-hole", ("2 lost", "2 lost", "2 lost", "2 lost"), "16-1a/6", "13.1c(2), 8.1a"),
    ("remove-sand-loose-soil-elsewhere", ("2 lost", "2 lost", "2 lost", "2 lost"), "13-2", "8.1a"),
    ("loose-impediment-moves-ball-general", ("1", "1", "1", "1"), "23-1, 18-2", "15.1b, 9.4b"),
    ("loose-impediment-bunker-ball-moves", ("2 lost", "1", "1", "1"), "13-4c (one penalty only)", "15.1b"),
    ("bunker-lean-on-club", ("2 lost", "0", "0", "0"), "13-4b, Decision 13-4/2", "12.2b(2)"),
    ("helping-ball-left-by-agreement", ("out", "2", "2", "2"), "22-1", "15.3a"),
    ("wrong-green-stance", ("0", "2 lost", "2 lost", "2 lost"), "25-3", "13.1f"),
    ("incorrect-substitution", ("2 lost", "2 lost", "2 lost", "1"), "15-2", "6.3b(3)"),
    ("search-shifting-loose-impediments-in-hazard-moves-ball", ("1", "0", "0", "0"), "12-1b, 18-2", "7.4"),
    ("accidental-move-in-search", ("1", "0", "0", "0"), "18-2, 12-1a-d", "7.4"),
    ("opponent-moves-in-search", ("0", "0", "0", "0"), "18-3a", "7.4, 9.5b"),
    ("boundary-object-moved", ("2 lost", "2 lost", "2 lost", "2 lost"), "13-2", "8.1a"),
    ("placed-when-drop-required", ("2 lost", "2 lost", "2 lost", "2 lost"), "applicable Rule, 20-6", "14.3b, 14.7a"),
    ("drop-wrong-way-played", ("1", "1", "1", "1"), "20-2a", "14.3b"),
    ("provisional-after-going-forward", ("1", "0", "0", "0"), "27-2a", "18.3a"),
]
"""What an act costs in each edition, with the Rule of the first edition and of the last; the titles stand in acts.yaml."""


@pytest.mark.parametrize(("act", "costs", "first", "last"), TRAPS, ids=[row[0] for row in TRAPS])
def test_what_is_often_believed_otherwise(act: str, costs: tuple[str, ...], first: str, last: str) -> None:
    found = [case(act, edition) for edition in EDITIONS]
    assert tuple("out" if one.out else f"{one.strokes} {one.hole}".strip() for one in found) == costs
    assert [answer(act, edition).citations[0].rule for edition in (EDITIONS[0], EDITIONS[-1])] == [first, last]


def test_an_opponent_hit_by_the_ball_leaves_the_choice_to_replay_in_one_edition_alone() -> None:
    """Rules of Golf (January 2016), Rule 19-3; 2017 draft explanation paper 1; Rules of Golf (January 2019), Rule 11.1a."""
    assert [case("deflect-opponent", edition, "player_cancels").stroke for edition in EDITIONS] == ["replay", "counts", "counts", "counts"]
    assert {cost("deflect-opponent", edition) for edition in EDITIONS} == {(0, "")}


def test_the_local_rule_of_january_gives_the_older_edition_a_second_answer() -> None:
    """Local Rule of January 2017, accidental movement of ball on green (notice)."""
    moved = "accidental-move-ball-green"
    assert (cost(moved, "2016"), cost(moved, "2016", "local_rule_of_january_2017")) == ((1, ""), (0, ""))


def test_a_stake_put_back_saves_the_penalty() -> None:
    """Summary of changes in the 2016 Rules of Golf (notice): Rule 13-2; Rules of Golf (January 2019), Rule 8.1c."""
    restored = [cost("boundary-object-moved-and-restored", edition, "restored_before_stroke") for edition in EDITIONS]
    assert restored == [(2, "lost"), (0, ""), (0, ""), (0, "")]


def test_what_reaches_beyond_the_green_and_what_does_not() -> None:
    """Rules of Golf (January 2019), Rule 10.1c: astride the line, wherever the ball lies; Rule 15.3a: a helping ball on the green."""
    assert [answer("stand-astride-line-of-putt", edition).area for edition in EDITIONS] == ["putting-green", "putting-green", "any", "any"]
    assert [answer("helping-ball-left-by-agreement", edition).area for edition in EDITIONS] == [
        "any",
        "any",
        "putting-green",
        "putting-green",
    ]
