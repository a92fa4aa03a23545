"""A value that does not fit is answered with the nearest that can be said: capitals, feet, other units, closed lists."""

from __future__ import annotations

import pytest

from marram.core.errors import RuleDataError
from marram.interchange.books.value_text import read_written
from marram.rulebook import packaged_catalogue, read_overlay
from marram.rulebook.overlays.honest_way import honest_way

CATALOGUE = packaged_catalogue()


@pytest.mark.parametrize(
    ("key", "raw", "way"),
    [
        ("drop-height.height", "Shoulder", 'Write "shoulder".'),
        ("drop-height.height", "Knee as when standing", 'Write "knee-as-when-standing".'),
        # One foot is 12 inches and one yard 36, by definition; a metre is 100 cm.
        ("relief.lateral.size", "6 ft", "Write { inches = 72 }, which is the same length."),
        ("relief.lateral.size", {"feet": 6}, "Write { inches = 72 }, which is the same length."),
        ("relief.lateral.size", "2 yards", "Write { inches = 72 }, which is the same length."),
        ("relief.lateral.size", "150 cm", "Write { metres = 1.5 }, which is the same length."),
        ("relief.lateral.size", "1 foot", "Write { inches = 12 }, which is the same length."),
        ("relief.lateral.size", "6 feet", "Write { inches = 72 }, which is the same length."),
        ("relief.lateral.size", "6'", "Write { inches = 72 }, which is the same length."),
        ("relief.lateral.size", '6"', "Write { inches = 6 }, which is the same length."),
        ("relief.lateral.size", "1 yard", "Write { inches = 36 }, which is the same length."),
        ("relief.lateral.size", "2 yd", "Write { inches = 72 }, which is the same length."),
        ("relief.lateral.size", "1 inch", "Write { inches = 1 }, which is the same length."),
        ("relief.lateral.size", "1500 mm", "Write { metres = 1.5 }, which is the same length."),
        ("relief.lateral.size", "2 m", "Write { metres = 2 }, which is the same length."),
        ("relief.lateral.size", "1 metre", "Write { metres = 1 }, which is the same length."),
        ("relief.lateral.size", "2 metres", "Write { metres = 2 }, which is the same length."),
        ("relief.lateral.size", "1 meter", "Write { metres = 1 }, which is the same length."),
        ("relief.lateral.size", "2 meters", "Write { metres = 2 }, which is the same length."),
        ("relief.lateral.size", "three club-lengths", "Write { club_lengths = 3 }."),
        ("search.limit_min", "180 s", "Write 3: the unit is min."),
        ("search.limit_min", "half a day", ""),
        ("overhanging-ball-wait.wait_s", "1 minute", "Write 60: the unit is s."),
        ("drops-before-placing.drops", "one", "Write 1, without quotes."),
        ("dropped-ball-roll-limit.must_rest_in_area", "No", "Write false, without quotes."),
        ("dropped-ball-roll-limit.must_rest_in_area", "only on the fairway", "It can only be so or not so."),
    ],
)
def test_the_nearest_that_can_be_said(key: str, raw: object, way: str) -> None:
    assert honest_way(raw, CATALOGUE.find_key(key)[1]) == way


def test_a_height_in_feet_cannot_be_expressed_and_is_told_so() -> None:
    said = honest_way("4 ft", CATALOGUE.find_key("drop-height.height")[1])
    assert said.startswith("'4 ft' cannot be expressed here: where the ball is let go is one of a closed list.")
    assert "say under because what it leaves out" in said


def test_a_trial_with_such_values_names_each_with_its_way() -> None:
    text = """
title = "A trial"
dated = 2026-03-01
[[change]]
key = "drop-height.height"
was = "knee-as-when-standing"
now = "Shoulder"
because = "To try it."
[[change]]
key = "relief.lateral.size"
was = { club_lengths = 2 }
now = "6 ft"
because = "To try it."
"""
    with pytest.raises(RuleDataError) as refused:
        read_overlay(text, name="trial", catalogue=CATALOGUE)
    assert 'Write "shoulder".' in str(refused.value)
    assert "Write { inches = 72 }" in str(refused.value)


@pytest.mark.parametrize(
    ("key", "typed", "said"),
    [
        ("relief.lateral.size", "6 ft", "Write 72 in, which is the same length."),
        ("search.limit_min", "180 s", "Write 3: the unit is min."),
        ("drop-height.height", "chest", "cannot be expressed here"),
    ],
)
def test_at_a_prompt_it_is_told_as_it_is_typed(key: str, typed: str, said: str) -> None:
    value, fault = read_written(typed, CATALOGUE.find_key(key)[1], CATALOGUE)
    assert value is None
    assert said in fault


@pytest.mark.parametrize("typed", ["Shoulder", "SHOULDER", " shoulder "])
def test_capitals_are_forgiven_at_a_prompt(typed: str) -> None:
    assert read_written(typed, CATALOGUE.find_key("drop-height.height")[1], CATALOGUE) == ("shoulder", "")
