"""Fractions of all combinations of changes: days in balance, and what is tangled with what."""

from __future__ import annotations

from itertools import combinations
from math import prod

import pytest

from marram.core.errors import StudyError
from marram.evidence.planning.fractions_of_days import Fraction, fraction, usual_fraction

USUAL = [(2, 4), (3, 8), (4, 8), (4, 16), (5, 8), (5, 16), (6, 8), (6, 16), (7, 8), (7, 16)]


def column(plan: Fraction, effect: str) -> list[int]:
    """The signs of an effect over the days: the product of those of its changes."""
    return [prod(1 if day["ABCDEFG".index(letter)] else -1 for letter in effect) for day in plan.days]


@pytest.mark.parametrize(("changes", "days"), USUAL)
def test_each_change_is_played_on_half_of_the_days_and_no_two_go_together(changes: int, days: int) -> None:
    plan = usual_fraction(changes, days)
    assert len(plan.days) == len(set(plan.days)) == days
    for letter in "ABCDEFG"[:changes]:
        assert sum(column(plan, letter)) == 0
    for first, second in combinations("ABCDEFG"[:changes], 2):
        assert sum(column(plan, first + second)) == 0


@pytest.mark.parametrize(("changes", "days"), USUAL)
def test_the_list_of_aliases_is_that_of_the_days_themselves(changes: int, days: int) -> None:
    """Two effects are tangled just where their signs agree on every day, or differ on every day."""
    plan = usual_fraction(changes, days)
    letters = "ABCDEFG"[:changes]
    effects = ["".join(chosen) for count in range(1, changes + 1) for chosen in combinations(letters, count)]
    for effect in letters:
        own = column(plan, effect)
        products = {other: sum(a * b for a, b in zip(own, column(plan, other), strict=True)) for other in effects if other != effect}
        tangled = {other for other, together in products.items() if abs(together) == days}
        assert set(plan.aliases_of(effect)) == tangled


def test_five_changes_on_eight_days() -> None:
    """Standard design table: I = ABD = ACE = BCDE."""
    plan = fraction(5, ["D=AB", "E=AC"])
    assert plan.words == ("ABD", "ACE", "BCDE")
    assert plan.resolution == 3
    assert plan.aliases_of("A") == ("BD", "CE", "ABCDE")
    assert usual_fraction(5, 16).resolution == 5
    assert usual_fraction(4, 8).resolution == 4
    assert usual_fraction(3, 8).words == ()


@pytest.mark.parametrize("generators", [["D=ABD", "E=AC"], ["D=AB"], ["E=AC", "D=AB"], ["DAB", "E=AC"], ["D=AZ", "E=AC"], ["D=", "E=A"]])
def test_generators_that_make_nothing_are_refused(generators: list[str]) -> None:
    with pytest.raises(StudyError):
        fraction(5, generators)


def test_what_has_no_usual_plan_is_refused_with_those_that_have() -> None:
    with pytest.raises(StudyError, match="no usual plan") as refused:
        usual_fraction(5, 12)
    assert "5 changes on 8" in str(refused.value)
