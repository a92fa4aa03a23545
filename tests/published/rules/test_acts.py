"""What each act leads to, compared with a copy of the facts, cell by cell.

Source: tests/published/rules/acts.yaml, whose `checked` names the document of each cell (Rules of Golf 2016, 2019 and 2023, draft of
March 2017).
What a sentence of the facts makes an exception of is compared case by case in test_act_exceptions_conduct.py (conduct, cards, clubs,
caddies) and test_act_exceptions_play.py.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from marram.interchange.books.book_files import read_book
from marram.rulebook.audit import audit_catalogue
from marram.rulebook.reading.files import packaged_catalogue
from marram.rulings.acts.acts import ActAnswer, rule_on_act
from tests.support.yaml_text import read_yaml

EDITIONS = ("2016", "draft-2017", "2019", "2023")
FACTS = read_yaml((Path(__file__).parent / "acts.yaml").read_text(encoding="utf-8"))["acts"]
CELLS = [(act["id"], edition, act[edition]) for act in FACTS for edition in EDITIONS if edition in act]


AREAS = {act["id"]: act["area"] for act in FACTS}
AREA_ALONE = {"penalty-area or temporary water": "penalty-area"}
"""An area of the facts that names a condition besides, with the area of the course alone, which is all that a row holds."""


@cache
def answer(act: str, edition: str) -> ActAnswer:
    return rule_on_act(read_book(edition), act, {})


def test_every_act_is_a_row_and_every_absence_is_one_of_the_facts() -> None:
    rows = {row for row in packaged_catalogue().rows if row.startswith("act.")}
    assert rows >= {f"act.{act['id']}" for act in FACTS}, "test_added_acts.py sees that the others have their questions"
    for act in FACTS:
        for edition in EDITIONS:
            assert read_book(edition).has_row(f"act.{act['id']}") is (edition in act)


TYPED = [(act, edition, cell) for act, edition, cell in CELLS if answer(act, edition).case is not None]


@pytest.mark.parametrize(("act", "edition", "cell"), TYPED, ids=[f"{act}-{edition}" for act, edition, _ in TYPED])
def test_the_default_case_is_what_the_facts_say(act: str, edition: str, cell: dict[str, object]) -> None:
    given = answer(act, edition)
    assert given.case is not None
    stroke, match = cell["stroke_play"], cell["match_play"]
    cases = given.cases
    if isinstance(stroke, int):
        assert any(case.strokes == stroke and not case.out for case in cases), given
        assert len(cases) > 1 or given.case.strokes == stroke
    if stroke == "disqualified":
        assert any(case.in_stroke_play is not None and case.in_stroke_play.is_out for case in cases)
    if isinstance(match, int):
        assert any(case.match_strokes == match and not case.hole for case in cases)
    if match == "loss-of-hole":
        assert any(case.hole == "lost" for case in cases)
    if match == "disqualified":
        assert any(case.out in {"always", "match-play"} for case in cases)
    if match is None:
        assert given.case.in_match_play is None
    if cell["ball"] == "as-lies":
        assert given.case.ball == "as-it-lies"
    if cell["ball"] == "replace":
        assert given.case.ball == "replaced"
    assert given.citations[0].rule == str(cell["rule"]).removeprefix("~")


def test_where_an_act_happens_is_where_the_facts_say() -> None:
    stated = {(act, edition): str(cell.get("area", AREAS[act])) for act, edition, cell in CELLS}
    expected = {cell: AREA_ALONE.get(area, area.replace(" ", "-")) for cell, area in stated.items()}
    assert {(act, edition): answer(act, edition).area for act, edition in expected} == expected


@pytest.mark.parametrize(
    ("act", "edition", "facts", "strokes", "hole", "disqualified"),
    [
        ("unreasonable-delay", "2016", {}, 2, "lost", False),
        ("unreasonable-delay", "2016", {"second_breach": True}, 0, "", True),
        ("unreasonable-delay", "2023", {}, 1, "", False),
        ("unreasonable-delay", "2023", {"second_breach": True}, 2, "lost", False),
        ("unreasonable-delay", "2023", {"third_breach": True}, 0, "", True),
        ("unreasonable-delay", "2019", {"second_breach": True, "between_two_holes": True}, 2, "next-lost", False),
        ("unreasonable-delay", "2023", {"second_breach": True, "between_two_holes": True}, 2, "next-lost", False),
        ("late-start-over-5", "2019", {}, 0, "", True),
        ("cause-unclear-after-address", "2016", {"more_likely_than_not_player": True}, 1, "", False),
        ("cause-unclear-after-address", "2019", {"known_player_moved_it": False}, 0, "", False),
        ("late-start-within-5", "2019", {}, 2, "first-lost", False),
        ("late-start-within-5", "2019", {"exceptional_circumstances": True}, 0, "", False),
        ("agree-to-waive-rules", "2019", {"they_knew_the_rule": True}, 0, "", True),
        ("practice-stroke-between-holes", "2023", {}, 2, "next-lost", False),
        ("lift-to-check-relief", "2019", {}, 1, "", False),
        ("distance-device", "2016", {"second_breach": True}, 0, "", True),
    ],
)
def test_cells_with_conditions(act: str, edition: str, facts: dict[str, bool], strokes: int, hole: str, disqualified: bool) -> None:
    case = rule_on_act(read_book(edition), act, facts).case
    assert case is not None
    assert (case.strokes, case.hole, case.out == "always") == (strokes, hole, disqualified)


def test_every_cell_is_typed_and_no_remark_is_left() -> None:
    assert not [(act, edition) for act, edition, _ in CELLS if answer(act, edition).case is None]
    assert not [remark for remark in audit_catalogue(packaged_catalogue()).remarks if remark.key.startswith("act.")]
