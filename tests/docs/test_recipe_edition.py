"""The recipe for an edition, followed word by word on a copy: two cells and one entry are enough, and nothing else differs."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from marram.core.units import LengthUnit, Size
from marram.rulebook.book import Book, open_book
from marram.rulebook.catalogue import Catalogue
from marram.rulebook.differences.compare import compare_books
from marram.rulebook.reading.files import read_catalogue
from tests.support.recipes import follow, run_in, shown_runs, writings

RECIPE = "an-edition.md"


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return follow(RECIPE, tmp_path_factory.mktemp("recipe"))


@pytest.fixture(scope="module")
def catalogue(copy: Path) -> Catalogue:
    return read_catalogue(copy / "src" / "marram" / "rulebook" / "data")


@pytest.fixture(scope="module")
def books(catalogue: Catalogue) -> Iterator[tuple[Book, Book]]:
    yield open_book("2023", [], catalogue), open_book("2027", [], catalogue)


def test_the_recipe_writes_one_entry_and_two_cells_and_none_of_it_is_shipped() -> None:
    written = writings(RECIPE)
    assert [text.splitlines()[0] for _, text in written] == ["[2027]", "[search.in.2027]", '["relief.lateral".in.2027]']
    assert all("2027" not in (Path(__file__).parents[2] / file).read_text(encoding="utf-8") for file, _ in written)


def test_only_the_two_cells_differ(books: tuple[Book, Book]) -> None:
    told = {entry.key: (entry.first.value, entry.second.value) for entry in compare_books(*books)}
    assert told == {
        "search.limit_min": (3, 4),
        "relief.lateral.size": tuple(Size(amount=lengths, unit=LengthUnit.CLUB_LENGTHS) for lengths in (2, 3)),
    }


def test_every_row_is_there_as_in_the_edition_followed(books: tuple[Book, Book], catalogue: Catalogue) -> None:
    before, now = books
    assert [row for row in catalogue.rows if before.has_row(row) != now.has_row(row)] == []
    assert [fact.name for fact in catalogue.facts.values() if fact.asked_in("2023") != fact.asked_in("2027")] == []
    assert catalogue.told_briefly["2027"] == catalogue.told_briefly["2023"]
    assert catalogue.latest == "2027"


def test_what_is_taken_over_is_not_passed_off_as_seen_in_the_new_edition(books: tuple[Book, Book]) -> None:
    taken = books[1].cited("act.wrong-ball.cases").citations[0]
    assert (taken.document, taken.edition, taken.is_number_inferred) == ("Rules of Golf (January 2027)", "2027", True)
    assert not taken.is_seen
    kept, changed = (books[1].cited(f"search.{part}").citations[0] for part in ("starts_when", "limit_min"))
    assert (changed.seen, kept.seen) == ("inferred", books[0].cited("search.starts_when").citations[0].seen)
    assert not kept.is_seen


def test_the_commands_of_the_recipe_say_what_it_shows(copy: Path) -> None:
    runs = shown_runs(RECIPE)
    assert runs
    for words, shown in runs:
        code, out, err = run_in(copy, words)
        assert code == 0, err
        assert all(line in out for line in shown), out


def test_a_ruling_under_the_new_edition_is_three_club_lengths_wide(copy: Path) -> None:
    incident = "rule examples/incidents/pond-7.toml --course examples/courses/thimble-moor.geojson --json"
    code, out, err = run_in(copy, f"{incident} --book 2023 --book 2027 --book 2027+preferred-lies")
    assert code == 0, err
    lateral = [
        next(option for option in book["options"] if option["procedure"] == "penalty-area-lateral-red") for book in json.loads(out)["books"]
    ]
    areas_m2 = [option["relief_area"]["area_m2"] for option in lateral]
    assert areas_m2[1] > areas_m2[0] * 1.5
    assert areas_m2[1] == areas_m2[2]
    assert {option["citations"][0]["edition"] for option in lateral[1:]} == {"2027"}
