"""Dates and times as people write them; expectations by hand."""

from __future__ import annotations

from datetime import date

import pytest

from marram.interchange.field.written_dates import Order, date_written, order_of, time_written_s

SPRING = date(2026, 4, 18)


@pytest.mark.parametrize(
    "text",
    [
        "2026-04-18",
        "2026-04-18T00:00:00",
        "2026-04-18 00:00:00",
        "2026/4/18",
        "2026.04.18",
        "18.04.2026",
        "18.4.2026",
        "18/04/2026",
        "4/18/2026",
        "18-04-2026",
        "18 April 2026",
        "18th April 2026",
        "18 Apr 2026",
        "18-Apr-2026",
        "April 18, 2026",
        "Apr 18 2026",
        "Saturday 18 April 2026",
        "Sat, 18 Apr 2026",
        "  18 april 2026 ",
    ],
)
def test_what_can_mean_one_day_only_is_read(text: str) -> None:
    assert date_written(text) == SPRING


def test_a_day_that_is_its_own_month_can_mean_one_day_only() -> None:
    assert date_written("4/4/2026") == date(2026, 4, 4)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("04/05/2026", "may be"),
        ("12/05/2026", "may be"),
        ("", "no date"),
        ("spring", "no date"),
        ("31.02.2026", "no day of the calendar"),
        ("13/13/2026", "no day"),
        ("2026-13-01", "no day"),
        ("18 Ma 2026", "no date"),
        ("18/04/26", "no date"),
        ("20260418", "no date"),
        ("18 ju 2026", "no date"),
    ],
)
def test_what_is_no_date_or_may_be_two_is_refused_with_what_would_be_clear(text: str, why: str) -> None:
    found = date_written(text)
    assert isinstance(found, str)
    assert why in found
    assert "2026-04-18" in found


@pytest.mark.parametrize(
    ("text", "unit", "seconds"),
    [
        ("2:35", "s", 155),
        ("2:35", "min", 9300),
        ("0:02:35", "s", 155),
        ("3:55:00", "min", 14100),
        ("2 min 35 s", "s", 155),
        ("2min", "s", 120),
        ("3 h 55 min", "min", 14100),
        ("3h", "min", 10800),
        ("90 s", "min", 90),
        ("2.5 min", "s", 150),
        ("3 hours 55 minutes", "min", 14100),
    ],
)
def test_times_with_their_units_are_read(text: str, unit: str, seconds: float) -> None:
    assert time_written_s(text, unit) == seconds


@pytest.mark.parametrize("text", ["155", "2:75", "2:35:61", "two", "", "min", "-2:30", "2:3"])
def test_what_is_no_such_time_is_left_to_be_read_as_a_number(text: str) -> None:
    assert time_written_s(text, "s") is None


@pytest.mark.parametrize(
    ("column", "order"),
    [
        (["04/05/2026", "18/05/2026"], Order.DAY),
        (["04-05-2026", "05-18-2026"], Order.MONTH),
        (["Sat 04/05/2026", "Sat 18/05/2026", "", "2026-05-30"], Order.DAY),
        (["04/05/2026", "04/04/2026"], None),
        (["18.05.2026", "04/05/2026"], None),
        (["13/13/2026", "04/05/2026"], None),
        ([], None),
    ],
)
def test_one_date_of_a_column_settles_the_order_of_all(column: list[str], order: Order | None) -> None:
    assert order_of(column) is order


def test_a_column_that_is_settled_both_ways_tells_both() -> None:
    assert order_of(["18/05/2026", "05/25/2026"]) == "'18/05/2026' has the day first and '05/25/2026' the month"


def test_what_a_column_settles_makes_its_other_dates_clear() -> None:
    assert date_written("04/05/2026", Order.DAY) == date(2026, 5, 4)
    assert date_written("04/05/2026", Order.MONTH) == date(2026, 4, 5)
    assert date_written("18/05/2026", Order.MONTH) == date(2026, 5, 18)
