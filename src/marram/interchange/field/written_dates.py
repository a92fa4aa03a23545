"""Dates and times as people write them: read where they can mean one thing only, else refused with what would be clear."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date, datetime
from enum import StrEnum

_MONTHS = ("january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december")
_YEAR_FIRST = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ]\d{1,2}:\d{2}(?::\d{2}(?:\.\d+)?)?)?")
_YEAR_LAST = re.compile(r"(\d{1,2})([./-])(\d{1,2})\2(\d{4})")
_DAY_MONTH = re.compile(r"(\d{1,2})(?:st|nd|rd|th)?[ .-]+([a-z]+)[ .,-]+(\d{4})")
_MONTH_DAY = re.compile(r"([a-z]+)[ .]+(\d{1,2})(?:st|nd|rd|th)?[ ,]+(\d{4})")
_WEEKDAY = re.compile(r"^(?:mon|tues?|wed(?:nes)?|thu(?:rs)?|fri|sat(?:ur)?|sun)(?:day)?[ ,.]+")
_CLOCK = re.compile(r"(\d{1,3}):(\d{2})(?::(\d{2})(?:\.0+)?)?")
_AMOUNT = r"(\d+(?:\.\d+)?)"
_SPELT = re.compile(rf"(?:{_AMOUNT} ?h(?:ours?|rs?)?)? ?(?:{_AMOUNT} ?m(?:in(?:utes?|s)?)?)? ?(?:{_AMOUNT} ?s(?:ec(?:onds?|s)?)?)?")
CLEAR = "expected year-month-day, such as 2026-04-18"


class Order(StrEnum):
    """What stands first in dates that end in the year."""

    DAY = "day"
    MONTH = "month"


def order_of(texts: Iterable[str]) -> Order | str | None:
    """Which order the dates of one column have, where one of them settles it.

    Args:
        texts: What was written in the column.

    Returns:
        The order; None where no date settles it; where two settle it otherwise, both of them in words.
    """
    found: dict[Order, str] = {}
    for text in texts:
        date_like = _YEAR_LAST.fullmatch(_WEEKDAY.sub("", text.strip().casefold()))
        if date_like is None or date_like[2] == ".":
            continue
        first, second = int(date_like[1]), int(date_like[3])
        if max(first, second) > 12 >= min(first, second):
            found.setdefault(Order.DAY if first > second else Order.MONTH, text.strip())
    if len(found) > 1:
        return f"{found[Order.DAY]!r} has the day first and {found[Order.MONTH]!r} the month"
    return next(iter(found), None)


def date_written(text: str, order: Order | None = None) -> date | str:
    """A date as somebody wrote it.

    Args:
        text: What was written: year first, day.month.year, day/month/year where only one order can be meant, or with the month in words.
        order: What stands first in the other dates of its column; None where nothing says so.

    Returns:
        The date, or why it is none.
    """
    words = _WEEKDAY.sub("", text.strip().casefold())
    if found := _YEAR_FIRST.fullmatch(words.upper()):
        return _made(text, int(found[1]), int(found[2]), int(found[3]))
    if found := _YEAR_LAST.fullmatch(words):
        return _year_last(text, (int(found[1]), int(found[3]), int(found[4])), found[2], order)
    if found := _DAY_MONTH.fullmatch(words):
        return _in_words(text, found[2], int(found[1]), int(found[3]))
    if found := _MONTH_DAY.fullmatch(words):
        return _in_words(text, found[1], int(found[2]), int(found[3]))
    return f"{text!r} is no date; {CLEAR}"


def _year_last(text: str, written: tuple[int, int, int], sign: str, order: Order | None) -> date | str:
    first, second, year = written
    if sign == "." or first > 12 or first == second:  # with points the day stands first everywhere
        return _made(text, year, second, first)
    if second > 12:
        return _made(text, year, first, second)
    if order is not None:
        return _made(text, year, *((second, first) if order is Order.DAY else (first, second)))
    return f"{text!r} may be {first} {_MONTHS[second - 1].title()} or {second} {_MONTHS[first - 1].title()}; {CLEAR}"


def _in_words(text: str, month: str, day: int, year: int) -> date | str:
    meant = [number for number, name in enumerate(_MONTHS, start=1) if len(month) >= 3 and name.startswith(month)]
    return _made(text, year, meant[0], day) if len(meant) == 1 else f"{text!r} is no date; {CLEAR}"


def _made(text: str, year: int, month: int, day: int) -> date | str:
    try:
        return datetime(year, month, day).date()
    except ValueError:
        return f"{text!r} is no day of the calendar; {CLEAR}"


def time_written_s(text: str, unit: str) -> float | None:
    """How long somebody wrote that something took, seconds; None where it is no such text.

    Args:
        text: With a colon, or with units in words: ``2:35``, ``0:02:35``, ``2 min 35 s``, ``3 h 55 min``.
        unit: What the value is kept in, ``s`` or ``min``: by it two numbers with a colon are minutes and seconds, or hours and minutes.
    """
    words = text.strip().casefold()
    if found := _CLOCK.fullmatch(words):
        high, middle, low = int(found[1]), int(found[2]), found[3]
        if middle > 59 or int(low or 0) > 59:
            return None
        if low is not None:
            return high * 3600.0 + middle * 60 + int(low)
        return high * 60.0 + middle if unit == "s" else high * 3600.0 + middle * 60
    found = _SPELT.fullmatch(words)
    if found is None or not any(found.groups()):
        return None
    return sum(float(part or 0) * size for part, size in zip(found.groups(), (3600, 60, 1), strict=True))
