"""Jobs on a course, on opened courses: holes, faults, marking, drawings."""

from __future__ import annotations

from pathlib import Path

import pytest

from marram.core.errors import DataError, SurveyError
from marram.core.terms import Club, FeatureKind, Hand
from marram.course.numbering.proposals import HoleEntry
from marram.office.courses.check_course import check_survey
from marram.office.courses.check_marking import check_marking
from marram.office.courses.draw_ground import draw_ground, draw_ground_on_paper, draw_marking_found
from marram.office.courses.find_places import player_with
from marram.office.courses.marking_words import fault_counts, fault_words, remedy_of
from marram.office.courses.number_holes import number_by_hand, number_from, propose_for, with_names
from marram.office.courses.survey_course import SurveyOptions, survey_course
from marram.office.courses.write_ground import course_text, hole_table_text
from marram.office.workroom import Workroom

ROOT = Path(__file__).resolve().parents[3]
COURSE, DAY = ROOT / "examples/courses/thimble-moor.geojson", ROOT / "examples/days/2026-06-13.toml"
COARSE = ROOT / "tests/data/courses/malta-flat-18-coarse.osm"
ROOM = Workroom()


def test_a_survey_is_checked_as_it_is() -> None:
    checked = check_survey(ROOM.survey(COURSE))
    assert [entry.hole.number for entry in checked.holes] == list(range(1, 19))
    assert not [fault for fault in checked.faults if fault.stops_rulings]


def test_the_table_of_proposed_holes_goes_back_on_the_course(tmp_path: Path) -> None:
    course = survey_course(COARSE, SurveyOptions()).course
    proposed = propose_for(course)
    table = tmp_path / "holes.toml"
    table.write_text(hole_table_text(proposed), encoding="utf-8")
    done = number_from(course, ROOM.hole_table(table), where=table.name)
    assert list(done.course.holes) == sorted(entry.hole.number for entry in proposed.proposals.holes)
    assert set(done.left) <= set(proposed.proposals.left)


def test_what_does_not_fit_is_told_with_the_table_in_which_it_stands() -> None:
    with pytest.raises(SurveyError, match="green-none") as told:
        number_from(ROOM.survey(COURSE), [HoleEntry(number=1, green="green-none")], where="holes.toml")
    assert told.value.where == "holes.toml"


def test_a_feature_that_is_numbered_by_hand_is_no_longer_left() -> None:
    course = survey_course(COARSE, SurveyOptions()).course
    name = next(feature.id for feature in course.of_kind(FeatureKind.PUTTING_GREEN) if not feature.holes)
    done = number_by_hand(course, [f"{name}=7"])
    assert name not in done.left
    assert 7 in done.course.holes


def test_other_names_are_put_to_a_hole() -> None:
    course = ROOM.survey(COURSE)
    tee = next(feature.id for feature in course.of_kind(FeatureKind.TEEING_AREA))
    assert with_names(course, HoleEntry(number=3, green="green-3"), [tee]).tees == (tee,)
    with pytest.raises(SurveyError, match="nowhere"):
        with_names(course, HoleEntry(number=3, green="green-3"), ["nowhere"])


def test_the_marking_is_told_with_a_word_and_a_remedy_for_each_place() -> None:
    check = check_marking(ROOM.course(COURSE, DAY), [ROOM.book("2023")], longest_club_in=46.0, tolerance_m=0.1)
    (found,) = check.under
    assert check.day is not None
    assert found.tried == sum(edge.points for edge in found.edges) > 1000
    assert found.size_words == "two club-lengths (2.34 m)"  # 2 x 46 in x 0.0254 m
    assert all(fault_words(place) and remedy_of(place).endswith(".") for place in found.places)
    assert all(set(fault_counts(edge).values()) != {0} for edge in found.edges if edge.none)
    names = [name for name, svg in draw_marking_found(check) if "<svg" in svg]
    assert len(names) == len(set(names)) >= 1


def test_a_book_without_lateral_relief_gives_no_size() -> None:
    check = check_marking(ROOM.course(COURSE), [ROOM.book("2023"), ROOM.book("2016")], longest_club_in=46.0, tolerance_m=0.1)
    assert [found.book.name for found in check.under] == ["2023", "2016"]
    assert all((found.size is None) == (found.size_words == "") for found in check.under)


@pytest.mark.parametrize("tolerance_m", [0.0, 10.0])
def test_a_tolerance_that_cannot_be_is_refused(tolerance_m: float) -> None:
    with pytest.raises(DataError, match="tolerance"):
        check_marking(ROOM.course(COURSE), [ROOM.book("2023")], longest_club_in=46.0, tolerance_m=tolerance_m)


def test_a_club_that_cannot_be_is_refused() -> None:
    assert player_with(Hand.LEFT, Club.WEDGE, 44.0).longest_club_in == 44.0
    with pytest.raises(DataError, match="90 in"):
        player_with(Hand.LEFT, Club.WEDGE, 90.0)


def test_a_course_is_drawn_for_screen_and_paper() -> None:
    survey = ROOM.survey(COURSE)
    screen, paper = draw_ground(survey, hole=7), draw_ground_on_paper(survey, hole=7, paper="a3", scale=None)
    assert screen.startswith("<svg")
    assert "mm" in paper
    assert screen != paper


def test_the_file_of_a_course_is_read_back_as_it_was(tmp_path: Path) -> None:
    survey, file = ROOM.survey(COURSE), tmp_path / "course.geojson"
    file.write_text(course_text(survey), encoding="utf-8")
    again = ROOM.survey(file)
    assert [feature.id for feature in again.features] == [feature.id for feature in survey.features]
    assert course_text(again) == course_text(survey)
