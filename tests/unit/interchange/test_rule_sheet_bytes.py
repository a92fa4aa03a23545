"""The sheet of rules carries no time of writing: equal input gives equal bytes, whenever it is written."""

from __future__ import annotations

import re
from datetime import UTC, datetime
from io import BytesIO
from zipfile import ZipFile

from openpyxl import load_workbook

from marram.interchange.books.rule_sheet import write_rule_sheet
from marram.rulebook import open_book, packaged_catalogue


def test_no_part_of_the_sheet_carries_the_time_of_writing() -> None:
    written = write_rule_sheet(open_book("2023", [], packaged_catalogue()))
    with ZipFile(BytesIO(written)) as parts:
        assert {part.date_time for part in parts.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        properties = parts.read("docProps/core.xml").decode()
        whole = b"".join(parts.read(name) for name in parts.namelist())
    days = re.findall(r"\d{4}-\d{2}-\d{2}T", properties)
    assert set(days) == {"2000-01-01T"} and len(days) == 2
    assert datetime.now(UTC).strftime("%Y-%m-%dT").encode() not in whole
    assert load_workbook(BytesIO(written)).sheetnames == ["rules", "outcomes"]
