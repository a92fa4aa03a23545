"""Sheets of tees: lengths, par and stroke index come to the course, differences are told, mistakes are named by row."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from openpyxl import Workbook
from shapely.geometry import box

from marram.core.errors import SurveyError
from marram.core.terms import FeatureKind
from marram.course.course import Course
from marram.interchange.courses.course_geojson import parse_course, write_course
from marram.interchange.courses.imported import Imported
from marram.interchange.courses.tee_sheet import read_tee_sheet
from tests.support.ground import course, feature

YARD_M = 0.9144
HEAD = "hole,tee,length_m,par,stroke_index\n"


def ground() -> Course:
    """A hole of 380 m with its back tee, and a second teeing area 50 m ahead of it."""
    return course(feature("tee-1b", FeatureKind.TEEING_AREA, box(-5, -335, 5, -325), holes=(1,)))


def read(tmp_path: Path, text: str) -> Imported:
    path = tmp_path / "tees.csv"
    path.write_text(text, encoding="utf-8")
    return read_tee_sheet(ground(), path)


def properties(imported: Imported, name: str) -> dict[str, object]:
    found: dict[str, object] = json.loads(next(each for each in imported.course.features if each.id == name).properties)
    return found


def workbook(tmp_path: Path, rows: list[list[object]], *, merge: str = "", second: list[list[object]] | None = None) -> Path:
    book = Workbook()
    sheet = book.worksheets[0]
    for row in rows:
        sheet.append(row)
    if merge:
        sheet.merge_cells(merge)
    if second:
        other = book.create_sheet("Ratings")
        for row in second:
            other.append(row)
    book.save(tmp_path / "tees.xlsx")
    return tmp_path / "tees.xlsx"


def test_par_index_names_and_lengths_come_to_the_course(tmp_path: Path) -> None:
    done = read(tmp_path, HEAD + "1,Blue,380,5,7\n1,Green,331,5,7\n")
    hole = done.course.hole(1)
    assert (hole.par, hole.stroke_index) == (5, 7)
    assert properties(done, "tee-1")["tee"] == "Blue"
    assert properties(done, "tee-1b") | {"tee": "Green", "length_m": 331, "measured_m": 330} == properties(done, "tee-1b")
    assert done.remarks == ()
    again = parse_course(write_course(done.course), where="again")
    assert (again.hole(1).par, again.hole(1).stroke_index) == (5, 7)
    assert json.loads(again.extra)["course"]["tees"][1]["lengths_m"] == {"1": 331.0}


def test_yards_are_turned_into_metres(tmp_path: Path) -> None:
    done = read(tmp_path, "Hole,Tee,Length (yd),Par\n1,Blue,416,4\n")
    assert properties(done, "tee-1")["length_m"] == pytest.approx(416 * YARD_M, abs=0.01)
    assert done.remarks == ()


def test_a_length_that_differs_from_the_survey_is_told(tmp_path: Path) -> None:
    done = read(tmp_path, HEAD + "1,Blue,391,4,1\n")
    assert any("391 m stated, 380 m measured" in remark and "(-11 m)" in remark for remark in done.remarks)
    assert read(tmp_path, HEAD + "1,Blue,384,4,1\n").remarks == ()


def test_a_set_without_a_teeing_area_is_told(tmp_path: Path) -> None:
    done = read(tmp_path, HEAD + "1,Blue,380,4,1\n1,Red,200,4,1\n")
    assert any("no teeing area of the survey was found for Red" in remark for remark in done.remarks)


def test_par_that_differs_by_set_is_told_and_kept(tmp_path: Path) -> None:
    done = read(tmp_path, HEAD + "1,Blue,380,4,1\n1,Green,330,5,3\n")
    assert done.course.hole(1).par == 4
    assert any("par differs" in remark for remark in done.remarks)
    assert [entry["pars"] for entry in json.loads(done.course.extra)["course"]["tees"]] == [{"1": 4}, {"1": 5}]


def test_ratings_stand_in_the_rows_or_on_a_sheet_of_their_own(tmp_path: Path) -> None:
    in_rows = read(tmp_path, "hole,tee,length_m,course rating,slope\n1,Blue,380,71.4,128\n1,Green,330,69.9,121\n")
    second: list[list[object]] = [["Tee", "Course Rating", "Slope Rating"], ["Blue", 71.4, 128], ["green", 69.9, 121]]
    apart = read_tee_sheet(ground(), workbook(tmp_path, [["Hole", "Tee", "Length m"], [1, "Blue", 380], [1, "Green", 330]], second=second))
    for done in (in_rows, apart):
        sets = json.loads(done.course.extra)["course"]["tees"]
        assert [(each["tee"], each["course_rating"], each["slope_rating"]) for each in sets] == [("Blue", 71.4, 128), ("Green", 69.9, 121)]


def test_a_title_above_the_heading_is_passed_over_even_merged(tmp_path: Path) -> None:
    rows: list[list[object]] = [["Summer tees"], [None], ["Hole", "Tee", "Length m"], [1, "Blue", 380], [None], [1, "Green", 330]]
    done = read_tee_sheet(ground(), workbook(tmp_path, rows, merge="A1:C1"))
    assert properties(done, "tee-1b")["tee"] == "Green"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (HEAD + "7,Blue,380,4,1\n1,,380,4,1\n1,Red,,4,1\n", "row 2.*no hole 7 on Test Ground; it has 1(.|\n)*row 3(.|\n)*row 4"),
        (HEAD + "1,Blue,1250,4,1\n", "expected 30 to 800 m"),
        (HEAD + "1,Blue,380,4.5,1\n1,Red,380,8,0\n", "no whole number(.|\n)*expected 3 to 6(.|\n)*expected 1 to 36"),
        (HEAD + "1,Blue,380,4,1\n1,blue,381,4,1\n", "row 3: hole 1 from blue stands in row 2"),
        ("hole,tee,length_ft\n1,Blue,1250\n", "Needed: hole, tee, length_m; or hole, tee, length_yd"),
        ("hole,tee,length_m,length_ft\n1,Blue,380,1250\n", "column length_ft: a length in a unit that is not known"),
        ("hole,tee,length_m,length_yd\n1,Blue,380,380\n", "not one length"),
        ("hole,tee,length_m,rating,slope\n1,Blue,380,71.4,28\n", "expected 55 to 155"),
        ("hole,tee,length_m,rating,slope\n1,Blue,380,71.4,128\n1,Blue,380,70,128\n", "row 3: hole 1(.|\n)*other ratings"),
        (HEAD, "no hole"),
        ("", "empty"),
    ],
)
def test_what_is_wrong_is_told_by_row(tmp_path: Path, text: str, words: str) -> None:
    with pytest.raises(SurveyError) as caught:
        read(tmp_path, text)
    told = str(caught.value)
    assert told.startswith("tees.csv")
    assert re.search(words, told), told


def test_one_stroke_index_for_two_holes_is_told(tmp_path: Path) -> None:
    two = course(feature("tee-2", FeatureKind.TEEING_AREA, box(50, -300, 60, -290), holes=(2,)))
    path = tmp_path / "tees.csv"
    path.write_text(HEAD + "1,Blue,380,4,1\n2,Blue,180,3,1\n", encoding="utf-8")
    with pytest.raises(SurveyError, match="row 3: stroke index 1 is that of hole 1 in row 2"):
        read_tee_sheet(two, path)


def test_merged_cells_and_formulas_without_a_value_are_named(tmp_path: Path) -> None:
    rows: list[list[object]] = [["Hole", "Tee", "Length m"], [1, "Blue", 380], [None, "Green", "=C2-50"]]
    with pytest.raises(SurveyError, match=r"cells A2:A3.*unmerge(.|\n)*cell C3.*formula"):
        read_tee_sheet(ground(), workbook(tmp_path, rows, merge="A2:A3"))


def test_a_damaged_workbook_is_told(tmp_path: Path) -> None:
    whole = workbook(tmp_path, [["Hole", "Tee", "Length m"], [1, "Blue", 380]])
    cut = tmp_path / "cut.xlsx"
    cut.write_bytes(whole.read_bytes()[:2000])
    with pytest.raises(SurveyError, match="no workbook"):
        read_tee_sheet(ground(), cut)


def test_a_tee_behind_the_start_of_the_line_has_the_way_to_it_as_well(tmp_path: Path) -> None:
    """The line begins 380 m from its end; the middle of a tee 20 m behind that is 400 m from it, of one beside it 380 m."""
    behind = feature("back", FeatureKind.TEEING_AREA, box(-5, -405, 5, -395), holes=(1,))
    path = tmp_path / "tees.csv"
    path.write_text(HEAD + "1,Black,401,4,7\n1,Blue,380,4,7\n", encoding="utf-8")
    done = read_tee_sheet(course(behind), path)
    assert properties(done, "back")["tee"] == "Black"
    assert properties(done, "back")["measured_m"] == pytest.approx(400.0, abs=0.01)
    assert properties(done, "tee-1")["measured_m"] == pytest.approx(380.0, abs=0.01)
