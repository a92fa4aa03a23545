"""An edition more than were written: whatever is asked of a book is answered under it, and differs only where it says so."""

from __future__ import annotations

from dataclasses import fields

import pytest

from marram.asking.finding import ask, open_register, packaged_register
from marram.core.terms import Area, Form
from marram.rulebook.book import Book, open_book
from marram.rulebook.differences.compare import compare_books
from marram.rulebook.reading.files import read_catalogue
from marram.rulings.acts.acts import acts_of, rule_on_act
from marram.rulings.acts.form_of_play import describe_form
from marram.rulings.acts.objects import FAMILY, rule_on_object
from marram.rulings.acts.search_clock import SearchState, follow_search, read_timed
from marram.rulings.acts.suspension import Signal, rule_on_suspension
from marram.rulings.drop.dropping import guide_drop
from tests.support.recipes import follow

_OF_THE_BOOK = {"book", "stamp", "citations", "cautions"}
"""What every answer tells of its book, and where it was seen."""


@pytest.fixture(scope="module")
def books(tmp_path_factory: pytest.TempPathFactory) -> tuple[Book, Book]:
    copy = follow("an-edition.md", tmp_path_factory.mktemp("further"))
    catalogue = read_catalogue(copy / "src" / "marram" / "rulebook" / "data")
    assert len(catalogue.editions) == len(set(catalogue.editions)) > 4
    return open_book("2023", [], catalogue), open_book("2027", [], catalogue)


def told(answer: object) -> dict[str, str]:
    """What an answer says, without the name of its book and the sources; an answer within another likewise."""
    parts = {field.name: getattr(answer, field.name) for field in fields(answer) if field.name not in _OF_THE_BOOK}  # type: ignore[arg-type]
    return {name: str(told(value)) if hasattr(value, "citations") else _without_sources(value) for name, value in parts.items()}


def _without_sources(value: object) -> str:
    if isinstance(value, tuple):
        return str([str(told(entry)) if hasattr(entry, "citations") else str(entry) for entry in value])
    return str(value)


def test_every_act_reads_alike(books: tuple[Book, Book]) -> None:
    before, now = books
    names = list(acts_of(now.catalogue))
    assert len(names) > 200
    assert [name for name in names if told(rule_on_act(before, name, {})) != told(rule_on_act(now, name, {}))] == []


@pytest.mark.parametrize("area", [Area.GENERAL_AREA, Area.BUNKER, Area.PUTTING_GREEN])
def test_every_thing_reads_alike(books: tuple[Book, Book], area: Area) -> None:
    before, now = books
    things = [row.removeprefix(FAMILY) for row in now.catalogue.rows if row.startswith(FAMILY)]
    assert len(things) > 70
    assert [name for name in things if told(rule_on_object(before, name, area, {})) != told(rule_on_object(now, name, area, {}))] == []


@pytest.mark.parametrize("form", list(Form))
def test_every_form_of_play_reads_alike(books: tuple[Book, Book], form: Form) -> None:
    assert told(describe_form(books[0], form)) == told(describe_form(books[1], form))


@pytest.mark.parametrize("signal", list(Signal))
def test_a_suspension_reads_alike(books: tuple[Book, Book], signal: Signal) -> None:
    first, second = (told(rule_on_suspension(book, signal, is_hole_begun=True)) for book in books)
    assert first == second


def test_a_search_may_take_the_minute_longer_that_the_edition_gives(books: tuple[Book, Book]) -> None:
    """The edition is invented: four minutes; Rules of Golf (January 2023), Rule 18.2a(1): three."""
    states = [[follow_search(book, read_timed(f"start@0,found@{found_s}")).state for found_s in (180, 181, 240, 241)] for book in books]
    found, late = SearchState.FOUND, SearchState.FOUND_TOO_LATE
    assert states == [[found, late, late, late], [found, found, found, late]]


def test_a_drop_is_guided(books: tuple[Book, Book]) -> None:
    """Rules of Golf (January 2023), Rule 14.3b(2): from knee height; neither edition says otherwise."""
    for book in books:
        assert "knee" in guide_drop(book, "penalty-area-lateral-red", ()).instruction


def test_a_question_finds_the_same_beside_it(books: tuple[Book, Book]) -> None:
    further = open_register(books[1].catalogue)
    for asked in ("ball in a pond", "moved a stone in a bunker"):
        first, second = ([found.entry.id for found in ask(register, asked).found] for register in (packaged_register(), further))
        assert first == second != []


def test_two_keys_and_no_more_differ(books: tuple[Book, Book]) -> None:
    assert sorted(entry.key for entry in compare_books(*books)) == ["relief.lateral.size", "search.limit_min"]
