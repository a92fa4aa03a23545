"""Several breaches together: each edition's own arithmetic, what is open, what does not count, and the cap for clubs.

Source: Rules of Golf (January 2023), Rule 1.3c(4); Decisions on the Rules of Golf 2016, Decision 1-4/12; Rule 4-4 (2016), Rule 4.1b (2019).
Sums with their sources stand in tests/published/rules/sums.yaml.
"""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from click.testing import CliRunner

from marram.cli.act.command import act
from marram.core.errors import DataError
from marram.core.terms import Form
from marram.interchange.books.book_files import read_book
from marram.rulebook.reading.files import packaged_catalogue
from marram.rulings.acts.act_in_form import read_in_form
from marram.rulings.acts.acts import rule_on_act
from marram.rulings.acts.breach_relations import Counted, Relations, Stand
from marram.rulings.acts.breaches import NamedAct
from marram.rulings.acts.several import SumOfActs, Supposal, sum_of_acts
from marram.rulings.acts.sum_of_breaches import Between, Together
from tests.support.editions import ASKED_BY_NAME

SAND, BRANCH, MOVED = "bunker-practice-swing-touch", "improve-conditions", "accidental-move-by-player"


def summed(edition: str, *acts: str, between: Between | None = None, holes: int | None = None) -> SumOfActs:
    return sum_of_acts(read_book(edition), [NamedAct(act=name, facts={}) for name in acts], between, holes)


def total(edition: str, *acts: str, between: Between, holes: int = 1) -> Together:
    (reading,) = summed(edition, *acts, between=between, holes=holes).readings
    assert reading.supposes == ()
    return reading.total


@pytest.mark.parametrize(
    ("edition", "between", "strokes"),
    [
        ("2016", Between.ONE_ACT, 2),
        ("2016", Between.NO_EVENT, 3),
        ("2016", Between.RELATED, 2),
        ("2016", Between.UNRELATED, 3),
        ("2019", Between.NO_EVENT, 3),
        ("2023", Between.NO_EVENT, 2),
        ("2023", Between.UNRELATED, 2),
        ("2023", Between.ONE_ACT, 2),
        ("2023", Between.EVENT, 3),
        ("2023", Between.STROKE, 3),
        ("2019", Between.EVENT, 3),
    ],
)
def test_breaches_are_added_or_the_highest_counts(edition: str, between: Between, strokes: int) -> None:
    found = total(edition, SAND, MOVED, between=between)
    assert found.strokes == strokes
    assert found.match.holes_lost == ("lost",)
    assert found.match.strokes == 0
    assert found.citations


@pytest.mark.parametrize(("holes", "strokes", "deducted"), [(1, 2, 1), (2, 4, 2), (5, 4, 2), (18, 4, 2)])
def test_clubs_stop_at_the_cap(holes: int, strokes: int, deducted: int) -> None:
    found = total("2023", "too-many-clubs", between=Between.EVENT, holes=holes)
    assert (found.strokes, found.match.holes_deducted) == (strokes, deducted)


def test_what_has_no_cap_goes_on_by_the_hole() -> None:
    found = total("2023", "disability-more-than-one-aide", between=Between.EVENT, holes=5)
    assert found.strokes == 10
    assert found.match.words == "loss of hole, for each of 5 holes"
    open_ = summed("2023", "ball-of-other-model")
    assert [(reading.supposes, reading.total.strokes, reading.total.match.strokes) for reading in open_.readings] == [
        ((Supposal.ONE_HOLE,), 1, 1),
        ((Supposal.TWO_HOLES,), 2, 2),
    ]


def test_two_caps_are_two_caps() -> None:
    found = total("2016", "too-many-clubs", "two-caddies", between=Between.EVENT, holes=3)
    assert found.strokes == 8
    assert found.match.holes_deducted == 4


def test_a_second_use_of_equipment_costs_more_after_an_event() -> None:
    found = summed("2016", "distance-device", "distance-device")
    assert {reading.supposes: (reading.total.strokes, reading.total.is_out) for reading in found.readings} == {
        (Supposal.NOTHING,): (2, False),
        (Supposal.EVENT,): (2, True),
    }


def test_no_empty_brackets_stand_where_a_total_names_no_rule() -> None:
    printed = CliRunner().invoke(act, ["two-caddies", "--book", "2023", "--holes", "2"]).output
    assert "4 penalty strokes" in printed
    assert "[]" not in printed


def test_a_stroke_between_parts_what_one_penalty_takes_in() -> None:
    acts = (MOVED, "moved-or-lifted-ball-not-replaced")
    assert total("2023", *acts, between=Between.EVENT).strokes == 2
    assert total("2023", *acts, between=Between.STROKE).strokes == 3


def test_acts_of_which_no_kind_speaks_are_asked_about() -> None:
    relations = Relations(read_book("2016"))
    assert relations.stand("repair-ball-mark", SAND) is Stand.ASKED
    assert relations.stand("lift-without-marking", "incorrect-substitution") is Stand.ASKED
    found = summed("2016", "bunker-test-sand", "bunker-ground-club")
    assert {reading.supposes: reading.total.strokes for reading in found.readings} == {
        (Supposal.NOTHING, Supposal.RELATED): 2,
        (Supposal.EVENT,): 4,
        (Supposal.APART,): 4,
    }


def test_each_act_stands_in_one_kind_alone() -> None:
    for edition in packaged_catalogue().editions:
        book = read_book(edition)
        listed = [name for row in book.catalogue.rows if row.startswith("breach-kind.") for name in book.words(f"{row}.acts").value]
        assert len(listed) == len(set(listed))


def test_what_may_fall_with_a_ball_is_not_what_belongs_to_the_round() -> None:
    relations = Relations(read_book("2023"))
    assert relations.may_fall_with_a_ball(SAND)
    assert not relations.may_fall_with_a_ball("advice")
    assert relations.counted("late-start-within-5") is Counted.HIGHEST


def test_acts_that_cannot_be_added_are_told() -> None:
    words = ["multiple-breaches-one-act", "--also", "wrong-ball", "--book", "2023"]
    assert "Not added up: multiple-breaches-one-act is itself a sum" in " ".join(CliRunner().invoke(act, words).output.split())
    (book,) = json.loads(CliRunner().invoke(act, [*words, "--json"]).stdout)["books"]
    assert book["together"] is None
    absent = CliRunner().invoke(act, [SAND, "--also", "disability-anchoring", "--book", "2016"]).output
    assert "Not added up: disability-anchoring stands not in 2016" in " ".join(absent.split())


def test_nothing_to_add_up_is_refused() -> None:
    with pytest.raises(DataError):
        summed("2023")
    with pytest.raises(DataError):
        summed("2023", SAND, holes=0)


def test_the_command_adds_up_under_every_edition() -> None:
    done = CliRunner().invoke(act, [SAND, "--also", MOVED, "--between", "no-event", *ASKED_BY_NAME, "--json"])
    assert done.exit_code == 0, done.output
    totals = [book["together"]["stroke_play"]["strokes"] for book in json.loads(done.stdout)["books"]]
    assert totals == [3, 3, 3, 2]
    (clubs,) = json.loads(CliRunner().invoke(act, ["too-many-clubs", "--holes", "4", "--book", "2023", "--json"]).stdout)["books"]
    assert clubs["together"]["stroke_play"]["strokes"] == 4
    (alone,) = json.loads(CliRunner().invoke(act, ["advice", "--book", "2023", "--json"]).stdout)["books"]
    assert "together" not in alone


@pytest.mark.parametrize(
    ("other", "message"),
    [
        ("no-such-act", "There is no act 'no-such-act'"),
        (f"{MOVED}:measuring=perhaps", "states no fact"),
        (f"{MOVED}:flying=true", "There is no fact 'flying'"),
        (f"{MOVED}:measuring=true,measuring=false", "stated true and false"),
    ],
)
def test_a_further_act_that_cannot_be_read_is_refused_in_words(other: str, message: str) -> None:
    done = CliRunner().invoke(act, [SAND, "--also", other, "--book", "2023"])
    assert done.exit_code != 0
    assert message in f"{done.output}{done.exception}"


def test_the_first_act_may_be_the_one_that_does_not_count() -> None:
    words = [SAND, "--fact", "with_a_ball_that_does_not_count=true", "--also", "wrong-ball", "--book", "2016", "--json"]
    (book,) = json.loads(CliRunner().invoke(act, words).stdout)["books"]
    assert book["together"]["stroke_play"]["strokes"] == 2


def test_what_belongs_to_the_round_does_not_fall_with_a_ball() -> None:
    acts = [NamedAct(act="wrong-ball", facts={}), NamedAct(act="advice", facts={}, is_with_uncounted=True)]
    assert {reading.total.strokes for reading in sum_of_acts(read_book("2023"), acts, Between.EVENT).readings} == {4}


def test_who_is_out_of_the_match_alone_still_has_strokes_in_stroke_play() -> None:
    found = total("2019", "wrong-handicap-in-match", SAND, between=Between.EVENT)
    assert (found.strokes, found.is_out, found.match.words) == (2, False, "disqualified")


def test_which_delay_came_first_makes_no_difference() -> None:
    acts = ("unreasonable-delay", "repair-takes-too-long")
    for edition in packaged_catalogue().editions:
        totals = [total(edition, *order, between=Between.EVENT).amounts for order in (acts, acts[::-1])]
        assert totals[0] == totals[1]


def test_a_stated_second_breach_is_not_counted_up_again() -> None:
    acts = [NamedAct(act="unreasonable-delay", facts={"second_breach": True}), NamedAct(act="unreasonable-delay", facts={})]
    assert {reading.total.strokes for reading in sum_of_acts(read_book("2019"), acts, Between.EVENT).readings} == {3}


def test_a_penalty_that_was_left_out_is_named_besides() -> None:
    """Rules of Golf 2023, Rule 3.3b(3): what is added is the penalty of the other act, which has to be told."""
    alone, named = summed("2023", "score-too-low-unknown-penalty"), summed("2023", "score-too-low-unknown-penalty", "bunker-test-sand")
    assert (alone.readings, alone.why_not) == ((), "name in `also` the act whose penalty was left out")
    assert named.readings and named.why_not == ""


def test_a_disqualification_from_a_net_event_stands_in_the_answer_and_in_the_total() -> None:
    """Rules of Golf 2016, Rule 6-2b: no handicap on the card disqualifies from the handicap competition, in stroke play alone."""
    book = read_book("2016")
    case = rule_on_act(book, "handicap-missing-on-card", {}).case
    assert case is not None and case.in_stroke_play is not None
    assert (case.in_stroke_play.is_out, case.in_stroke_play.strokes, case.in_match_play) == (True, 0, None)
    assert case.stroke_play_words == "disqualified from a net event"
    in_points = read_in_form(book, Form.STABLEFORD, "handicap-missing-on-card", case)
    assert in_points is not None and in_points.is_out
    found = total("2016", "handicap-missing-on-card", MOVED, between=Between.NO_EVENT)
    assert (found.is_out, found.is_out_of_net, found.strokes) == (False, True, 1)
    assert found.stroke_play_words == "one penalty stroke, disqualified from a net event"
    assert replace(found, is_out_of_net=False).amounts != found.amounts
    assert not total("2016", SAND, MOVED, between=Between.NO_EVENT).is_out_of_net
