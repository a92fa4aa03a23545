"""`marram book compare`: text, page, screen, print and object tell the same differences."""

from __future__ import annotations

import json
from pathlib import Path

import pypdfium2
import pytest
from click.testing import CliRunner

from marram.cli.book.command import book
from marram.core.errors import DataError
from marram.core.terms import ADVICE

ROOT = Path(__file__).resolve().parents[2]


def run(*words: str) -> str:
    done = CliRunner().invoke(book, ["compare", *words])
    assert done.exit_code == 0, done.output
    return done.stdout


def test_the_object_tells_each_key_with_its_group_and_sentence() -> None:
    told = json.loads(run("2019", "2023", "--json"))
    entries = {entry["key"]: entry for entry in told["differences"]}
    assert {"key", "situation", "means", "unit", "first", "second", "group", "sentence", "together"} == set(next(iter(entries.values())))
    for key, entry in entries.items():
        assert all(entries[other]["sentence"] == entry["sentence"] and key in entries[other]["together"] for other in entry["together"])
    counts = told["counts"]
    assert counts["all"] == len({entry["sentence"] for entry in entries.values()}) == sum(group["count"] for group in counts["groups"])


@pytest.mark.parametrize("form", ["text", "md", "html"])
def test_every_form_counts_first_and_ends_with_the_advice(form: str) -> None:
    out = run("2019", "2023", "--form", form)
    assert ADVICE in "\n".join(out.splitlines()[-6:])
    assert " differences; " in "\n".join(out.splitlines()[:30])


def test_the_printed_table_holds_both_sides(tmp_path: Path) -> None:
    file = tmp_path / "apart.pdf"
    run("2019", "2023", "--form", "pdf", "-o", str(file))
    document = pypdfium2.PdfDocument(file)
    words = " ".join(document[page].get_textpage().get_text_bounded() for page in range(len(document)))
    assert "What differs between 2019 and 2023" in words
    assert all(title in words for title in ("Dropping a ball", "Forms of play"))
    assert document[0].get_width() > document[0].get_height()


def test_the_printed_table_needs_a_file() -> None:
    done = CliRunner().invoke(book, ["compare", "2019", "2023", "--form", "pdf"])
    assert isinstance(done.exception, DataError)
    assert "-o FILE" in str(done.exception)


def test_a_local_rule_is_told_with_its_reason() -> None:
    out = " ".join(run("2023", "2023+preferred-lies").split())
    assert "because: wet ground or mud" in out
