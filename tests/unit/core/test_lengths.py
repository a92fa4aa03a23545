"""Lengths in yards and with a comma: 1 yd = 0.9144 m exactly (international yard and pound agreement, 1959), so 1 m = 1.0936133 yd."""

from __future__ import annotations

import pytest

from marram.core.lengths import IN_METRES, YARD_M, Lengths

YARDS, COMMA, BOTH = Lengths(in_yards=True), Lengths(with_comma=True), Lengths(in_yards=True, with_comma=True)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("91.44 m", "100.00 yd"),  # 100 x 0.9144
        ("2.29 m", "2.50 yd"),  # 2.29 / 0.9144 = 2.5044
        ("area 4.58 m².", "area 5.48 yd²."),  # 4.58 / 0.83612736 = 5.4776
        ("110 m", "120 yd"),  # 110 / 0.9144 = 120.297
        ("swing (by 1.27 m).", "swing (by 1.39 yd)."),  # 1.27 / 0.9144 = 1.3889
        ("survey ±0.20 m", "survey ±0.22 yd"),
        ("0.00 m to 429.81 m", "0.00 yd to 470.05 yd"),  # 429.81 / 0.9144 = 470.046
    ],
)
def test_a_length_is_told_in_yards_with_its_decimals(text: str, told: str) -> None:
    assert YARDS.told(text) == told


@pytest.mark.parametrize(
    "text",
    [
        "x 378.26 m, y -216.09 m",
        "374 m E",
        "-218 m N",
        "50 metres",
        "5 km from the middle",
        "Rule 16.1b",
        "12 mm",
        "30 minutes",
        "A1.5 m",
        "200-300 m",
        "44.5 in",
    ],
)
def test_what_is_no_measured_length_stays(text: str) -> None:
    assert BOTH.told(text) == text


def test_a_comma_is_for_lengths_alone() -> None:
    assert COMMA.told("Rule 16.1b: 2.29 m, area 4.58 m²") == "Rule 16.1b: 2,29 m, area 4,58 m²"
    assert BOTH.told("2.29 m") == "2,50 yd"
    assert COMMA.number("0.8") == "0,8"
    assert (YARDS.unit, COMMA.unit, YARDS.unit_m, COMMA.unit_m) == ("yd", "m", YARD_M, 1.0)


def test_metres_stay_as_they_are() -> None:
    assert IN_METRES.told("2.29 m, 4.58 m²") == "2.29 m, 4.58 m²"
