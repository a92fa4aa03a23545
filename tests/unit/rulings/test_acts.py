"""Cases are tried in order; facts, unknown names and the search for acts; overlays may change what an act leads to."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from marram.cli.act.command import act
from marram.core.errors import DataError, StaleOverlay
from marram.interchange.books.book_files import read_book
from marram.rulebook.consequences import Consequence, parse_cases, plain_cases
from marram.rulebook.reading.files import packaged_catalogue
from marram.rulings.acts.acts import acts_of, find_acts, rule_on_act
from tests.support.editions import ASKED_BY_NAME

CATALOGUE = packaged_catalogue()


def asked(*words: str) -> Result:
    return CliRunner().invoke(act, list(words))


def test_cases_are_tried_in_order_and_name_what_could_change_them() -> None:
    answer = rule_on_act(read_book("2023"), "unreasonable-delay", {"second_breach": True})
    assert answer.case is not None and answer.case.strokes == 2
    assert answer.holds_unless == ("third_breach", "between_two_holes")
    assert rule_on_act(read_book("2023"), "unreasonable-delay", {"third_breach": False, "second_breach": False}).holds_unless == ()


@pytest.mark.parametrize(
    "raw",
    [
        [],
        [{"when": ["a"]}],
        [{}, {"strokes": 1}],
        [{"strokes": -1}],
        [{"strokes": True}],
        [{"hole": "gone"}],
        [{"penalty": 1}],
        "two",
        [{"when": []}, 3],
    ],
)
def test_cases_that_do_not_hold_together_are_not_read(raw: object) -> None:
    assert parse_cases(raw) is None


def test_cases_are_written_as_they_were_read() -> None:
    raw = [{"when": ["second_breach"], "strokes": 2, "hole": "lost"}, {"strokes": 1, "match_strokes": 1}]
    cases = parse_cases(raw)
    assert cases is not None
    assert plain_cases(cases) == raw
    assert cases[1] == Consequence(strokes=1, match_strokes=1)


def test_json_holds_an_answer_for_every_edition() -> None:
    done = asked("flagstick-unattended-hit-from-green", *ASKED_BY_NAME, "--json")
    assert done.exit_code == 0, done.output
    books = json.loads(done.stdout)["books"]
    assert [(book["stroke_play"]["strokes"], book["match_play"]["hole"]) for book in books] == [(2, "lost"), (0, ""), (0, ""), (0, "")]
    assert all({"stroke", "ball", "put_right", "citations"} <= set(book) for book in books)


def test_what_cannot_happen_in_a_form_of_play_is_null() -> None:
    (book,) = json.loads(asked("score-too-low", "--book", "2023", "--json").stdout)["books"]
    assert book["stroke_play"]["disqualified"] is True
    assert book["match_play"] is None


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("touched sand practice swing", "bunker-practice-swing-touch"),
        ("hit the flagstick from the green", "flagstick-unattended-hit-from-green"),
        ("more than fourteen clubs", "too-many-clubs"),
        ("wrong ball", "wrong-ball"),
    ],
)
def test_acts_are_found_by_words(words: str, expected: str) -> None:
    assert expected in [name for name, _ in find_acts(CATALOGUE, words)[:4]]


def test_every_act_is_found_by_its_own_words() -> None:
    for name, means in acts_of(CATALOGUE).items():
        assert name in [found for found, _ in find_acts(CATALOGUE, means)[:3]], name


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("too-many-club",), "too-many-clubs"),
        (("unreasonable-delay", "--fact", "raining=true"), "second-breach"),
        (("unreasonable-delay", "--fact", "second_breach=maybe"), "NAME=true"),
        (("unreasonable-delay", "--fact", "second_breach=true", "--fact", "second_breach=false"), "true and false"),
        (("too-many-clubs", "--fact", "second_breach=true"), "No fact changes the answer"),
    ],
)
def test_what_cannot_be_read_is_told(words: tuple[str, ...], said: str) -> None:
    done = asked(*words)
    assert isinstance(done.exception, DataError)
    assert said in str(done.exception)


def test_an_overlay_changes_what_an_act_leads_to(tmp_path: Path) -> None:
    change = """title = "Flagstick"
dated = 2026-01-01
on = ["2023"]
[[change]]
key = "act.flagstick-unattended-hit-from-green.cases"
was = [{ ball = "as-it-lies" }]
now = [{ strokes = 1, match_strokes = 1, ball = "as-it-lies" }]
because = "To see what it does."
"""
    (tmp_path / "flag.toml").write_text(change, encoding="utf-8")
    book = read_book(f"2023+{tmp_path / 'flag.toml'}")
    answer = rule_on_act(book, "flagstick-unattended-hit-from-green", {})
    assert answer.case is not None and answer.case.strokes == 1
    assert any(citation.overlay == "Flagstick" for citation in answer.citations)
    (tmp_path / "stale.toml").write_text(
        change.replace('was = [{ ball = "as-it-lies" }]', 'was = [{ strokes = 2, ball = "as-it-lies" }]'), encoding="utf-8"
    )
    with pytest.raises(StaleOverlay):
        read_book(f"2023+{tmp_path / 'stale.toml'}")


def test_danger_that_is_stated_comes_first() -> None:
    text = asked("stop-play-without-reason", "--fact", "danger_from_lightning=true").output
    assert text.startswith("Caution. Lightning")
    assert text.count("Caution.") == 1, "once for all books"
    for words in (["--fact", "danger_from_lightning=false"], []):
        assert "Caution." not in asked("stop-play-without-reason", *words).output
    (told,) = json.loads(asked("stop-play-without-reason", "--fact", "danger_from_lightning=true", "--book", "2023", "--json").output)[
        "books"
    ]
    assert len(told["cautions"]) == 1
