"""What an event needs besides the terms of a competition: read by one reader, every fault in one pass."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest

from marram.core.errors import CardError
from marram.events.event_terms import Division, EventTerms, Starting, Way
from marram.interchange.cards.competition_files import read_competition
from marram.interchange.cards.event_terms_file import read_terms_text
from marram.interchange.tables.table_rows import Faults

TEE = '[[tee]]\nname = "white"\npar = [4, 4, 3, 5, 4, 4, 3, 4, 5, 4, 3, 4, 5, 4, 4, 3, 5, 4]\n'
HEAD = 'title = "Medal"\nform = "stroke-play"\n'


def read(text: str) -> tuple[EventTerms | None, list[str]]:
    faults = Faults(where="terms.toml", error=CardError, hint="")
    return read_terms_text(HEAD + text + TEE, "terms.toml", faults), faults.told


def sound(text: str) -> EventTerms:
    terms, faults = read(text)
    assert faults == [] and terms is not None
    return terms


def test_terms_without_an_event_are_terms_of_an_event_too() -> None:
    terms = sound("")
    assert (terms.day, terms.book, terms.course, terms.starting, terms.divisions) == (None, "", "", None, ())


def test_every_member_is_read() -> None:
    terms = sound(
        'day = 2026-06-13\nbook = "2019"\ncourse = "Thimble Moor"\n'
        '[start]\nfirst = "08:05"\ninterval_min = 9\ngroup_size = 4\nholes = [10, 1]\ngap_after = 7\n'
        '[[division]]\nname = "A"\nindex_from = "+5"\nindex_to = 12.4\n[[division]]\nname = "B"\ntees = ["white"]\n'
    )
    assert (terms.day, terms.book, terms.course) == (date(2026, 6, 13), "2019", "Thimble Moor")
    assert terms.starting == Starting(first_min=485, interval_min=9, group_size=4, holes=(10, 1), way=Way.TIMES, gap_after=7)
    assert terms.divisions == (
        Division(name="A", least_index=Fraction(-5), most_index=Fraction(124, 10)),
        Division(name="B", tees=("white",)),
    )


def test_what_is_left_out_is_usual() -> None:
    assert sound("[start]\nfirst = 07:30:00\n").starting == Starting(first_min=450, interval_min=10, group_size=3, holes=(1,))
    shotgun = sound('[start]\nfirst = "9.00"\nway = "shotgun"\n').starting
    assert shotgun is not None and shotgun.holes == tuple(range(1, 19)) and shotgun.first_min == 540


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ('day = "13 June"\n', "day: '13 June'; expected a date"),
        ("day = 2026-06-13T08:00:00\n", "day: "),
        ("book = 2023\n", "book: 2023 is no text"),
        ("start = 8\n", "start: a table [start] is expected"),
        ("[start]\n", "start.first: a time is needed"),
        ('[start]\nfirst = "24:00"\n', "start.first: '24:00' is no time of day"),
        ('[start]\nfirst = "08:00"\nfrist = 1\n', "start.frist: there is no such member; is first meant?"),
        ('[start]\nfirst = "08:00"\ngroup_size = 5\n', "start.group_size: 5; expected a whole number from 1 to 4"),
        ('[start]\nfirst = "08:00"\ninterval_min = 0\n', "start.interval_min: 0"),
        ('[start]\nfirst = "08:00"\nholes = [19]\n', "start.holes: [19]; expected different holes from 1 to 18"),
        ('[start]\nfirst = "08:00"\nholes = [1, 1]\n', "start.holes: [1, 1]"),
        ('[start]\nfirst = "08:00"\nholes = [1, 5, 10]\n', "start.holes: groups start by times from one hole or two"),
        ('[start]\nfirst = "08:00"\nway = "cannon"\n', "start.way: 'cannon' is not known"),
        ("[[division]]\nindex_to = 12\n", "division 1, name: a name is needed"),
        ('[[division]]\nname = "A"\nindex_from = 13\nindex_to = 12\n', "division 1: index_from is above index_to"),
        ('[[division]]\nname = "A"\nindex_to = 60\n', "division 1, index_to: 60; expected a Handicap Index"),
        ('[[division]]\nname = "A"\nindex_to = -2\n', "division 1, index_to: "),
        ('[[division]]\nname = "A"\ntees = ["blue"]\n', "division 1, tees: ['blue']; expected tees of the terms: white"),
        ('[[division]]\nname = "A"\n[[division]]\nname = "a"\n', "division: two divisions are called a"),
        ("division = 3\n", "division: tables [[division]] are expected"),
    ],
)
def test_each_fault_has_its_place(text: str, fault: str) -> None:
    _, faults = read(text)
    assert len(faults) == 1 and faults[0].startswith(fault)


def test_scores_are_read_by_the_same_reader(tmp_path: Path) -> None:
    (tmp_path / "terms.toml").write_text(HEAD + '[start]\nfirst = "late"\n' + TEE, encoding="utf-8")
    holes = ",".join(str(hole) for hole in range(1, 19))
    (tmp_path / "cards.csv").write_text(f"player,{holes}\nAster,{','.join(['4'] * 18)}\n", encoding="utf-8")
    with pytest.raises(CardError, match=r"start\.first: 'late' is no time of day"):
        read_competition(tmp_path / "cards.csv", tmp_path / "terms.toml")
