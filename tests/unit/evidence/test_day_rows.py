"""Days that stand in no pairs: how many values there should have been, and the ends that missing ones leave open."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from marram.evidence.designs.day_rows import by_day, filled_ends, missing_on_days
from marram.records.outcomes import outcomes
from marram.records.rows import Arm, Observation, TrialDay, TrialRecords


def days(*fields: str) -> tuple[TrialDay, ...]:
    """Days of one course, every second one under trial rules."""
    return tuple(
        TrialDay(
            day=f"d{place}",
            dated=date(2026, 4, 4),
            pair="",
            arm=list(Arm)[place % 2],
            course="Moor",
            facts=(("field", field),) if field else (),
        )
        for place, field in enumerate(fields)
    )


def rows(outcome: str, *counts: int) -> tuple[Observation, ...]:
    return tuple(
        Observation(day=f"d{day}", outcome=outcome, value=float(10 + row), group=f"g{day}.{row}")
        for day, count in enumerate(counts)
        for row in range(count)
    )


def shares(outcome: str, own: tuple[TrialDay, ...], *counts: int) -> tuple[float, float]:
    records = TrialRecords(days=own, observations=rows(outcome, *counts))
    found = missing_on_days(outcomes()[outcome], records.observations, records, lambda day: day.course)
    return found.share(Arm.TRIAL), found.share(Arm.ORDINARY)


def test_a_day_should_have_as_many_as_the_days_like_it() -> None:
    """Of groups 10, 10, 4 and 10 the third day lacks 6: of 14 of 20 on trial days 30 % are missing."""
    assert shares("round_min", days("", "", "", ""), 10, 10, 4, 10) == pytest.approx((0.3, 0.0))


def test_field_for_field_where_every_day_says_how_large_it_was() -> None:
    """Fields of 60, 60, 30 and 60 with 20, 20, 10 and 15 groups: one for each three players, so the last lacks 5 of 40."""
    assert shares("round_min", days("60", "60", "30", "60"), 20, 20, 10, 15) == pytest.approx((0.0, 5 / 40))


def test_half_of_the_days_thin_is_seen() -> None:
    assert shares("round_min", days("", "", "", ""), 2, 10, 2, 10) == pytest.approx((0.8, 0.0))


def test_what_nobody_counted_is_held_against_the_other_kind_of_day() -> None:
    """Trial days with 3 and 5 reliefs against 10 and 6: 8 of 16 on as many days are missing."""
    assert shares("relief_s", days("", "", "", ""), 3, 10, 5, 6) == pytest.approx((0.5, 0.0))


def test_ends_of_what_is_missing_by_hand() -> None:
    """A trial day with 20 and one missing, an ordinary day with 10 and 30: filled with 10 or 30 the difference is 15 - 20 or 25 - 20."""
    values = {"d0": [20.0], "d1": [10.0, 30.0]}
    entries = tuple(
        Observation(day=day, outcome="round_min", value=value, group=f"g{place}")
        for day, own in values.items()
        for place, value in enumerate(own)
    )
    records = TrialRecords(days=days("", ""), observations=entries)
    missing = missing_on_days(outcomes()["round_min"], entries, records, lambda day: day.course)
    assert dict(missing.by_day) == {"d0": 1.0, "d1": 0.0}
    ends = filled_ends(outcomes()["round_min"], by_day(entries), missing, {day.day: day.arm for day in records.days})
    assert ends is not None
    low, high = ends
    assert (low["d0"] - low["d1"], high["d0"] - high["d1"]) == pytest.approx((-5.0, 5.0))
    whole = replace(missing, by_day={"d0": 0.0, "d1": 0.0})
    assert filled_ends(outcomes()["round_min"], by_day(entries), whole, {}) is None
