"""Drafting a trial: by questions, by a filled sheet, and what a draft touches. Both ways write the same file."""

from __future__ import annotations

import csv
import json
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import load_workbook

from marram.cli.trial.draft import from_sheet, new
from marram.cli.trial.show_command import check, show
from marram.core.errors import RuleDataError
from marram.interchange.books.book_files import read_book
from marram.interchange.books.overlay_writing import write_overlay
from marram.interchange.books.rule_sheet import COLUMNS, read_rule_sheet, write_rule_sheet
from marram.interchange.books.value_text import read_written, written
from marram.office.trials.draft_change import find_keys
from marram.office.trials.draft_trial import check_trial, draft_overlay, touched_by
from marram.office.workroom import Workroom
from marram.rulebook import packaged_catalogue
from marram.rulebook.overlays.overlay import read_overlay
from marram.rulebook.values import plain_value

ANSWERS = [
    "Trial of short relief", "2026-03-01", "lateral relief size", "relief.lateral.size", "one stride", "1 m", "It is quicker to measure.",
    "Quicker relief.", "relief_time", "relief_s", "down", "10", "strokes", "0.5", "Was it clear where to drop?", "n", "y",
    "search.limit_min", "4", "Three minutes are short.", "", "", "", "", "n", "n",
]  # fmt: skip
HEAD = ["--on", "2023", "--title", "Trial of short relief", "--dated", "2026-03-01"]


def filled(tmp_path: Path, *cells: tuple[str, str, str]) -> Path:
    """Rows of the sheet of the rules of 2023, saved as CSV, with cells filled in: key, column, text."""
    names = [name for name, _ in COLUMNS]
    rows: dict[str, dict[str, str]] = {"drop-height.height": {"key": "drop-height.height"}}
    for key, column, text in cells:
        rows.setdefault(key, {"key": key})[column] = text
    path = tmp_path / "rules.csv"
    with path.open("w", encoding="utf-8", newline="") as file:
        table = csv.DictWriter(file, names)
        table.writeheader()
        table.writerows(rows.values())
    return path


def test_the_workbook_holds_every_key_and_can_be_filled_in(tmp_path: Path) -> None:
    path, book = tmp_path / "rules.xlsx", read_book("2023")
    path.write_bytes(write_rule_sheet(book))
    workbook = load_workbook(path)
    sheet = workbook["rules"]
    keys = {str(cell.value): number for number, (cell, *_) in enumerate(sheet.iter_rows(min_row=2, max_col=1), start=2)}
    assert set(keys) == {key for key, (_, spec) in book.catalogue.keys.items() if spec.decides and book.has(key)}
    for column, (name, _) in enumerate(COLUMNS, start=1):
        if name in {"now", "reason"}:
            sheet.cell(row=keys["search.limit_min"], column=column).value = "4"
    workbook.save(path)
    (change,) = read_rule_sheet(path, book)
    assert (change.key, change.was, change.now) == ("search.limit_min", 3, 4)


SHEET = (
    ("relief.lateral.size", "now", "1 m"),
    ("relief.lateral.size", "reason", "It is quicker to measure."),
    ("relief.lateral.size", "aim", "Quicker relief."),
    ("relief.lateral.size", "shown by", "relief_s"),
    ("relief.lateral.size", "direction", "down"),
    ("relief.lateral.size", "matters", "10"),
    ("relief.lateral.size", "not worse", "strokes"),
    ("relief.lateral.size", "margin", "0.5"),
    ("relief.lateral.size", "question", "Was it clear where to drop?"),
    ("search.limit_min", "now", "4"),
    ("search.limit_min", "reason", "Three minutes are short."),
)


def test_answers_and_a_filled_sheet_write_the_same_changes(tmp_path: Path) -> None:
    asked, typed = tmp_path / "asked.toml", tmp_path / "typed.toml"
    done = CliRunner().invoke(new, ["--on", "2023", "-o", str(asked)], input="\n".join(ANSWERS) + "\n")
    assert done.exit_code == 0, done.output
    done = CliRunner().invoke(from_sheet, [str(filled(tmp_path, *SHEET)), *HEAD, "-o", str(typed)])
    assert done.exit_code == 0, done.output
    by_key = [sorted(Workroom().trial(path).changes, key=lambda change: change.key) for path in (asked, typed)]
    assert [(c.key, c.now, c.because, c.expects, c.guards, c.asks) for c in by_key[0]] == [
        (c.key, c.now, c.because, c.expects, c.guards, c.asks) for c in by_key[1]
    ]
    assert "nearest" in done.output.lower() or "relief_time" not in done.output


def test_one_change_gives_the_same_bytes_either_way(tmp_path: Path) -> None:
    asked, typed = tmp_path / "asked.toml", tmp_path / "typed.toml"
    answers = [*ANSWERS[:16], "n"]
    assert CliRunner().invoke(new, ["--on", "2023", "-o", str(asked)], input="\n".join(answers) + "\n").exit_code == 0
    cells = [cell for cell in SHEET if cell[0] == "relief.lateral.size"]
    assert CliRunner().invoke(from_sheet, [str(filled(tmp_path, *cells)), *HEAD, "-o", str(typed)]).exit_code == 0
    assert asked.read_bytes() == typed.read_bytes()


def test_every_fault_of_a_sheet_is_told_by_row_and_column(tmp_path: Path) -> None:
    path = filled(
        tmp_path,
        ("relief.lateral.size", "now", "two clubs"),
        ("search.limit_min", "now", "4"),
        ("drop-height.height", "now", "ankle"),
        ("drop-height.height", "reason", "Lower still."),
        ("hole-diameter.diameter_in", "now", "5"),
        ("hole-diameter.diameter_in", "reason", "Wider."),
        ("hole-diameter.diameter_in", "shown by", "strokes_per_round"),
        ("hole-diameter.diameter_in", "present", "6"),
    )
    with pytest.raises(RuleDataError) as told:
        read_rule_sheet(path, read_book("2023"))
    text = str(told.value)
    for words in (
        "column now",
        "two clubs",
        "column reason",
        "a change needs its reason",
        "ankle",
        "column shown by",
        "Nearest: strokes",
        "export",
    ):
        assert words in text, text


def test_a_row_filled_in_without_a_new_value_is_no_change_in_silence(tmp_path: Path) -> None:
    with pytest.raises(RuleDataError, match="column now: is empty, and reason, aim are filled in"):
        read_rule_sheet(
            filled(tmp_path, ("search.limit_min", "reason", "Too short."), ("search.limit_min", "aim", "Fairer.")), read_book("2023")
        )


def test_a_new_value_that_is_the_old_one_is_told(tmp_path: Path) -> None:
    with pytest.raises(RuleDataError, match="is what 2023 holds already"):
        read_rule_sheet(filled(tmp_path, ("search.limit_min", "now", "3"), ("search.limit_min", "reason", "So it is.")), read_book("2023"))


def test_a_share_is_a_part_of_one(tmp_path: Path) -> None:
    cells = (("now", "4"), ("reason", "Fairer."), ("shown by", "ball_found"), ("direction", "up"), ("matters", "10"))
    with pytest.raises(RuleDataError, match="0.1 for ten in a hundred"):
        read_rule_sheet(filled(tmp_path, *(("search.limit_min", column, text) for column, text in cells)), read_book("2023"))


@pytest.mark.parametrize(
    ("key", "typed", "plain"),
    [
        ("search.limit_min", "4 minutes", 4),
        ("search.limit_min", "four minutes", 4),
        ("relief.lateral.size", "one club-length", {"club_lengths": 1}),
        ("relief.lateral.size", "80 inches", {"inches": 80}),
        ("relief.unplayable-lateral.penalty_strokes", "2 penalty strokes", 2),
        ("relief.unplayable-lateral.penalty_strokes", "one stroke", 1),
    ],
)
def test_values_may_be_typed_as_they_are_said(key: str, typed: str, plain: object) -> None:
    value, fault = read_written(typed, packaged_catalogue().find_key(key)[1], packaged_catalogue())
    assert value is not None, fault
    assert plain_value(value) == plain


def test_an_empty_sheet_says_what_to_do(tmp_path: Path) -> None:
    with pytest.raises(RuleDataError, match="No row has anything"):
        read_rule_sheet(filled(tmp_path), read_book("2023"))


@pytest.mark.parametrize("edition", ["2016", "draft-2017", "2019", "2023"])
def test_every_value_is_read_back_as_it_was_written(edition: str) -> None:
    catalogue, book = packaged_catalogue(), read_book(edition)
    for key, (_, spec) in catalogue.keys.items():
        if spec.decides and book.has(key):
            value = book.cited(key).value
            assert read_written(written(value), spec, catalogue) == (value, ""), key


@given(st.text(max_size=30))
def test_anything_may_be_typed_and_nothing_breaks(text: str) -> None:
    catalogue = packaged_catalogue()
    for key in ("relief.lateral.size", "search.limit_min", "drop-height.height", "act.double-hit.cases", "bunker.excludes"):
        value, fault = read_written(text, catalogue.find_key(key)[1], catalogue)
        assert (value is None) is bool(fault)


def test_a_written_trial_reads_back_whole() -> None:
    catalogue, book = packaged_catalogue(), read_book("2023")
    text = """
        title = "A trial"
        dated = 2026-03-01
        on = ["2023"]
        status = "open"
        from = 2026-04-01
        until = 2026-05-01
        answers_until = 2026-05-08
        [[clarification]]
        dated = 2026-04-10
        change = 1
        text = "The cord may be folded."
        [[change]]
        key = "relief.lateral.size"
        was = { club_lengths = 2 }
        now = { metres = 2 }
        because = "One length for all."
        expects = { outcome = "relief_s", direction = "down", matters = 10 }
        guards = [{ outcome = "strokes", margin = 0.5 }]
        observes = ["relief_s", "strokes"]
        asks = ["Was it clear?"]
    """
    trial = read_overlay(text, name="a", catalogue=catalogue)
    assert read_overlay(write_overlay(trial), name="a", catalogue=catalogue) == trial
    assert trial.life.holds_on(date(2026, 4, 15))
    assert not trial.life.holds_on(date(2026, 5, 2))
    assert check_trial(trial)[0].message == "It has no aim."
    assert draft_overlay(book, "A trial", date(2026, 3, 1), trial.changes).changes == trial.changes


def test_what_a_change_touches_and_which_changes_meet(tmp_path: Path) -> None:
    path = tmp_path / "t.toml"
    assert CliRunner().invoke(from_sheet, [str(filled(tmp_path, *SHEET, *TEE)), *HEAD, "-o", str(path)]).exit_code == 0
    touched = {entry.change.key: entry for entry in touched_by(Workroom().trial(path), read_book("2023"))}
    lateral = touched["relief.lateral.size"]
    assert {"penalty-area-lateral-red", "unplayable-lateral"} <= set(lateral.procedures)
    assert {"penalty-area", "unplayable"} <= set(lateral.situations)
    assert lateral.with_changes == (touched["relief.unplayable-lateral.penalty_strokes"].change.number,)
    shown = CliRunner().invoke(show, [str(path), "--json"])
    assert json.loads(shown.stdout)["may_count_for_handicap"] is False
    assert "It meets change" in CliRunner().invoke(show, [str(path)]).output


TEE = (("relief.unplayable-lateral.penalty_strokes", "now", "2"), ("relief.unplayable-lateral.penalty_strokes", "reason", "Dearer."))


def test_faults_are_listed_and_the_exit_code_says_so(tmp_path: Path) -> None:
    path = tmp_path / "t.toml"
    stale = 'title = "T"\ndated = 2026-03-01\non = ["2023"]\n[[change]]\nkey = "search.limit_min"\nwas = 5\nnow = 4\nbecause = "x"\n'
    path.write_text(stale, encoding="utf-8")
    done = CliRunner().invoke(check, [str(path), "--json"])
    assert done.exit_code == 1
    faults = json.loads(done.stdout)["faults"]
    assert faults[0]["stops"]
    assert "was 5" in faults[0]["message"]
    assert [fault["stops"] for fault in faults[1:]] == [False, False, False]


def test_keys_are_found_by_words() -> None:
    assert find_keys(read_book("2023"), "lateral relief size")[0] == "relief.lateral.size"
    assert "search.limit_min" in find_keys(read_book("2023"), "search minutes")[:12]
    assert any(key.startswith("relief.unplayable-in-bunker-outside.") for key in find_keys(read_book("2023"), "19.3b"))


def test_new_writes_over_nothing_and_stops_without_a_trace(tmp_path: Path) -> None:
    path = tmp_path / "t.toml"
    assert CliRunner().invoke(new, ["--on", "2023", "-o", str(path)], input="Only a title\n").exit_code == 1
    assert not path.exists()
    path.write_text("kept", encoding="utf-8")
    done = CliRunner().invoke(new, ["--on", "2023", "-o", str(path)], input="\n".join(ANSWERS))
    assert done.exit_code == 2
    assert path.read_text(encoding="utf-8") == "kept"
