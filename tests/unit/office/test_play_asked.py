"""Jobs about play on values: opened books, stated acts, things, events and incidents; no file is named anywhere."""

from __future__ import annotations

import msgspec
import pytest

from marram.answers.rules.acts_answer import ActAnswers, act_answers
from marram.answers.rules.ask_answer import ask_answer
from marram.answers.rules.ruling_answer import RulingAnswers, ruling_answers
from marram.answers.rules.together_answer import TogetherShape
from marram.answers.shape import UNSET, json_text
from marram.core.errors import DataError, FactsNeeded, IncidentError
from marram.core.field_names import Field
from marram.core.terms import Area, Form
from marram.course.frame import Position
from marram.office.open_course import OpenCourse
from marram.office.play.ask import ask_under_books
from marram.office.play.give_ruling import Rulings, draw_ruling, give_rulings
from marram.office.play.name_thing import rule_on_thing
from marram.office.play.rule_on_acts import ActsRuled, StatedAct, rule_on_acts
from marram.office.play.stop_play import stop_play
from marram.office.play.tell_form import tell_form
from marram.office.play.time_search import time_search
from marram.rulebook import open_book, packaged_catalogue
from marram.rulings.acts.acts import facts_read
from marram.rulings.case.incident import Incident, Player
from tests.support.ground import course, pond

BOOKS = tuple(open_book(edition, [], packaged_catalogue()) for edition in ("2016", "2023"))
LATEST = BOOKS[1:]
GROUND = OpenCourse(course=course(pond()), day=None)


def on_acts(*stated: StatedAct, between: str = "", form: str = "") -> ActsRuled:
    (ruled,) = rule_on_acts(LATEST, stated, between=between, form=form)
    return ruled


def at_the_pond(**more: object) -> Incident:
    """A ball in the water, where nobody says where it crossed; Rule 17.1d (2023) asks for that point for every relief but one."""
    told = {"hole": 1, "situation": "penalty-area", "form": Form.STROKE_PLAY, "ball": Position(x_m=0, y_m=-55), **more}
    return Incident(**told)  # type: ignore[arg-type]


# Acts ----------------------------------------------------------------------------------------------------------------


def test_a_wrong_ball_costs_two_strokes_or_the_hole() -> None:
    """Rules of Golf 2023, Rule 6.3c(1): general penalty, two strokes in stroke play and loss of hole in match play."""
    ruled = on_acts(StatedAct(act="wrong-ball"))
    case = ruled.first.answer.case
    assert case is not None
    assert (case.strokes, case.hole) == (2, "lost")
    assert (ruled.total, ruled.further, ruled.readings) == (None, (), ())


def test_a_fact_is_stated_by_any_spelling_of_its_name_and_in_one_way() -> None:
    """Rules of Golf 2023, Rule 6.3c(1): a stroke at a wrong ball moving in water costs nothing."""
    case = on_acts(StatedAct(act="wrong-ball", facts=[("moving-in-water", True), ("moving_in_water", True)])).first.answer.case
    assert case is not None and (case.strokes, case.hole) == (0, "")
    for facts in ([("second-breach", True)], [("moving-in-water", True), ("moving_in_water", False)]):
        with pytest.raises(DataError) as refused:
            on_acts(StatedAct(act="wrong-ball", facts=facts))
        assert refused.value.field == Field.FACT


def test_a_book_tells_which_stated_fact_it_does_not_read() -> None:
    read = {book.name: set(facts_read([book], "wrong-ball")) for book in BOOKS}
    for fact in read["2016"] ^ read["2023"]:
        told = rule_on_acts(BOOKS, [StatedAct(act="wrong-ball", facts=[(fact, True)])])
        assert [fact in one.first.facts_not_read for one in told] == [fact not in read[book.name] for book in BOOKS]


def test_a_further_act_names_its_own_field_where_its_facts_are_wrong() -> None:
    with pytest.raises(DataError) as refused:
        on_acts(StatedAct(act="wrong-ball"), StatedAct(act="wrong-place-minor", facts=[("no-such-fact", True)]))
    assert refused.value.field == Field.ALSO.of("wrong-place-minor")


@pytest.mark.parametrize(("between", "strokes"), [("event", 4), ("no-event", 2)])
def test_acts_are_added_up_by_what_lies_between_them(between: str, strokes: int) -> None:
    """Rules of Golf 2023, Rule 1.3c(4): two general penalties; with an intervening event both count, without one the higher alone."""
    touched = StatedAct(act="bunker-ground-club", facts=[("with-a-ball-that-does-not-count", False)])
    ruled = on_acts(StatedAct(act="wrong-ball"), touched, between=between)
    told = act_answers([ruled]).books[0]
    assert isinstance(told.together, TogetherShape)
    assert told.together.stroke_play.strokes == strokes
    assert [further.act for further in told.also or ()] == ["bunker-ground-club"]
    assert msgspec.json.decode(json_text(act_answers([ruled])), type=ActAnswers) == act_answers([ruled])


def test_a_total_that_hangs_on_the_ball_is_null_and_asks() -> None:
    """Rules of Golf 2023, Rule 6.3c(1): what is done in playing a wrong ball falls with its strokes, other breaches do not."""
    told = act_answers([on_acts(StatedAct(act="wrong-ball"), StatedAct(act="bunker-ground-club"), between="event")]).books[0].together
    assert isinstance(told, TogetherShape)
    assert told.stroke_play.strokes is None
    assert [reading.stroke_play.strokes for reading in told.readings] == [2, 4]
    assert len(told.asks) == 1


def test_what_lies_between_is_a_word_of_the_list() -> None:
    with pytest.raises(DataError) as refused:
        on_acts(StatedAct(act="wrong-ball"), StatedAct(act="wrong-place-minor"), between="lunch")
    assert refused.value.field == Field.BETWEEN


def test_an_act_is_read_in_the_form_that_is_asked_about() -> None:
    """Rules of Golf 2023, Rule 21.1: Stableford counts penalty strokes as stroke play does."""
    (reading,) = on_acts(StatedAct(act="wrong-ball"), form="stableford").readings
    assert (reading.reading.form, reading.reading.strokes) == (Form.STABLEFORD, 2)


# Things, the search, play stopped, forms -----------------------------------------------------------------------------


def test_a_rake_may_be_moved_in_a_bunker_and_a_book_tells_which_fact_it_does_not_read() -> None:
    """Rules of Golf 2016, Rule 24-1; Rules of Golf 2023, Rule 15.2a: a movable obstruction is moved anywhere."""
    for ruled in rule_on_thing(BOOKS, "rake", area=Area.BUNKER):
        assert ruled.answer.may_be_moved.value == "yes"
        assert ruled.facts_not_read == ()


def test_a_ball_found_after_four_minutes_is_in_time_under_five_and_late_under_three() -> None:
    """Rules of Golf 2016, definition of a lost ball: five minutes; Rules of Golf 2023, Rule 18.2a: three."""
    older, newer = time_search(BOOKS, "start@0:00,found@4:00")
    assert (older.answer.limit_s, older.answer.state.value) == (300, "found")
    assert (newer.answer.limit_s, newer.answer.state.value) == (180, "found-too-late")
    assert older.moved is None and newer.moved is None


def test_nobody_unknown_moves_a_ball_in_a_search() -> None:
    with pytest.raises(DataError) as refused:
        time_search(BOOKS, "start@0:00", moved_by="greenkeeper")
    assert refused.value.field == Field.MOVED_BY
    (moved,) = time_search(LATEST, "start@0:00", moved_by="player")
    assert moved.moved is not None and moved.moved.acts


def test_a_hole_begun_may_be_finished_after_a_normal_suspension_only() -> None:
    """Rules of Golf 2023, Rule 5.7b: immediate, everybody stops at once; normal, a hole that is begun may be finished."""
    assert [stop_play(LATEST, signal)[0].may_finish_hole for signal in ("immediate", "normal", "unasked")] == [False, True, False]
    assert not stop_play(LATEST, "normal", is_hole_begun=False)[0].may_finish_hole
    with pytest.raises(DataError) as refused:
        stop_play(LATEST, "siren")
    assert refused.value.field == Field.SIGNAL


def test_only_what_is_asked_of_a_form_is_told() -> None:
    """Rules of Golf 2023, Rule 21.1c: a Stableford hole without a score earns no points."""
    (told,) = tell_form(LATEST, "stableford", ["picked-up"])
    assert [line.values for line in told.lines] == [{"picked_up": "no-points"}]
    assert len(tell_form(LATEST, "stableford")[0].lines) > 5


# Asked in words ------------------------------------------------------------------------------------------------------


def test_leads_go_on_under_the_names_by_which_books_were_asked_about() -> None:
    named = ask_under_books("young trees through the green", BOOKS, ["old", "new"]).found[0]
    plain = ask_under_books("young trees through the green", BOOKS).found[0]
    assert (named.books, plain.books) == (("old",), ("2016",))
    told = ask_answer(ask_under_books("stopping a slice", LATEST), lambda lead: ("here", ""))
    assert not told.covered and told.says and told.answers == ()
    assert ask_answer(ask_under_books("wrong ball", LATEST), lambda lead: ("here", "")).says is UNSET


# Rulings -------------------------------------------------------------------------------------------------------------


def ruled(incident: Incident) -> Rulings:
    return give_rulings(incident, GROUND, BOOKS)


def test_a_ruling_is_given_and_drawn_without_any_file() -> None:
    given = ruled(at_the_pond(crossed_at=Position(x_m=-15, y_m=-60)))
    assert [one.book.name for one in given.given] == ["2016", "2023"]
    assert all(one.form is None and one.played_from is None and one.facts_not_read == () for one in given.given)
    assert draw_ruling(given).startswith("<svg")
    told = ruling_answers(given)
    assert told.today is UNSET
    assert msgspec.json.decode(json_text(told), type=RulingAnswers).books[0].title == told.books[0].title


def test_what_stands_beside_a_ruling_is_there_where_the_incident_gives_cause() -> None:
    crossed = Position(x_m=-15, y_m=-60)
    player = Player(longest_club_in=45)
    given = ruled(at_the_pond(crossed_at=crossed, played_from=crossed, form=Form.STABLEFORD, player=player)).given[1]
    assert given.form is not None and {line.happening.value for line in given.form.lines} >= {"penalty", "picked-up"}
    assert given.played_from is not None
    assert [act.act for act in given.played_from.acts] == ["wrong-place-minor", "wrong-place-serious"]
    off_m = [entry.distance_m for entry in given.played_from.off]
    assert off_m and off_m == sorted(off_m)


def test_where_a_ball_was_played_waits_for_the_club_that_measures_its_roll() -> None:
    """Rules of Golf 2016, Rule 20-2c: a dropped ball may roll two club-lengths, so that the length of the club decides."""
    crossed = Position(x_m=-15, y_m=-60)
    older, _ = ruled(at_the_pond(crossed_at=crossed, played_from=crossed)).given
    assert "longest_club_in" in [option.right_place.asks for option in older.ruling.options if option.right_place is not None]


def test_an_error_names_the_file_only_where_there_is_one() -> None:
    wrong = at_the_pond(situation="swamp")
    for where, told in (("", ""), ("a.toml", "a.toml")):
        with pytest.raises(IncidentError) as refused:
            give_rulings(wrong, GROUND, BOOKS, where=where)
        assert refused.value.where.startswith(told)
        assert not refused.value.where.startswith(",")
    with pytest.raises(FactsNeeded) as needed:
        give_rulings(at_the_pond(), GROUND, LATEST, where="a.toml")
    assert needed.value.where == "a.toml"
