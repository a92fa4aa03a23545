"""A ruling on the terminal: on one screen, each thing once, its rules by number, and its sources once at the end."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from marram.core.terms import ADVICE
from tests.support.running import Run

ROOT = Path(__file__).parents[2]
COURSE = str(ROOT / "examples/courses/thimble-moor.geojson")
INCIDENTS = sorted((ROOT / "examples/incidents").glob("*.toml"))
BOOKS = ("2016", "draft-2017", "2019", "2023")
SCREEN_LINES = 40
STAMP = re.compile("[0-9a-f]{4} [0-9a-f]{4}")


def one_line(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize("book", BOOKS)
@pytest.mark.parametrize("incident", INCIDENTS, ids=lambda path: path.stem)
def test_a_ruling_of_one_book_fits_on_a_screen_and_tells_each_thing_once(called: Run, incident: Path, book: str) -> None:
    code, told, _ = called("rule", str(incident), "--course", COURSE, "--book", book)
    assert code == 0
    assert told.count("\n") <= SCREEN_LINES
    assert "seen in a" not in told.replace("seen in a source of another edition", "")
    assert told.count("Sources: ") == 1
    steps = [
        step[3:]
        for step in re.split(r" (?=\d\. )|(?= [A-H]  )| Usable | Area | Point | The other ", one_line(told))
        if re.match(r"\d\. [^A]", step)
    ]
    assert len(steps) == len(set(steps))


def test_a_step_that_was_told_is_named_by_its_letter_and_number(called: Run) -> None:
    _, told, _ = called("rule", str(ROOT / "examples/incidents/pond-7.toml"), "--course", COURSE, "--book", "2023")
    assert one_line(told).count("put a tee there") == 1
    assert "As B1." in told


def test_no_two_blank_lines_follow_each_other_where_nothing_is_closed_and_something_is_asked(called: Run, tmp_path: Path) -> None:
    incident = tmp_path / "incident.toml"
    player = '[player]\nhand = "left"\nlongest_club_in = 44\n'
    ball = 'hole = 12\nsituation = "unplayable"\nball = { before_green_m = 90, right_m = 12 }\n'
    incident.write_text(ball + player, encoding="utf-8")
    _, told, _ = called("rule", str(incident), "--course", COURSE, "--book", "2019")
    assert "To be asked" in told and "Not available" not in told
    assert "\n\n\n" not in told


def test_what_was_not_seen_is_marked_beside_its_rule_and_nothing_else_is(called: Run) -> None:
    _, told, _ = called("rule", str(ROOT / "examples/incidents/pond-7.toml"), "--course", COURSE, "--book", "2023")
    flat = one_line(told)
    assert "[Rule 17.1d(3), 19.2c]" in flat
    assert "[Rule 17.1d, Model Local Rule B-2 (from memory)]" in flat


def test_all_sources_tell_each_rule_with_its_place_kind_and_edition(called: Run) -> None:
    arguments = ("rule", str(ROOT / "examples/incidents/pond-7.toml"), "--course", COURSE, "--book", "2023")
    flat = one_line(called(*arguments, "--sources")[1])
    place = "Rules of Golf, effective January 2023 (official text, 2023, speaks of 2023), printed page 126."
    assert f"Rule 17.1d(1), 14.6: {place}" in flat
    assert "Rule 17.1d, Model Local Rule B-2: from memory." in flat
    assert place not in one_line(called(*arguments)[1])


@pytest.mark.parametrize(
    "command",
    [
        ("act", "wrong-ball", "--form", "stableford"),
        ("object", "rake", "--area", "bunker"),
        ("drop", "--events", "right-way,rests-outside"),
        ("search", "--events", "start@0:00,found@2:40", "--moved-by", "player"),
        ("form", "stableford"),
        ("suspension",),
    ],
    ids=lambda command: command[0],
)
def test_every_answer_ends_with_its_sources_told_once(called: Run, command: tuple[str, ...]) -> None:
    short, whole = (one_line(called(*command, "--book", "2023", *more)[1]) for more in ((), ("--sources",)))
    assert short.count("Sources: ") == 1 and "seen in " not in short
    assert short.endswith(ADVICE) and whole.endswith(ADVICE)
    body, _, listed = whole.partition(" Sources ")
    for rules in re.findall(r"\[([^\[\]]*)\]", body):
        for rule in rules.split("; "):
            number = rule.partition(" (")[0]
            assert number in listed or rule.startswith("act ") or STAMP.fullmatch(rule)


def test_the_catalogue_of_sources_is_listed(called: Run) -> None:
    listed = json.loads(called("book", "sources", "--json")[1])["sources"]
    named = {"title": "Rules of Golf, effective January 2023", "year": 2023, "editions": ["2023"], "kind": "official text"}
    assert named in listed
    assert "Rules of Golf, effective January 2023 (official text, 2023, speaks of 2023)" in one_line(called("book", "sources")[1])
