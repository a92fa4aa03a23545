"""Exceptions to what acts of conduct, cards, clubs and caddies lead to, one case for each.

Sources: tests/published/rules/acts.yaml, whose `checked` names the document of each cell; each case below names its rule. Two worked
examples and the traps about cards, alignment, agreements and clubs are from the same collection.
"""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner

from marram.cli.act.command import act as act_command
from marram.interchange.books.book_files import read_book
from marram.rulebook.consequences import Consequence
from marram.rulings.acts.acts import rule_on_act

NOTHING = {"strokes": 0, "match_strokes": 0, "hole": "", "out": "", "added": "", "allowed": True}
FREE: dict[str, object] = {}
ONE: dict[str, object] = {"strokes": 1, "match_strokes": 1}
GENERAL: dict[str, object] = {"strokes": 2, "hole": "lost"}
NEXT_HOLE: dict[str, object] = {"strokes": 2, "hole": "next-lost"}
CLUBS: dict[str, object] = {"strokes": 2, "per_hole": True, "capped": True}
OUT: dict[str, object] = {"out": "always"}
OUT_OF_STROKE_PLAY: dict[str, object] = {"out": "stroke-play"}
STANCE = "caddie-behind-taking-stance"
UNKNOWN = "score-too-low-unknown-penalty"


def case_of(edition: str, act: str, *facts: str) -> Consequence:
    found = rule_on_act(read_book(edition), act, dict.fromkeys(facts, True)).case
    assert found is not None
    return found


def told(edition: str, act: str, *facts: str) -> dict[str, object]:
    stated = [word for fact in facts for word in ("--fact", f"{fact}=true")]
    done = CliRunner().invoke(act_command, [act, "--book", edition, *stated, "--json"])
    assert done.exit_code == 0, done.output
    (book,) = json.loads(done.stdout)["books"]
    assert isinstance(book, dict)
    return book


CASES = [
    # A second ball in doubt. Rule 3-3 (2016); Rule 20.1c(3) (2019 and 2023), all from memory.
    ("2016", "second-ball-in-doubt", ("not_reported",), OUT_OF_STROKE_PLAY),
    ("2016", "second-ball-in-doubt", (), {"ball": "both-played"}),
    ("2019", "second-ball-in-doubt", ("not_reported",), OUT_OF_STROKE_PLAY),
    ("2019", "second-ball-in-doubt", ("chosen_too_late",), {"ball": "first-ball-counts"}),
    ("2023", "second-ball-in-doubt", ("chosen_too_late",), {"ball": "first-ball-counts"}),
    # A hole not finished. Rule 3-2 (2016); Rule 3.3c (2019, 2023), to be corrected in time.
    ("2016", "hole-not-finished", (), OUT_OF_STROKE_PLAY),
    ("2019", "hole-not-finished", ("corrected_in_time",), FREE),
    ("2019", "hole-not-finished", (), OUT_OF_STROKE_PLAY),
    # Serious misconduct. Rule 33-7 (2016); papers 6 and 11 of the draft of March 2017; Rule 1.2a and 1.2b (2019, 2023; from memory).
    ("2016", "serious-misconduct", (), {"out": "committee-may"}),
    ("draft-2017", "serious-misconduct", (), {"out": "committee-may"}),
    ("draft-2017", "serious-misconduct", ("code_of_conduct_sets_one_stroke",), ONE),
    ("draft-2017", "serious-misconduct", ("code_of_conduct_sets_general_penalty",), GENERAL),
    ("2019", "serious-misconduct", ("code_of_conduct_sets_one_stroke",), ONE),
    ("2019", "serious-misconduct", ("code_of_conduct_sets_general_penalty",), GENERAL),
    ("2019", "serious-misconduct", ("code_of_conduct_sets_disqualification",), OUT),
    ("2023", "serious-misconduct", (), {"out": "committee-may"}),
    ("2023", "serious-misconduct", ("code_of_conduct_sets_disqualification",), OUT),
    # Several breaches. Decision 1-4/12 (2016); Rule 1.3c(4) (Rules of Golf, effective January 2023, printed page 24).
    ("2016", "multiple-breaches-one-act", (), {"added": "highest-of-the-breaches"}),
    ("2016", "multiple-breaches-unrelated-acts", (), {"added": "each-of-the-breaches"}),
    ("2019", "multiple-breaches-unrelated-acts", (), {"added": "each-of-the-breaches"}),
    ("2023", "multiple-breaches-unrelated-acts", (), {"added": "highest-of-the-breaches"}),
    ("2023", "multiple-breaches-after-warning", (), {"added": "each-of-the-breaches"}),
    # Players with disabilities. Modified Rules of Golf 2019, 3.3; Rules of Golf, effective January 2023, printed pages 203 and 207.
    ("2019", "disability-more-than-one-aide", (), GENERAL | {"per_hole": True, "capped": False}),
    ("2023", "disability-more-than-one-aide", (), GENERAL | {"per_hole": True, "capped": False}),
    ("2023", "disability-blind-object-for-aim", ("removed_before_stroke",), FREE),
    ("2023", "disability-blind-object-for-aim", (), GENERAL),
    # A card too low for a penalty not known. Summary of changes in the 2016 Rules of Golf, 6-6d Exception; Rule 3.3b(3) Exception.
    ("2016", UNKNOWN, (), {"strokes": 2, "added": "penalty-left-out", "per_hole": True, "capped": False}),
    ("draft-2017", UNKNOWN, (), {"strokes": 0, "added": "penalty-left-out"}),
    ("2019", UNKNOWN, (), {"strokes": 0, "added": "penalty-left-out"}),
    ("2019", UNKNOWN, ("penalty_left_out_is_disqualification",), OUT_OF_STROKE_PLAY),
    ("2019", UNKNOWN, ("was_told_or_unsure_and_kept_silent",), OUT_OF_STROKE_PLAY),
    ("2019", UNKNOWN, ("found_after_close_of_competition",), FREE),
    ("2023", UNKNOWN, ("penalty_left_out_is_disqualification",), OUT_OF_STROKE_PLAY),
    ("2023", UNKNOWN, ("was_told_or_unsure_and_kept_silent",), OUT_OF_STROKE_PLAY),
    ("2023", UNKNOWN, ("found_after_close_of_competition",), FREE),
    # A card not signed, a handicap not there. Rules 6-6b and 6-2b (2016); Model Local Rule L-1, Rule 3.3b(4) (2023, Principal Changes).
    ("2016", "card-unsigned", (), OUT_OF_STROKE_PLAY),
    ("2023", "card-unsigned", (), OUT_OF_STROKE_PLAY),
    ("2023", "card-unsigned", ("penalty_strokes_by_local_rule",), {"strokes": 2}),
    ("2019", "handicap-missing-on-card", (), {"out": "net-event"}),
    ("2023", "handicap-missing-on-card", (), FREE),
    # Practice between holes. Rules of Golf 2019, Player's Edition, Rule 5. Before the round: Interpretations to the 2019 Rules, Rule 5.
    ("2019", "practice-stroke-between-holes", ("practice_allowed_there",), FREE),
    ("2019", "practice-stroke-between-holes", (), NEXT_HOLE),
    ("2019", "practice-before-stroke-play-round", (), {"strokes": 2}),
    ("2019", "practice-before-stroke-play-round", ("second_breach",), OUT_OF_STROKE_PLAY),
    # Agreements. Rule 34 exceptions page on Rule 1-3 (2016); 2023 Clarifications, Rule 1, on 1.3b(1).
    ("2016", "agree-to-waive-rules", (), OUT),
    ("2019", "agree-to-waive-rules", ("they_knew_the_rule",), OUT),
    ("2019", "agree-to-waive-rules", ("they_knew_the_rule", "cancelled_before_anyone_started"), FREE),
    ("2023", "agree-to-waive-rules", (), FREE),
    # A caddie behind the player. Paper 5 of the draft of March 2017; rules column of 6 February 2019 on 10.2b(4) and its clarification.
    ("2016", STANCE, (), FREE),
    ("draft-2017", STANCE, (), GENERAL),
    ("2019", STANCE, (), GENERAL),
    ("2019", STANCE, ("backed_off_and_caddie_left",), GENERAL),
    ("2019", STANCE, ("clarification_of_february_2019_in_force",), GENERAL),
    ("2019", STANCE, ("clarification_of_february_2019_in_force", "backed_off_and_caddie_left"), FREE),
    ("2019", STANCE, ("ball_on_green", "backed_off_and_caddie_left"), FREE),
    # The same in 2023. Players' rule finder page, where a caddie may stand (2023), Rule 10.2b(4).
    ("2023", STANCE, (), GENERAL),
    ("2023", STANCE, ("inadvertent",), FREE),
    ("2023", STANCE, ("backed_off_and_caddie_left",), FREE),
    ("2023", STANCE, ("help_other_than_aiming", "caddie_left_before_stroke"), FREE),
    ("2023", STANCE, ("help_other_than_aiming", "caddie_left_before_stroke", "part_of_regular_routine"), GENERAL),
    ("2023", STANCE, ("help_other_than_aiming",), GENERAL),
    ("2023", "caddie-behind-at-stroke", ("inadvertent",), FREE),
    ("2019", "caddie-behind-at-stroke", (), GENERAL),
    # A club laid down. 2019 Rules Fact Sheet on alignment; Clarifications 10.2b/1 and 10.2b(3)/1 (December 2022).
    ("draft-2017", "club-laid-for-stance", (), FREE),
    ("2019", "club-laid-for-stance", (), GENERAL),
    ("2023", "club-laid-for-stance", ("clubhead_set_behind_ball",), FREE),
    # Anchoring. Rules of Golf 2019, Player's Edition, Rule 10.
    ("2019", "anchored-stroke", ("merely_touching",), FREE),
    # A club damaged and replaced. Paper 28 of the draft of March 2017; Rules of Golf 2016, 4-3 and 4-3b; 2023, Principal Changes.
    ("2016", "replace-club-damaged-normally", (), FREE),
    ("2016", "replace-club-damaged-normally", ("still_fit_for_play",), OUT),
    ("draft-2017", "replace-club-damaged-normally", (), CLUBS | {"hole": ""}),
    ("2019", "replace-club-damaged-normally", (), CLUBS | {"hole": ""}),
    ("2019", "replace-club-damaged-normally", ("broken_or_significantly_damaged",), CLUBS),
    ("2019", "replace-club-damaged-normally", ("replacing_allowed_by_local_rule", "broken_or_significantly_damaged"), FREE),
    ("2023", "replace-club-damaged-normally", (), FREE),
    ("2016", "replace-club-damaged-abuse", (), OUT),
    ("2016", "replace-club-damaged-abuse", ("began_with_fewer_than_14",), FREE),
    ("draft-2017", "replace-club-damaged-abuse", (), CLUBS | {"hole": ""}),
    ("2023", "replace-club-damaged-abuse", (), CLUBS | {"hole": ""}),
    ("2016", "replace-club-damaged-by-others", ("still_fit_for_play",), OUT),
    ("2016", "replace-club-damaged-by-others", ("not_in_normal_course_of_play",), OUT),
    ("2016", "replace-club-damaged-by-others", (), FREE),
    ("2019", "replace-club-damaged-by-others", (), FREE),
    # A club that does not conform, carried. German-language rules series, state of 2018, 4-2 penalty statement.
    ("2016", "non-conforming-club-carried", (), CLUBS),
    ("2016", "non-conforming-club-carried", ("not_declared_out_of_play_at_once",), OUT),
    ("2019", "non-conforming-club-carried", (), FREE),
]


@pytest.mark.parametrize(("edition", "act", "facts", "expected"), CASES, ids=lambda part: str(part) if isinstance(part, str) else None)
def test_an_exception_is_a_case_over_named_facts(edition: str, act: str, facts: tuple[str, ...], expected: dict[str, object]) -> None:
    case = case_of(edition, act, *facts)
    whole = NOTHING | expected
    assert {name: getattr(case, name) for name in whole} == whole


def test_what_the_committee_may_do_is_no_disqualification_yet() -> None:
    """Rule 1.2a (2019 and 2023), from memory; Rule 33-7 (2016)."""
    for edition in ("2016", "2019", "2023"):
        for form in ("stroke_play", "match_play"):
            found = told(edition, "serious-misconduct")[form]
            assert isinstance(found, dict)
            assert (found["disqualified"], found["committee_may_disqualify"]) == (False, True)
    assert "the Committee may disqualify" in case_of("2023", "serious-misconduct").in_words(is_stroke_in_question=False)


def test_an_amount_that_is_only_arithmetic_is_null() -> None:
    """Rule 6-6d Exception (2016): two strokes of its own besides what was left out; Rule 3.3b(3) Exception (2019): that alone."""
    before, since = told("2016", UNKNOWN)["stroke_play"], told("2019", UNKNOWN)["stroke_play"]
    kept = {"stroke": "counts", "ball": "none", "put_right": "", "put_right_last_hole": ""}
    assert before == kept | {"added": "penalty-left-out", "disqualified": False, "hole": "", "strokes": 2}
    assert since == kept | {"added": "penalty-left-out", "disqualified": False, "hole": "", "strokes": None}
    assert told("2019", UNKNOWN)["match_play"] is None
    several = told("2023", "multiple-breaches-unrelated-acts")
    assert several["match_play"] == kept | {
        "added": "highest-of-the-breaches",
        "disqualified": False,
        "hole": "",
        "strokes": None,
        "who": "player",
    }


@pytest.mark.parametrize("edition", ["2019", "2023"])
def test_two_balls_in_a_match_are_not_allowed_and_cost_nothing_stated(edition: str) -> None:
    """Rules of Golf, effective January 2023, printed page 174, Rule 20.1b(4); 2019 from memory."""
    found = told(edition, "two-balls-in-match-play")
    assert found["stroke_play"] is None
    kept = {"stroke": "counts", "ball": "none", "put_right": "", "put_right_last_hole": ""}
    assert found["match_play"] == kept | {"allowed": False, "disqualified": False, "hole": "", "strokes": 0, "who": "player"}
    assert "match play not allowed" in case_of(edition, "two-balls-in-match-play").in_words(is_stroke_in_question=False)


def test_a_hole_is_lost_for_each_hole_with_a_second_aide() -> None:
    """Rules of Golf, effective January 2023, printed pages 203 and 207: as for more than one caddie, hole by hole."""
    words = case_of("2023", "disability-more-than-one-aide").in_words(is_stroke_in_question=False)
    assert "two penalty strokes for each hole" in words
    assert "loss of hole, for each such hole" in words


@pytest.mark.parametrize(("edition", "played", "restored"), [("2016", 2, 2), ("2019", 2, 0), ("2023", 2, 0)])
def test_a_stake_taken_away_and_the_card_signed(edition: str, played: int, restored: int) -> None:
    """Worked example 31: not known to be a breach, signed; 2016 two more, later editions the breach alone. Later editions from memory."""
    breach, card = case_of(edition, "boundary-object-moved"), case_of(edition, UNKNOWN)
    assert breach.strokes == played
    assert breach.strokes + card.strokes == (4 if edition == "2016" else 2)
    assert case_of(edition, "boundary-object-moved-and-restored").strokes == restored


@pytest.mark.parametrize("edition", ["2016", "2019", "2023"])
def test_a_starting_time(edition: str) -> None:
    """Worked example 33: less than five minutes late or early, two strokes or the first hole; more, disqualified. Rule 5.3a; 6-3a."""
    for act in ("late-start-within-5", "early-start-within-5"):
        case = case_of(edition, act)
        assert (case.strokes, case.hole, case.out) == (2, "first-lost", "")
    assert case_of(edition, "late-start-over-5").out == "always"


@pytest.mark.parametrize("edition", ["2019", "2023"])
def test_exceptional_circumstances_excuse_a_late_start(edition: str) -> None:
    """Rules of Golf 2019 and 2023, Player's Editions, Rule 5, Rule 5.3a Exception 3."""
    for act in ("late-start-within-5", "late-start-over-5"):
        case = case_of(edition, act, "exceptional_circumstances")
        assert (case.strokes, case.hole, case.out) == (0, "", "")


def test_a_helping_ball_left_by_agreement() -> None:
    """Trap: disqualified in 2016 (Rule 22-1), since 2019 two strokes, unless they knew (Rule 15.3a, 1.3b(1), from memory)."""
    assert case_of("2016", "helping-ball-left-by-agreement").out == "stroke-play"
    assert case_of("2019", "helping-ball-left-by-agreement").strokes == 2
    assert case_of("2019", "helping-ball-left-by-agreement", "they_knew_it_is_not_allowed").out


@pytest.mark.parametrize(
    ("edition", "act", "words"),
    [
        ("2019", "club-laid-for-stance", "Backing off does not help"),
        ("2023", STANCE, "Moving away as a signal is help with aiming"),
        ("2023", "handicap-missing-on-card", "Committee"),
        ("2019", "disability-more-than-one-aide", "Modified Rules"),
    ],
)
def test_what_only_explains_is_told_besides(edition: str, act: str, words: str) -> None:
    """Facts that decide nothing are told under the answer."""
    assert words in str(told(edition, act)["advice"])
    done = CliRunner().invoke(act_command, [act, "--book", edition])
    assert "Besides: " in done.output
