"""How far recorders agree, told from their readings: against parts of Shrout and Fleiss worked by hand in test_rows_looked_at.py."""

from __future__ import annotations

from collections.abc import Sequence

from marram.evidence.clarity.recorders import recorder_remarks
from marram.evidence.weighing.odd_rows import query_rows
from marram.records.rows import Readings, TrialRecords


def remarks(*things: Sequence[float], names: Sequence[str] = ("A", "B"), outcome: str = "round_min") -> list[str]:
    readings = tuple(Readings(outcome=outcome, values=tuple(zip(names, values, strict=False))) for values in things)
    return list(recorder_remarks(TrialRecords(days=(), observations=(), readings=readings)))


def test_recorders_who_read_alike_are_told_so() -> None:
    (told,) = remarks((230, 231), (240, 240), (250, 249), (260, 261), (270, 270))
    assert told.startswith("Time of a group for the round: 5 were recorded by 2 people, 0.60 min apart on average; 100% of")
    assert "One recorder alone" not in told


def test_recorders_who_read_anything_are_told_so() -> None:
    (told,) = remarks((230, 270), (240, 235), (250, 231), (260, 249), (270, 240))
    assert "One recorder alone does not do" in told


def test_one_who_always_reads_higher_counts_against_agreement() -> None:
    """By 20 between things that lie 10 apart: between 500, nothing left over, between recorders 1000 of 5 things."""
    (told,) = remarks(*((230.0 + 10 * thing, 250.0 + 10 * thing) for thing in range(5)))
    assert f"{500 / (500 + 2 * 1000 / 5):.0%} of what one of them reads" in told
    assert "One recorder alone does not do" in told  # 56 % is less than three quarters


def test_things_with_people_of_their_own_are_taken_so() -> None:
    things = [(230.0 + 10 * thing, 250.0 + 10 * thing) for thing in range(5)]
    readings = tuple(
        Readings(outcome="round_min", values=((f"r{number}", first), (f"s{number}", second)))
        for number, (first, second) in enumerate(things)
    )
    (told,) = recorder_remarks(TrialRecords(days=(), observations=(), readings=readings))
    assert f"{(500 - 200) / (500 + 200):.0%} of what one of them reads" in told  # within things 1000 of 5


def test_the_order_of_the_rows_does_not_count() -> None:
    turned = tuple(
        Readings(outcome="round_min", values=tuple(sorted((("A", 230.0 + 10 * thing), ("B", 250.0 + 10 * thing)), reverse=bool(thing % 2))))
        for thing in range(5)
    )
    assert list(recorder_remarks(TrialRecords(days=(), observations=(), readings=turned))) == remarks(
        *((230.0 + 10 * thing, 250.0 + 10 * thing) for thing in range(5))
    )


def test_few_readings_and_readings_all_alike() -> None:
    assert remarks((1, 2), (3, 4), (5, 6), (7, 8)) == []
    (told,) = remarks(*((240, 240) for _ in range(5)))
    assert told.endswith("all readings are alike.")


def test_the_remark_stands_among_those_of_the_records() -> None:
    readings = tuple(Readings(outcome="round_min", values=(("A", 230.0 + one), ("B", 230.0 + one))) for one in range(6))
    records = query_rows(TrialRecords(days=(), observations=(), remarks=("before",), readings=readings), {})
    assert records.remarks[0] == "before"
    assert "6 were recorded by 2 people" in records.remarks[1]
