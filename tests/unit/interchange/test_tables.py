"""Tables from CSV files and workbooks: headings are found, rows keep their numbers, what a table must not hold is told."""

from __future__ import annotations

import datetime
import re
import zipfile
from pathlib import Path

import pytest
from openpyxl import Workbook

from marram.core.errors import DataError, SurveyError
from marram.interchange.tables.table_rows import Faults, Row, RowReader
from marram.interchange.tables.tables import find_table, plain, read_table

COLUMNS = {"hole": ("no",), "length_m": ("metres",), "note": ()}
NEEDED = (("hole", "length_m"),)


def csv_file(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "table.csv"
    path.write_text(text, encoding="utf-8")
    return path


def book_file(tmp_path: Path, **sheets: list[list[object]]) -> Path:
    book = Workbook()
    book.remove(book.worksheets[0])
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(row)
    book.save(tmp_path / "table.xlsx")
    return tmp_path / "table.xlsx"


def rows(path: Path, sheet: str = "") -> list[tuple[int, dict[str, object]]]:
    table = read_table(path, COLUMNS, NEEDED, what="a table", error=SurveyError, sheet=sheet)
    return [(row.number, dict(row.cells)) for row in table.rows]


@pytest.mark.parametrize(
    "text",
    [
        "hole,length_m\n1,350\n",
        "Lengths, from the back\n\nNo ; Metres\n1;350\n",
        "Lengths\n\nhole\tLENGTH (m)\n1\t350\n",
        'hole,"length m"\n"1",350\n',
    ],
)
def test_the_heading_and_the_separator_are_found(tmp_path: Path, text: str) -> None:
    found = rows(csv_file(tmp_path, text))
    assert [cells for _, cells in found] == [{"hole": "1", "length_m": "350"}]


def test_rows_keep_the_numbers_that_a_spreadsheet_shows(tmp_path: Path) -> None:
    assert [number for number, _ in rows(csv_file(tmp_path, "t\n\nhole,length_m\n1,350\n,\n2,160\n"))] == [4, 6]
    assert [number for number, _ in rows(book_file(tmp_path, a=[["t"], [], ["hole", "length_m"], [1, 350], [], [2, 160]]))] == [4, 6]


def test_the_first_sheet_with_the_columns_is_read_unless_one_is_named(tmp_path: Path) -> None:
    heading: list[object] = ["hole", "length_m"]
    path = book_file(tmp_path, notes=[["hello"]], back=[heading, [1, 350]], forward=[heading, [1, 300]])
    assert rows(path)[0][1]["length_m"] == 350
    assert rows(path, "forward")[0][1]["length_m"] == 300
    with pytest.raises(SurveyError, match="no sheet 'middle'.*notes, back, forward"):
        rows(path, "middle")
    with pytest.raises(SurveyError, match="No heading"):
        rows(path, "notes")


def test_a_file_without_the_columns_has_no_such_table(tmp_path: Path) -> None:
    assert find_table(csv_file(tmp_path, "a,b\n1,2\n"), COLUMNS, NEEDED, what="a table", error=SurveyError) is None


def test_cells_of_a_workbook_are_plain_values(tmp_path: Path) -> None:
    path = book_file(tmp_path, a=[["hole", "length_m", "note"], [1, 350.5, datetime.date(2026, 6, 13)], [2, True, "  "]])
    assert rows(path) == [(2, {"hole": 1, "length_m": 350.5, "note": "2026-06-13"}), (3, {"hole": 2, "length_m": True})]


def reader(value: str | float | bool, *, may_be_comma: bool = True) -> tuple[RowReader, Faults]:
    faults = Faults(where="t", error=DataError, hint="")
    return RowReader(Row(number=2, cells={"a": value}), faults, may_be_comma=may_be_comma), faults


NUMBERS = [("12,5", 12.5), ("1.5e1", 15), ("+3", 3), (" 4 ", 4), ("\u22125", -5), (7, 7), (".5", 0.5), ("\u0663", 3)]


@pytest.mark.parametrize(("value", "number"), NUMBERS)
def test_numbers_as_people_write_them(value: str | float, number: float) -> None:
    assert reader(value)[0].number("a", least=-10, most=20) == number


@pytest.mark.parametrize("value", ["", "nan", "inf", "1_0", "1,234.5", "1e999", "0x10", "12 m", True, float("nan")])
def test_what_is_no_number_is_told_by_row_and_column(value: str | float | bool) -> None:
    row, faults = reader(value)
    assert row.number("a", least=-10, most=10_000) is None
    assert re.match(r"row 2, column a: ", faults.told[0])


def test_a_cell_that_is_no_number_can_still_be_shown() -> None:
    assert (reader(float("inf"))[0].text("a"), reader(7.0)[0].text("a")) == ("inf", "7")


def test_a_comma_between_columns_is_no_decimal_comma() -> None:
    row, faults = reader("12,5", may_be_comma=False)
    assert row.number("a", least=0, most=99) is None
    assert "needs semicolons" in faults.told[0]


def test_many_faults_are_told_in_part() -> None:
    faults = Faults(where="t.csv", error=DataError, hint="See the docs.")
    faults.refuse()
    for number in range(50):
        faults.add(f"row {number}", "odd")
    with pytest.raises(DataError, match=r"50 faults:(.|\n)*and 10 more"):
        faults.refuse()


def test_headings_are_compared_without_case_and_signs() -> None:
    assert plain(" Length (m) ") == plain("LENGTH_M") == "length_m"


def test_a_workbook_that_unpacks_to_more_than_a_machine_holds_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "bomb.xlsx"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/worksheets/sheet1.xml", b"0" * (65 * 1024 * 1024))
    with pytest.raises(SurveyError, match="unpacks to 65 MB"):
        rows(path)


def test_a_zip_that_is_no_workbook_is_told(tmp_path: Path) -> None:
    path = tmp_path / "other.xlsx"
    with zipfile.ZipFile(path, "w") as packed:
        packed.writestr("hello.txt", "hello")
    with pytest.raises(SurveyError, match="damaged"):
        rows(path)
    with pytest.raises(SurveyError, match="no such file"):
        rows(tmp_path / "none.xlsx")


def test_a_table_that_one_separator_cuts_and_others_cannot_is_no_broken_file(tmp_path: Path) -> None:
    """Quotes close before the semicolon, which a cut by commas takes for a fault; the table is whole and lacks its columns."""
    with pytest.raises(SurveyError, match="No heading has the needed columns"):
        rows(csv_file(tmp_path, '"a";"b"\n"1";"2"\n'))
    with pytest.raises(SurveyError, match="This is not CSV"):
        rows(csv_file(tmp_path, '"a"x;"b"x\n'))
