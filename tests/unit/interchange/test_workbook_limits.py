"""Workbooks that are small and hold, or seem to hold, more than anybody typed: refused before they are opened."""

from __future__ import annotations

import time
import zipfile
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from openpyxl import Workbook

from marram.core.errors import SurveyError
from marram.interchange.tables.workbooks import Grid, read_workbook

SHEET = "xl/worksheets/sheet1.xml"


def made(path: Path) -> Path:
    book = Workbook()
    sheet = book.worksheets[0]
    sheet.append(["hole", "on", "left"])
    sheet.append([1, 12, 5])
    book.save(path)
    return path


def changed(path: Path, change: Callable[[str], str], member: str = SHEET) -> Path:
    """The workbook with one of its members changed."""
    with zipfile.ZipFile(made(path)) as packed:
        members = {name: packed.read(name) for name in packed.namelist()}
    members[member] = change(members[member].decode()).encode()
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, content in members.items():
            packed.writestr(name, content)
    return path


def read(path: Path) -> tuple[Grid, ...]:
    return read_workbook(path, what="a table", error=SurveyError)


def test_a_sound_workbook_is_read(tmp_path: Path) -> None:
    (grid,) = read(made(tmp_path / "a.xlsx"))
    assert grid.rows == (("hole", "on", "left"), (1, 12, 5))


@pytest.mark.parametrize(
    ("was", "now", "words"),
    [
        ('<row r="2"', '<row r="200000"', "row 200000 holds the cell A2"),
        ('r="B2"', 'r="B3"', "row 2 holds the cell B3"),
        ("</sheetData>", '<row r="1048576"><c r="XFD1048576"><v>1</v></c></row></sheetData>', "1,048,576 rows and 16,384 columns"),
        ("</sheetData>", '<row r="1048576"><c r="XFD1048576"><f>1+1</f></c></row></sheetData>', "1,048,576 rows and 16,384 columns"),
        ("</sheetData>", '<row r="200000"><c r="A200000" t="inlineStr"><is><t>x</t></is></c></row></sheetData>', "200,000 rows"),
        ('<row r="2"', '<row r="-1"', "no row '-1'"),
        ('r="B2"', 'r="22"', "no cell '22'"),
        ("</sheetData>", '</sheetData><mergeCells><mergeCell ref="A1:XFD1048576"/></mergeCells>', "A1:XFD1048576 are merged"),
        ("</sheetData>", '</sheetData><mergeCells><mergeCell ref="A1"/></mergeCells>', "given as 'A1'"),
        ("<sheetData>", "<a>" * 100 + "</a>" * 100 + "<sheetData>", "nested"),
        ("<sheetData>", '<sheetData><!DOCTYPE a [<!ENTITY b "x">]>', "damaged"),
        ("<worksheet", '<!DOCTYPE a [<!ENTITY b "x">]><worksheet', "document type"),
        ("</sheetData>", "", "damaged"),
    ],
)
def test_more_than_anybody_typed_is_refused_at_once(tmp_path: Path, was: str, now: str, words: str) -> None:
    path = changed(tmp_path / "a.xlsx", lambda sheet: sheet.replace(was, now))
    began_s = time.process_time()
    with pytest.raises(SurveyError, match=words) as told:
        read(path)
    assert time.process_time() - began_s < 2
    assert told.value.where == "a.xlsx"
    assert told.value.hint


def test_styles_without_end_are_refused(tmp_path: Path) -> None:
    path = changed(tmp_path / "a.xlsx", lambda styles: styles.replace("</fonts>", "<font/>" * 70_000 + "</fonts>"), "xl/styles.xml")
    with pytest.raises(SurveyError, match="styles.xml has more than 60,000"):
        read(path)


def test_many_words_are_no_reason_to_refuse(tmp_path: Path) -> None:
    book = Workbook()
    for number in range(20_000):
        book.worksheets[0].append([f"player {number}", f"remark {number}", number])
    book.save(tmp_path / "many.xlsx")
    (grid,) = read(tmp_path / "many.xlsx")
    assert len(grid.rows) == 20_000
    assert grid.rows[-1] == ("player 19999", "remark 19999", 19999)


def test_a_day_that_is_typed_into_a_cell_is_read_as_a_day(tmp_path: Path) -> None:
    book = Workbook()
    book.worksheets[0].append([date(2026, 4, 11)])
    book.save(tmp_path / "day.xlsx")
    assert read(tmp_path / "day.xlsx")[0].rows == (("2026-04-11",),)


@pytest.mark.parametrize(
    "stray",
    [
        '<row r="1048576"><c r="XFD1048576" s="0"/></row>',
        '<row r="1048576" ht="15"/>',
        '<row r="9"><c r="A9" s="0"/></row><row r="1048576"/>',
    ],
)
def test_a_cell_that_is_only_coloured_far_away_makes_no_table_large(tmp_path: Path, stray: str) -> None:
    path = changed(tmp_path / "a.xlsx", lambda sheet: sheet.replace("</sheetData>", f"{stray}</sheetData>"))
    began_s = time.process_time()
    (grid,) = read(path)
    assert grid.rows == (("hole", "on", "left"), (1, 12, 5))
    assert time.process_time() - began_s < 5


def test_a_formula_without_a_value_is_told_by_its_cell_and_row(tmp_path: Path) -> None:
    path = changed(
        tmp_path / "a.xlsx", lambda sheet: sheet.replace("</sheetData>", '<row r="7"><c r="B7"><f>1+1</f></c></row></sheetData>')
    )
    (grid,) = read(path)
    assert grid.unvalued == (("B7", 7),)
