"""Beside each question stands what its answer would open.

Source: Rules of Golf 2023, 17.1d: stroke and distance needs the place of the previous stroke, the other two options the point where the
ball last crossed the edge of the penalty area. A question whose answer can only close an option opens none.
"""

from __future__ import annotations

from dataclasses import replace

from marram.rulings import rule_on
from marram.rulings.case.ruling import Question, Ruling
from tests.support.tellings import ground, incidents
from tests.support.told_keys import EDITIONS, base

_RED = incidents()["ruling red penalty area"]


def asked_of(ruling: Ruling) -> dict[str, Question]:
    return {entry.fact: entry for entry in ruling.facts_needed}


def test_an_unknown_previous_stroke_stands_beside_stroke_and_distance_alone() -> None:
    for edition in EDITIONS:
        ruling = rule_on(replace(_RED, previous_stroke=None), ground(), base(edition))
        (question,) = (entry for entry in ruling.facts_needed if "stroke-and-distance" in " ".join(entry.opens))
        assert question.opens == ("penalty-area-stroke-and-distance",)
        assert question.words.startswith("To find stroke and distance: ")
        assert "penalty-area-stroke-and-distance" not in {option.procedure for option in ruling.options}


def test_an_unknown_crossing_stands_beside_the_line_and_lateral_relief() -> None:
    ruling = rule_on(replace(_RED, crossed_at=None), ground(), base("2023"))
    (question,) = ruling.facts_needed
    assert question.opens == ("penalty-area-back-on-line", "penalty-area-lateral-red")
    assert question.words.startswith("To find back on the line or lateral relief: ")
    assert {option.procedure for option in ruling.options} == {"penalty-area-stroke-and-distance"}


def test_once_answered_what_it_opened_is_there() -> None:
    for edition in EDITIONS:
        for asked in (replace(_RED, previous_stroke=None), replace(_RED, crossed_at=None)):
            opened = {entry for question in rule_on(asked, ground(), base(edition)).facts_needed for entry in question.opens}
            assert opened
            assert opened <= {option.procedure for option in rule_on(_RED, ground(), base(edition)).options}


def test_what_opens_nothing_is_asked_plainly() -> None:
    for edition in EDITIONS:
        for incident in incidents().values():
            ruling = rule_on(incident, ground(), base(edition))
            waiting = {fact for option in ruling.options for fact in option.waiting_for}
            for question in ruling.facts_needed:
                assert question.opens or question.fact in waiting
                assert bool(question.opens) == question.words.startswith("To find ")
