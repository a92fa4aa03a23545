"""What each edition says, case by case: rulings on one ground, acts and single values with their source; and pins, which prove nothing.

The cases stand in one folder per edition. A case asks one thing and says what the answer must be; what it does not name is not looked at.
"""

from __future__ import annotations

import tomllib
from functools import lru_cache
from pathlib import Path
from typing import TypeAlias

import pytest

from marram.core.citations import is_a_source
from marram.core.terms import Club, Form, Hand
from marram.course.frame import Position
from marram.interchange.books.book_files import read_book
from marram.rulebook import Book, packaged_catalogue
from marram.rulebook.values import plain_value
from marram.rulings import Choice, Incident, Player, PreviousStroke, Ruling, rule_on
from marram.rulings.acts.acts import rule_on_act
from tests.support.edition_ground import edition_ground

Plain: TypeAlias = "str | bool | int | float | list[Plain] | dict[str, Plain]"
Case: TypeAlias = "dict[str, Plain]"
HERE = Path(__file__).parent
EDITIONS = tuple(edition for edition in packaged_catalogue().editions if (HERE / edition).is_dir())
"""An edition that follows another may have no cases of its own."""
GROUND = edition_ground()
PLAYER = Player(hand=Hand.RIGHT, longest_club_in=45, putter_in=35, club=Club.IRON)


def cases(kind: str) -> list[tuple[str, Case]]:
    """Every case of a kind, with its edition."""
    found = []
    for edition in EDITIONS:
        path = HERE / edition / f"{kind}.toml"
        found += [(edition, case) for case in tomllib.loads(path.read_text(encoding="utf-8"))["case"]]
    return found


def named(kind: str) -> list[object]:
    return [pytest.param(edition, case, id=f"{edition}-{case['says']}") for edition, case in cases(kind)]


@lru_cache
def book(edition: str, local_rule: str) -> Book:
    return read_book(f"{edition}+{local_rule}" if local_rule else edition)


def at(value: object) -> Position | None:
    if not isinstance(value, list):
        return None
    x_m, y_m = (float(part) for part in value if isinstance(part, int | float))
    return Position(x_m=x_m, y_m=y_m)


def ruled(edition: str, case: Case) -> Ruling:
    """The ruling on the case's incident."""
    return ruled_under(book(edition, str(case.get("local_rule", ""))), case)


def ruled_under(under: Book, case: Case) -> Ruling:
    """The ruling on the case's incident under a book."""
    facts = case.get("facts", {})
    assert isinstance(facts, dict)
    from_ = at(case.get("previous", [30, -250]))
    incident = Incident(
        hole=1,
        situation=str(case["situation"]),
        form=Form.STROKE_PLAY,
        ball=at(case.get("ball")),
        player=PLAYER,
        facts={name: value is True for name, value in facts.items()},
        crossed_at=at(case.get("crossed_at")),
        previous_stroke=PreviousStroke(at=from_, area=None),
        last_stroke_outside=PreviousStroke(at=from_, area=None),
        estimated_at=at(case.get("estimated_at")),
        choice=Choice(back_m=5),
    )
    return rule_on(incident, GROUND, under)


@pytest.mark.parametrize(("edition", "case"), named("rulings"))
def test_ruling(edition: str, case: Case) -> None:
    ruling = ruled(edition, case)
    options = {option.procedure: option for option in ruling.options}
    if "options" in case:
        assert list(options) == case["options"], ruling.not_available
    details, closed = case.get("is", {}), case.get("closed", [])
    assert isinstance(details, dict)
    assert isinstance(closed, list)
    for name, expected in details.items():
        assert isinstance(expected, dict)
        assert {member: getattr(options[name], member) for member in expected} == expected, name
    assert not set(options) & {str(name) for name in closed}
    assert case["source"]


@pytest.mark.parametrize(("edition", "case"), named("acts"))
def test_act(edition: str, case: Case) -> None:
    facts = case.get("facts", {})
    assert isinstance(facts, dict)
    found = rule_on_act(book(edition, ""), str(case["act"]), {name: value is True for name, value in facts.items()}).case
    assert found is not None
    expected = case["leads_to"]
    assert isinstance(expected, dict)
    assert {name: getattr(found, name) for name in expected} == expected
    assert case["source"]


def held(edition: str, case: Case) -> object:
    """What the rule data holds; lists of words without their order."""
    row, _, part = str(case["key"]).rpartition(".")
    cell = packaged_catalogue().rows[row].editions[edition]
    value = None if cell.absent else cell.values.get(part)
    return None if value is None else in_any_order(plain_value(value))


def in_any_order(value: object) -> object:
    return sorted(value) if isinstance(value, list) and all(isinstance(entry, str) for entry in value) else value


@pytest.mark.parametrize(("edition", "case"), named("values"))
def test_value(edition: str, case: Case) -> None:
    assert held(edition, case) == in_any_order(case.get("is"))
    assert is_a_source(str(case["source"]))


@pytest.mark.parametrize(("edition", "case"), named("pins"))
def test_pin(edition: str, case: Case) -> None:
    """No proof: the value stands as it stood, and names where the rule data has it from."""
    assert held(edition, case) == in_any_order(case.get("is"))
    assert case["held_from"]
    assert "source" not in case


def test_no_value_is_both_a_case_and_a_pin() -> None:
    both = [{(edition, str(case["key"])) for edition, case in cases(kind)} for kind in ("values", "pins")]
    assert not both[0] & both[1]
    assert [len(found) for found in both] == [len(cases("values")), len(cases("pins"))]


def test_the_table_of_the_readme_counts_what_is_there() -> None:
    lines = (HERE / "README.md").read_text(encoding="utf-8").splitlines()
    told = [[cell.strip().strip("`") for cell in line.strip("|").split("|")] for line in lines if line.startswith("| `")]
    kinds = ("rulings", "acts", "values", "pins")
    assert told == [[edition, *(str(sum(at == edition for at, _ in cases(kind))) for kind in kinds)] for edition in EDITIONS]
