"""The address of a case: what it states is what an incident file states, and it comes back unchanged."""

from __future__ import annotations

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from marram.core.errors import DataError
from marram.desk.pages.case_address import Address, address_of, address_of_incident, read_address
from marram.office.at_desk.incident_text import incident_text

NUMBERS = st.floats(-4000, 4000).map(lambda number: round(number, 2))


def members(query: str) -> dict[str, object]:
    return dict(read_address(query).case.incident)


def test_each_name_states_its_member() -> None:
    assert members("hole=7&situation=lost&x=1.5&y=-2,25&hand=left&longest=44&club=iron&form=match-play&back=8&reference=2") == {
        "hole": 7,
        "situation": "lost",
        "ball": {"x_m": 1.5, "y_m": -2.25},
        "player": {"hand": "left", "longest_club_in": 44.0, "club": "iron"},
        "form": "match-play",
        "choice": {"back_m": 8.0, "reference": 2},
    }
    assert members("before=30&right=3") == {"ball": {"before_green_m": 30.0, "right_m": 3.0}}
    assert members("lost=yes") == {"ball": {"lost": True}}


def test_what_was_met_is_told_by_kind_east_north_and_radius() -> None:
    assert members("met=temporary-water:1:2:3")["conditions"] == [{"kind": "temporary-water", "x_m": 1.0, "y_m": 2.0, "radius_m": 3.0}]
    assert read_address("met.kind=nest&met.x=1&met.y=2&met.radius=3").all("met") == ("nest:1:2:3",)
    assert read_address("met.kind=nest").all("met") == ()


def test_facts_are_yes_or_no_and_places() -> None:
    assert members("yes=a&yes=b&no=c&crossed_at.x=1&crossed_at.y=2&previous_stroke.area=bunker&flight=1:2:3:4")["facts"] == {
        "a": True,
        "b": True,
        "c": False,
        "crossed_at": {"x_m": 1.0, "y_m": 2.0},
        "previous_stroke": {"area": "bunker"},
        "flight": [{"x_m": 1.0, "y_m": 2.0}, {"x_m": 3.0, "y_m": 4.0}],
    }


def test_a_fact_is_settled_once() -> None:
    address = read_address("yes=a&no=b")
    assert address.settled("a", "no").pairs == [("no", "b"), ("no", "a")]
    assert address.settled("b", "yes").pairs == [("yes", "a"), ("yes", "b")]
    assert address.settled("a", "").pairs == [("no", "b")]
    assert address.settled("a", "yes").pairs == [("yes", "a"), ("no", "b")]


def test_events_stand_one_behind_another() -> None:
    assert read_address("events=start@0:00&event=found&at=2:40").first("events") == "start@0:00,found@2:40"
    assert read_address("event=start&at=0:00").first("events") == "start@0:00"
    assert read_address("events=right-way").first("events") == "right-way"


@pytest.mark.parametrize("query", ["nonsense=1", "x=1&x=2", "hole=7.5", "hole=-1", "flight=1:2:3", "x=" + "1" * 20_000])
def test_what_an_address_cannot_state_is_refused(query: str) -> None:
    with pytest.raises(DataError):
        members(query)


@given(NUMBERS, NUMBERS, st.sampled_from(["lost", "unplayable"]), st.lists(st.sampled_from(["fact_a", "fact_b"]), unique=True))
def test_an_address_comes_back_from_its_own_link_and_from_its_file(x_m: float, y_m: float, situation: str, facts: list[str]) -> None:
    address = address_of([("hole", "7"), ("situation", situation), ("x", f"{x_m}"), ("y", f"{y_m}"), *(("yes", fact) for fact in facts)])
    assert read_address(address.link("").partition("?")[2]) == address
    written = tomllib.loads(incident_text(address.case))
    assert written == dict(address.case.incident)
    assert address_of_incident(written) == address


@given(st.text(max_size=40), st.text(max_size=40))
def test_any_text_is_read_or_refused_and_never_falls(name: str, value: str) -> None:
    for pairs in ([(name, value)], [("words", value)], [("met", value)], [("flight", value)], [("x", value)], [("hole", value)]):
        try:
            address = address_of(pairs)
            assert isinstance(address, Address)
            _ = address.case
            assert tomllib.loads(incident_text(address.case)) is not None
        except DataError:
            continue
