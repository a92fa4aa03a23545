"""What a further book is said to share with the book above it, it shares; all else it says in full."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from functools import cache

import pytest

from marram.core.citations import rules_once
from marram.rulings.case.ruling import Option
from marram.sheets.ruled.ruled_place import RuledPlace
from marram.sheets.ruled.told_once import Said, is_alike, said_of_options
from tests.support.drawn_places import drawn_places

LETTERS = "ABCDEFGHIJKLMNOP"
SHARED = re.compile(r"(As under|Penalty and ground as under) (.*?),( other steps,)? same rule numbers( and (.*))?\.$")


@cache
def pairs() -> list[RuledPlace]:
    """Places with two or three books, laid over each other."""
    found = []
    for place in drawn_places():
        hole = place.course.hole(place.incident.hole).location
        if 2 <= len(place.given) <= 3 and hole is not None:
            found.append(RuledPlace(incident=place.incident, course=place.course, hole=hole, given=place.given))
    return found


def told(option: Option) -> tuple[object, ...]:
    """What a sheet and its drawing tell of an option."""
    area = None if option.relief_area is None else round(option.relief_area.area_m2, 2)
    points = tuple((round(point.position.x_m, 3), round(point.position.y_m, 3)) for point in option.references)
    return option.title, option.penalty_strokes, option.size_words, option.size_m, option.put, option.which, area, points


def test_each_option_of_each_book_is_told_once() -> None:
    for place in pairs():
        first, *others = place.in_order
        for pair, above in ((first, None), *((other, first) for other in others)):
            letters = [letter for said in said_of_options(pair, above) for letter in said.letters]
            assert sorted(letters) == list(LETTERS[: len(pair[1].options)])


def test_what_is_told_as_above_is_as_above_and_all_else_is_in_full() -> None:
    seen: Counter[str] = Counter()
    for place in pairs():
        first, *others = place.in_order
        above = dict(zip(LETTERS, first[1].options, strict=False))
        for pair in others:
            own = dict(zip(LETTERS, pair[1].options, strict=False))
            for said in said_of_options(pair, first):
                shared = SHARED.match(said.words)
                for letter in said.letters:
                    if shared is None:
                        refuse_less_than_all(said, own[letter])
                    else:
                        assert shared[2] == first[0].short_title
                        assert told(own[letter]) == told(above[letter])
                        assert (own[letter].steps == above[letter].steps) is (shared[1] == "As under")
                        numbers = {citation.words for citation in above[letter].citations}
                        more = [citation for citation in own[letter].citations if citation.words not in numbers]
                        assert rules_once(more) == (shared[5] or "")
                        assert {citation.words for citation in own[letter].citations} >= numbers
                    seen[shared[1] if shared else "in full"] += 1
    assert min(seen.values()) > 20
    assert len(seen) == 3


def refuse_less_than_all(said: Said, option: Option) -> None:
    """A sentence in full has the whole title, the penalty, the size, the area and the rules."""
    words = f"{said.under}: {said.words}" if said.under else said.words
    assert words.startswith(f"{option.title}: ")
    assert option.size_words in words
    assert option.relief_area is None or f"{option.relief_area.area_m2:.2f} m²" in words
    assert said.rules == rules_once(option.citations)
    assert len(said.letters) == 1


def measured() -> Option:
    """An option with a point and an area."""
    options = (option for place in pairs() for option in place.force[1].options)
    return next(option for option in options if option.references and option.relief_area is not None and option.relief_area.parts)


@pytest.mark.parametrize(
    "change",
    [
        {"title": "Another"},
        {"penalty_strokes": 7},
        {"size_words": "three club-lengths"},
        {"size_m": 1.234},
        {"references": ()},
        {"relief_area": None},
        {"put": "place"},
        {"which": "original"},
        {"roll_m": 2.0},
        {"margin_m": 0.001},
    ],
)
def test_options_that_differ_in_anything_told_are_not_alike(change: dict[str, object]) -> None:
    option = measured()
    other = replace(option, **change)  # type: ignore[arg-type]
    assert other != option
    assert not is_alike(other, option)
    assert not is_alike(option, other)
    assert is_alike(replace(option, steps=("Other steps.",), citations=()), option)


def test_the_same_words_about_other_ground_are_not_alike() -> None:
    option = measured()
    areas = (each.relief_area for place in pairs() for each in place.force[1].options if each.relief_area is not None)
    other = next(area for area in areas if area.parts and area != option.relief_area)
    assert not is_alike(replace(option, relief_area=other), option)


def test_what_several_titles_begin_with_is_said_once_above_them() -> None:
    seen = 0
    for place in pairs():
        for said in said_of_options(place.in_order[0], None):
            seen += bool(said.under)
            assert not said.words.startswith(f"{said.under}: ")
    assert seen > 20


def test_a_beginning_that_only_one_option_has_stays_in_its_sentence() -> None:
    for place in pairs():
        heads = Counter(said.under for said in said_of_options(place.in_order[0], None) if said.under)
        assert all(count > 1 for count in heads.values())
