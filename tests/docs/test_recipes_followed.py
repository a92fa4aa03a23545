"""Recipes followed word by word on a copy: what each writes is read, answers as the page shows, and changes nothing besides."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from marram.rulebook.book import Book, open_book
from marram.rulebook.catalogue import Catalogue
from marram.rulebook.differences.compare import compare_books
from marram.rulebook.facts import yes_no_facts
from marram.rulebook.reading.files import packaged_catalogue, read_catalogue
from marram.rulings.acts.acts import rule_on_act
from tests.editions.test_cases import ruled_under
from tests.support.recipes import ROOT, exchanges, follow, run_in, shown_runs, writings
from tests.unit.rulebook.test_facts import IN_CODE, named_in_rule_data

RECIPES = ("an-act.md", "a-fact.md", "a-situation.md", "a-command.md")
OF_DATA = RECIPES[:3]


@pytest.fixture(scope="module")
def copies(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    return {recipe: follow(recipe, tmp_path_factory.mktemp("recipe")) for recipe in RECIPES}


@pytest.fixture(scope="module")
def catalogues(copies: dict[str, Path]) -> dict[str, Catalogue]:
    return {recipe: read_catalogue(copies[recipe] / "src" / "marram" / "rulebook" / "data") for recipe in OF_DATA}


def book_after(catalogues: dict[str, Catalogue], recipe: str, edition: str = "2023") -> Book:
    return open_book(edition, [], catalogues[recipe])


def case_of(recipe: str, file: str) -> dict[str, object]:
    """The case that a recipe adds to a file of cases."""
    (text,) = (text for name, text in writings(recipe) if name == f"tests/editions/2023/{file}.toml")
    (case,) = tomllib.loads(text)["case"]
    assert isinstance(case, dict)
    return case


@pytest.mark.parametrize("recipe", RECIPES)
def test_it_writes_what_is_not_shipped(recipe: str) -> None:
    assert writings(recipe)
    for file, text in writings(recipe):
        assert not (ROOT / file).exists() or text not in (ROOT / file).read_text(encoding="utf-8")
    for file, _, new in exchanges(recipe):
        assert new not in (ROOT / file).read_text(encoding="utf-8")


@pytest.mark.parametrize("recipe", RECIPES)
def test_its_commands_say_what_it_shows(copies: dict[str, Path], recipe: str) -> None:
    runs = shown_runs(recipe)
    assert runs
    for words, shown in runs:
        code, out, err = run_in(copies[recipe], words)
        assert code == 0, err
        assert shown
        assert [line for line in shown if line not in out] == [], out


@pytest.mark.parametrize("recipe", RECIPES)
def test_without_it_they_say_something_else(recipe: str) -> None:
    for words, shown in shown_runs(recipe):
        _, out, _ = run_in(ROOT, words)
        assert any(line not in out for line in shown)


@pytest.mark.parametrize("recipe", OF_DATA)
def test_the_editions_differ_only_in_what_it_writes(catalogues: dict[str, Catalogue], recipe: str) -> None:
    """What two shipped editions differ in is what they differ in after the recipe, but for the rows that it writes."""
    names = ("rings-bell-in-stroke", "deflect-own-side", "beside-wall", "against-wall")
    told = []
    for catalogue in (packaged_catalogue(), catalogues[recipe]):
        found = compare_books(open_book("2019", [], catalogue), open_book("2023", [], catalogue))
        told.append({entry.key for entry in found if not any(name in entry.key for name in names)})
    assert told[0] == told[1] != set()


def test_the_act_leads_to_what_its_case_says(catalogues: dict[str, Catalogue]) -> None:
    case = case_of("an-act.md", "acts")
    act, leads_to = str(case["act"]), case["leads_to"]
    assert isinstance(leads_to, dict)
    found = rule_on_act(book_after(catalogues, "an-act.md"), act, {}).case
    assert {name: getattr(found, name) for name in leads_to} == leads_to
    second = rule_on_act(book_after(catalogues, "an-act.md"), act, {"second_breach": True}).case
    assert second is not None
    assert (second.strokes, second.hole) == (2, "lost")
    assert rule_on_act(book_after(catalogues, "an-act.md", "2019"), act, {}).case is None
    assert f"act.{act}" not in packaged_catalogue().rows


@pytest.mark.parametrize(("told", "strokes"), [(True, 2), (False, 0)])
def test_the_fact_decides(catalogues: dict[str, Catalogue], told: bool, strokes: int) -> None:
    book = book_after(catalogues, "a-fact.md")
    assert book.catalogue.facts["told_to_stand_aside"].asked_in("2023").endswith("?")
    found = rule_on_act(book, "deflect-own-side", {"told_to_stand_aside": told}).case
    assert found is not None
    assert found.strokes == strokes
    assert "told_to_stand_aside" not in packaged_catalogue().facts


def test_the_fact_is_named_where_it_decides(catalogues: dict[str, Catalogue]) -> None:
    """As the third step says: the test of the catalogue refuses a fact that nothing reads."""
    catalogue = catalogues["a-fact.md"]
    assert named_in_rule_data(catalogue) | IN_CODE == set(yes_no_facts(catalogue.facts))
    assert "told_to_stand_aside" in named_in_rule_data(catalogue) - named_in_rule_data(packaged_catalogue())


def test_the_situation_is_ruled_on_as_its_case_says(catalogues: dict[str, Catalogue]) -> None:
    case = case_of("a-situation.md", "rulings")
    ruling = ruled_under(book_after(catalogues, "a-situation.md"), case)  # type: ignore[arg-type]
    (option,) = ruling.options
    assert [option.procedure] == case["options"]
    details = case["is"]
    assert isinstance(details, dict)
    expected = details[option.procedure]
    assert {member: getattr(option, member) for member in expected} == expected
    # One club-length (r = 1.143 m) about a ball 141.4 m from the hole, no nearer: π r² / 2 and r³ / (3 × 141.4 m) more, as the arc
    # about the hole bends towards it.
    assert option.relief_area is not None
    assert option.relief_area.area_m2 == pytest.approx(2.0522 + 0.0035, abs=0.002)


def test_the_command_is_offered_published_and_answers_in_json(copies: dict[str, Path]) -> None:
    folder = copies["a-command.md"]
    assert "roll" in run_in(folder, "--help")[1].split()
    code, out, err = run_in(folder, "roll --book 2016 --book 2023 --json")
    assert code == 0, err
    answer = json.loads(out)
    assert answer["schema"] == "marram.roll/1"
    assert [book["limit"] for book in answer["books"]] == ["two club-lengths", ""]
    listing = "from marram.answers.published import ANSWERS, schema_file; print(*map(schema_file, ANSWERS))"
    listed = subprocess.run(
        [sys.executable, "-c", listing], env=os.environ | {"PYTHONPATH": str(folder / "src")}, capture_output=True, text=True, check=True
    )
    assert "roll" in listed.stdout.split()


def test_what_the_command_is_written_in_is_tidy(copies: dict[str, Path]) -> None:
    files = [str(copies["a-command.md"] / file) for file, _ in writings("a-command.md")]
    for job in (["check"], ["format", "--check"]):
        run = [sys.executable, "-m", "ruff", *job, "--config", str(ROOT / "pyproject.toml"), *files]
        done = subprocess.run(run, capture_output=True, text=True, check=False)
        assert done.returncode == 0, done.stdout + done.stderr
