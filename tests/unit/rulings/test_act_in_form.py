"""How an act reads in one form of play: what the form charges of its own, what cannot happen in it, and who bears it."""

from __future__ import annotations

import pytest

from marram.core.errors import DataError
from marram.core.terms import Area, Form
from marram.interchange.books.book_files import read_book
from marram.rulings.acts.act_in_form import FormReading, read_in_form
from marram.rulings.acts.acts import rule_on_act
from marram.rulings.acts.objects import MayMove, rule_on_object
from marram.rulings.acts.search_clock import read_timed
from marram.rulings.acts.sum_of_breaches import stroke_words


def reading(edition: str, act: str, form: Form, **facts: bool) -> FormReading:
    book = read_book(edition)
    case = rule_on_act(book, act, facts).case
    assert case is not None
    found = read_in_form(book, form, act, case)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("form", "charged"),
    [
        (Form.STABLEFORD, "two points off the round for each hole with a breach, four at most"),
        (Form.PAR_BOGEY, "one hole off the result for each hole with a breach, two at most"),
    ],
)
def test_a_form_that_charges_clubs_in_its_own_way_tells_so(form: Form, charged: str) -> None:
    """Rules of Golf 2016, Rule 32-1a Note 1 and 32-1b Note 1 with Rule 4-4; strokes are added elsewhere, two for each hole."""
    found = reading("2016", "too-many-clubs", form)
    assert charged in found.says
    assert found.strokes == 0
    plain = reading("2016", "too-many-clubs", Form.STROKE_PLAY)
    assert (plain.says, plain.strokes) == ("Two penalty strokes for each hole.", 2)


@pytest.mark.parametrize(("form", "says"), [(Form.STABLEFORD, "Two penalty strokes."), (Form.MATCH_PLAY, "Loss of hole.")])
def test_what_no_form_charges_of_its_own_is_the_general_penalty(form: Form, says: str) -> None:
    """Rules of Golf 2023, Rule 12.2b: testing the sand; the general penalty."""
    assert reading("2023", "bunker-test-sand", form).says == says


def test_what_happens_in_the_other_form_only_is_told_with_the_act_to_look_at() -> None:
    """Rules of Golf 2023, Rules 3.3b(3), 9.5b and 9.6: a match alone has an opponent, stroke play alone a score on a card."""
    stroke = reading("2023", "opponent-moves-not-search", Form.STROKE_PLAY)
    assert (stroke.happens, stroke.see_instead) == (False, "other-player-moves-ball")
    assert stroke.says == "It happens in match play only; in stroke play see act other-player-moves-ball."
    match = reading("2023", "opponent-moves-not-search", Form.MATCH_PLAY)
    assert (match.happens, match.see_instead) == (True, "")
    assert match.says.startswith("One penalty stroke (opponent)")
    assert reading("2023", "score-too-low", Form.MATCH_PLAY).says == "It happens in stroke play only."


def test_who_bears_it_is_told_where_partners_play() -> None:
    """Rules of Golf 2023, Rules 22.2 and 23.9a."""
    assert reading("2023", "bunker-test-sand", Form.FOURSOMES).says == (
        "Two penalty strokes. Both partners are one side: the side bears the penalty."
    )
    spared = reading("2023", "wrong-place-serious", Form.FOUR_BALL, not_put_right_in_time=True)
    assert spared.says == "The player is not disqualified, but has no score for the hole; the partner's score may count."
    assert reading("2023", "wrong-place-serious", Form.STROKE_PLAY, not_put_right_in_time=True).says == "Disqualified."


def test_on_the_last_hole_another_time_holds_for_what_is_put_right_before_the_next_tee() -> None:
    """Rules of Golf 2023, Rule 14.7b(1): before the next hole begins or, for the last hole, before the card is returned."""
    answer = rule_on_act(read_book("2023"), "wrong-place-serious", {})
    assert answer.last_hole_of("before-the-next-tee") == "before-the-card"
    assert answer.last_hole_of("before-the-stroke") == ""


def test_an_act_that_a_book_does_not_know_is_told_with_the_reason() -> None:
    """The Rules of Golf of 2016 hold no Rule for players with disabilities; those of 2019 and 2023 do, and leave no reason."""
    without, having = (rule_on_act(read_book(edition), "disability-more-than-one-aide", {}) for edition in ("2016", "2023"))
    assert without.case is None and "modified Rules stood apart" in without.why_none
    assert having.case is not None and having.why_none == ""


@pytest.mark.parametrize(
    ("edition", "area", "may"),
    [("2016", Area.BUNKER, MayMove.NO), ("2016", Area.GENERAL_AREA, MayMove.YES), ("2019", Area.BUNKER, MayMove.YES)],
)
def test_whether_a_stone_may_be_taken_away(edition: str, area: Area, may: MayMove) -> None:
    """Rules of Golf 2016, Rules 13-4c and 23-1; Rules of Golf 2019, Rule 15.1a."""
    assert rule_on_object(read_book(edition), "stone", area, {}).may_be_moved is may


def test_times_that_run_backwards_are_told_with_the_event_before() -> None:
    with pytest.raises(DataError, match=r"resumed@1:00 comes before suspended: times run backwards"):
        read_timed("start@0:00,suspended@2:00,resumed@1:00")


def test_one_stroke_is_told_in_words() -> None:
    assert [stroke_words(strokes) for strokes in (1, 2, 3)] == ["one penalty stroke", "2 penalty strokes", "3 penalty strokes"]


def test_repairing_the_green_is_another_act_than_taking_a_thing_away() -> None:
    """Rules of Golf 2016, Rule 16-1c: spike marks are not repaired; Rules of Golf 2019, Rule 13.1c(2): they are."""
    before, now = (rule_on_object(read_book(edition), "spike-mark", Area.PUTTING_GREEN, {}) for edition in ("2016", "2019"))
    assert before.moved is not None and before.moved.act == "repair-spike-mark"
    assert (before.may_be_moved, now.may_be_moved) == (MayMove.NO, MayMove.YES)
    elsewhere = rule_on_object(read_book("2019"), "spike-mark", Area.GENERAL_AREA, {})
    assert elsewhere.moved is None or elsewhere.moved.act != "repair-spike-mark"


def test_a_path_gives_relief_in_the_general_area_and_none_in_a_penalty_area() -> None:
    """Rules of Golf 2023, Rule 16.1a(2)."""
    in_general, in_water = (rule_on_object(read_book("2023"), "path", area, {}).relief for area in (Area.GENERAL_AREA, Area.PENALTY_AREA))
    assert "immovable-obstruction" in in_general
    assert "immovable-obstruction" not in in_water
