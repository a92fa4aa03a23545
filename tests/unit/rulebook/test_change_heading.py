"""A change as a heading: what an official would say, for every part of the rule data, and never a key."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from marram.core.units import LengthUnit, Size
from marram.interchange.books.book_files import overlay_of, read_book
from marram.rulebook.book import Book
from marram.rulebook.differences.change_heading import change_heading, touched_words
from marram.rulebook.overlays.overlay import Change, Standing
from marram.rulebook.values import ABSENT, PartSpec, PartType, SizeOf, Value, cases_of

_METRES = Size(amount=2, unit=LengthUnit.METRES)
_CLUBS = Size(amount=2, unit=LengthUnit.CLUB_LENGTHS)
_SPOKEN: tuple[tuple[str, Value, Value, str], ...] = (
    ("relief.lateral.size", _CLUBS, _METRES, "Two metres instead of two club-lengths"),
    ("relief.lateral.size", _CLUBS, Size(amount=4, unit=LengthUnit.CLUB_LENGTHS), "Four club-lengths instead of two"),
    ("relief.small.size", Size(amount=1, unit=LengthUnit.CLUB_LENGTHS), _METRES, "Two metres instead of one club-length"),
    ("search.limit_min", 3, 2, "Two minutes instead of three"),
    ("search.limit_min", 3, 1, "One minute instead of three"),
    ("overhanging-ball-wait.wait_s", 10, 20, "20 seconds instead of 10"),
    ("general-penalty.strokes", 2, 0, "No penalty strokes instead of two"),
    ("clubs-max.max_clubs", 14, 12, "Most clubs: 12 instead of 14 (most clubs that a player may carry)"),
    ("clubs-max.max_clubs", 14, ABSENT, "No longer: most clubs (most clubs that a player may carry)"),
    ("teeing-area.may_stand_outside", True, False, "No longer: the player may stand outside to play a ball that is in it"),
    ("putting-green.ball_on_when", "any-part-touches", ABSENT, "No longer: when a ball is on it"),
    (
        "relief.penalty-area-lateral-red.size",
        SizeOf(key="relief.lateral.size"),
        SizeOf(key="relief.small.size"),
        "How far from the reference point or the line the ball may be dropped: the same as the smaller size of a relief area "
        "instead of the same as the larger size of a relief area, used for lateral relief",
    ),
)


def _change(key: str, was: Value, now: Value) -> Change:
    return Change(number=1, key=key, was=was, now=now, because="", standing=Standing.UNOFFICIAL)


@pytest.mark.parametrize(("key", "was", "now", "spoken"), _SPOKEN, ids=[f"{key}-{number}" for number, (key, *_) in enumerate(_SPOKEN)])
def test_a_change_is_told_as_an_official_would_say_it(key: str, was: Value, now: Value, spoken: str) -> None:
    assert change_heading(read_book("2023"), _change(key, was, now)) == spoken


def test_words_that_come_to_a_list_and_leave_it_are_told_alone() -> None:
    was, now = ("general-area", "bunker"), ("general-area", "putting-green")
    told = change_heading(read_book("2023"), _change("relief.embedded-ball-general.ball_in", was, now))
    assert told == "Where the ball must be for the procedure to apply: also the putting green, no longer a bunker"


def test_relief_that_a_trial_adds_is_called_by_its_title() -> None:
    overlay = overlay_of(str(Path(__file__).parents[3] / "examples" / "trials" / "divot-holes.toml"))
    assert change_heading(read_book("2023"), overlay.changes[0]) == "New: free relief from the divot hole"


def _others(spec: PartSpec, value: Value) -> Iterator[Value]:
    """Other values that a part may hold."""
    yield ABSENT
    match spec.type:
        case PartType.YES_NO:
            yield not value
        case PartType.NUMBER:
            yield from (float(value) + 1, float(value) + 20, 0)  # type: ignore[arg-type]
        case PartType.WORD:
            yield from spec.words
        case PartType.SIZE:
            yield from (_METRES, _CLUBS, Size(amount=30, unit=LengthUnit.INCHES), SizeOf(key="relief.small.size"))
        case PartType.WORDS | PartType.ROWS:
            assert isinstance(value, tuple)
            yield from (value[1:], value[::-1], (*(word for word in spec.words[:2] if word not in value), *value))
        case _:
            cases = cases_of(value)
            yield from (cases[-1:], (*cases[:-1], replace(cases[-1], capped=not cases[-1].capped)))


def _changes(book: Book) -> Iterator[Change]:
    for key, (_, spec) in book.catalogue.keys.items():
        if spec.decides and book.has(key):
            value = book.cited(key).value
            for other in _others(spec, value):
                if other != value:
                    yield from (_change(key, value, other), _change(key, other, value))


_RAW = re.compile(r"[_→{}]|\s\s|[:;,]$|\.$|\b[a-z]+(-[a-z]+)*\.[a-z_]+\b")


@pytest.mark.parametrize("edition", ["2016", "draft-2017", "2019", "2023"])
def test_every_part_of_the_rule_data_has_a_heading_without_a_key(edition: str) -> None:
    book, told = read_book(edition), 0
    rows = {name for row in book.catalogue.rows for name in (row, row.partition(".")[2]) if "-" in name and not row.startswith("form.")}
    # What these names say in plain English is said with the same hyphens.
    names = rows - {"tee-marker", "ball-mark", "ball-marker", "club-length"}
    faults = []
    for change in _changes(book):
        heading, told = change_heading(book, change), told + 1
        hyphened = re.findall(r"[a-z0-9]+(?:-[a-z0-9]+)+", heading)
        if _RAW.search(heading) or names.intersection(hyphened) or len(heading.split()) < 3 or heading[0] != heading[0].upper():
            faults.append((change.key, heading))
        back = change_heading(book, replace(change, was=change.now, now=change.was))
        if back == heading and "order" not in heading:
            faults.append((change.key, f"{heading}: the same the other way round"))
    assert not faults, "\n".join(map(" | ".join, faults[:20]))
    assert told > 3000


def test_few_kinds_of_relief_are_named_and_many_grouped() -> None:
    book = read_book("2023")
    few = ["penalty-area-lateral-red", "unplayable-lateral"]
    assert touched_words(book, few) == "Touches lateral relief."
    assert touched_words(book, []) == ""
    many = [*few, "penalty-area-back-on-line", "penalty-area-stroke-and-distance", "embedded-ball-general", "wrong-green-relief"]
    told = touched_words(book, many)
    assert told == (
        "Touches 5 kinds of relief: ball in a penalty area; unplayable ball; embedded balls, loose and movable things; "
        "no play zones, wrong greens and dangerous animals."
    )
