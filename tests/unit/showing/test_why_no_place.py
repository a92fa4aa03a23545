"""Why a procedure has no place: each reason is true of the course, and none speaks against what the ruling gives there."""

from __future__ import annotations

import tomllib
from functools import lru_cache
from pathlib import Path

import pytest
from shapely.geometry import box

from marram.core.terms import Club, FeatureKind, Hand, Mark
from marram.course.course import Course
from marram.interchange.books.book_files import read_book
from marram.interchange.courses.course_geojson import read_course
from marram.interchange.field.incident_file import read_incident
from marram.office.courses.find_places import PlacesFound, search_places
from marram.rulebook.book import Book
from marram.rulings.case.incident import Incident, Player
from marram.rulings.rule_on import rule_on
from marram.showing import choice
from marram.showing.choice import openings_in_turn
from marram.showing.incidents import wants_conditions
from marram.showing.openings import find_openings
from tests.support.ground import course, feature, pond

_ROOT = Path(__file__).parents[3]
_BOOKS = ("2016", "draft-2017", "2019", "2023", *(f"2023+{path}" for path in sorted((_ROOT / "examples/trials").glob("*.toml"))))
_PLAYER = Player(hand=Hand.RIGHT, longest_club_in=45.0, club=Club.IRON)
_FAR = feature("tarn", FeatureKind.PENALTY_AREA, box(200, -70, 230, -40), mark=Mark.RED, what="pond")
_FAR_PATH = feature("lane", FeatureKind.IMMOVABLE_OBSTRUCTION, box(200, -70, 203, -40), what="path")
_YELLOW = pond(Mark.YELLOW)
_NEAR = "within 60 m of the line of play of a hole that may be played there"


def _search(ground: Course, procedure: str, book: str = "2023") -> PlacesFound:
    return search_places(ground, procedure, (read_book(book),), player=_PLAYER, count=1)


@pytest.mark.parametrize(
    ("ground", "procedure", "says"),
    [
        (course(), "penalty-area-lateral-red", "Test Ground has no penalty area marked red or unmarked."),
        (course(_YELLOW), "penalty-area-lateral-red", "Test Ground has no penalty area marked red or unmarked."),
        (
            course(_FAR),
            "penalty-area-lateral-red",
            f"Test Ground has penalty areas marked red or unmarked, but no spot on their edges lies {_NEAR}, at least 3 m from the "
            "boundary and 1 m from other penalty areas.",
        ),
        (
            course(),
            "immovable-obstruction-teeing-area",
            "Test Ground has none of these: immovable obstruction. One met that day can be stated under [[conditions]].",
        ),
        (
            course(_FAR_PATH),
            "immovable-obstruction-teeing-area",
            f"Test Ground has none of these with a ball on the teeing area {_NEAR}: immovable obstruction. "
            "One met that day can be stated under [[conditions]].",
        ),
        (
            course(),
            "unplayable-in-bunker-outside",
            "No spot on a bunker was found on Test Ground: a hole needs a line of play, a green and a hole location, "
            f"and a spot lies {_NEAR}.",
        ),
    ],
)
def test_what_the_course_lacks_is_said_and_what_it_has_is_not_denied(ground: Course, procedure: str, says: str) -> None:
    found = _search(ground, procedure)
    assert found.places == ()
    assert found.why_none == says


def test_every_situation_that_opens_a_procedure_has_its_turn_and_things_in_the_way_come_last() -> None:
    openings = find_openings(course(), read_book("2023"), "penalty-area-back-on-line")
    turns = openings_in_turn(openings)
    assert {opening.case.incident.situation for turn in turns for opening in turn} == {o.case.incident.situation for o in openings}
    assert len(turns) > 3
    assert all(len({opening.case.incident.situation for opening in turn}) == 1 for turn in turns)
    about = openings_in_turn(find_openings(course(), read_book("2023"), "ground-condition-general-area"))
    assert len(about) == 1
    assert all(wants_conditions(opening) for opening in about[0])


def test_where_the_book_gives_something_else_it_is_named() -> None:
    """A ball lost in water in a bunker has the relief of the water, not that of an obstruction."""
    bunker = feature("sand", FeatureKind.BUNKER, box(-20, -30, -4, -18), holes=(1,))
    water = feature("puddle", FeatureKind.TEMPORARY_WATER, box(-14, -26, -9, -21))
    found = _search(course(bunker, water), "immovable-obstruction-bunker-free")
    assert found.places == ()
    assert "the ruling gives other relief there, at the first of them “Free relief" in found.why_none


@lru_cache
def _moor() -> Course:
    return read_course(_ROOT / "examples" / "courses" / "thimble-moor.geojson")


def _incidents() -> list[tuple[str, Incident]]:
    files = sorted((_ROOT / "examples" / "incidents").glob("*.toml"))
    facts = frozenset(read_book("2023").catalogue.facts)
    return [(path.stem, read_incident(path, _moor(), known_facts=facts)) for path in files]


def _given(book: Book) -> dict[str, list[str]]:
    """Every procedure that a book gives somewhere among the incidents that state nothing met that day, with where."""
    given: dict[str, list[str]] = {}
    for name, incident in _incidents():
        if incident.conditions:
            continue
        for option in rule_on(incident, _moor(), book).options:
            for procedure in {option.procedure, option.carried_out_as} - {""}:
                given.setdefault(procedure, []).append(name)
    return given


@pytest.mark.parametrize("name", [name if name == "2023" else pytest.param(name, marks=pytest.mark.long) for name in _BOOKS])
def test_no_reason_denies_what_the_ruling_gives_on_that_very_course(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    for most in ("TRIED_AT_MOST", "QUICK_AT_MOST"):  # a denial comes of no spot at all: a few are enough to see it
        monkeypatch.setattr(choice, most, 3)
    book = read_book(name)
    given = _given(book)
    assert len(given) >= 8
    for procedure, where in given.items():
        found = _search(_moor(), procedure, name)
        denies = found.why_none and not found.why_none.startswith(("None of the", "No situation opens"))
        assert not denies, (procedure, where, found.why_none)


def test_the_incidents_of_the_examples_are_read() -> None:
    files = list((_ROOT / "examples" / "incidents").glob("*.toml"))
    assert len(files) >= 10
    assert all("title" in tomllib.loads(path.read_text(encoding="utf-8")) for path in files)
