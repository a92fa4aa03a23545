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
        ('r="B2"', 'r="XFD1048576"', "1,048,576 rows and 16,384 columns"),
        ('<row r="2"', '<row r="200000"', "200,000 rows"),
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
