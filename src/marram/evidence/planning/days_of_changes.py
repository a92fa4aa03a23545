"""Which changes are played on which day: letters given so that what touches the same is told apart, days in blocks, drawn in order."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from itertools import combinations, permutations
from math import prod, sqrt

from marram.core.errors import StudyError
from marram.evidence.fitting.factor_effects import LETTERS
from marram.evidence.planning.fractions_of_days import Fraction
from marram.evidence.planning.units_plan import Precision

Meeting = Collection[frozenset[int]]
"""Pairs of changes, by number, that touch the same situation."""
_FEWEST_TOGETHER = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class DayOfChanges:
    """A day of the plan.

    Attributes:
        day: Its name, in the order of play: ``d01``, ``d02`` and on.
        block: Name of the block of days that follow each other.
        on: Numbers of the changes that are played; none on an ordinary day.
    """

    day: str
    block: str
    on: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Alias:
    """What cannot be told from a change.

    Attributes:
        change: Number of the change.
        pairs: Pairs of changes whose doing more together than each alone would look the same.
        meeting: Those of the pairs that touch the same situation, so that they may well do so.
        larger: How many sets of three changes or more would look the same too.
    """

    change: int
    pairs: tuple[tuple[int, ...], ...]
    meeting: tuple[tuple[int, ...], ...]
    larger: int


def give_letters(changes: Sequence[int], plan: Fraction, meeting: Meeting = ()) -> Mapping[str, int]:
    """Which change is which letter, so that no pair that touches the same goes with a change where that can be had.

    Args:
        changes: Numbers of the changes.
        plan: The fraction.
        meeting: Pairs that touch the same situation.

    Raises:
        StudyError: The fraction is for another number of changes.
    """
    if len(changes) != plan.changes:
        raise StudyError(f"The fraction is for {plan.changes} changes, and these are {len(changes)}.", where="changes")
    letters = LETTERS[: plan.changes]
    spoiled = {pair for letter in letters for pair in plan.aliases_of(letter) if len(pair) == 2}
    tangled = {"".join(pair) for pair in combinations(letters, 2) if any(len(other) == 2 for other in plan.aliases_of("".join(pair)))}

    def cost(order: tuple[int, ...]) -> tuple[int, int]:
        of = dict(zip(letters, order, strict=True))
        met = [pair for pair in map("".join, combinations(letters, 2)) if frozenset(of[letter] for letter in pair) in meeting]
        return sum(pair in spoiled for pair in met), sum(pair in tangled for pair in met)

    best = min(permutations(changes), key=cost) if meeting else tuple(changes)
    return dict(zip(letters, best, strict=True))


def aliases_told(plan: Fraction, letters: Mapping[str, int], meeting: Meeting = ()) -> tuple[Alias, ...]:
    """What cannot be told from each change, by the numbers of the changes, in their order."""
    found = []
    for letter, change in letters.items():
        others = plan.aliases_of(letter)
        pairs = tuple(sorted(tuple(sorted(letters[one] for one in other)) for other in others if len(other) == 2))
        found.append(
            Alias(
                change=change,
                pairs=pairs,
                meeting=tuple(pair for pair in pairs if frozenset(pair) in meeting),
                larger=sum(len(other) > 2 for other in others),
            )
        )
    return tuple(sorted(found, key=lambda alias: alias.change))


def tangled_pairs(plan: Fraction, letters: Mapping[str, int]) -> tuple[tuple[tuple[int, ...], ...], ...]:
    """Pairs of changes that cannot be told from other pairs, each lot once."""
    found = set()
    for pair in map("".join, combinations(letters, 2)):
        lot = [pair, *(other for other in plan.aliases_of(pair) if len(other) == 2)]
        if len(lot) > 1 and not any(len(other) == 1 for other in plan.aliases_of(pair)):
            found.add(tuple(sorted(tuple(sorted(letters[one] for one in other)) for other in lot)))
    return tuple(sorted(found))


def draw_days(plan: Fraction, letters: Mapping[str, int], *, times: int, seed: str) -> tuple[DayOfChanges, ...]:
    """Draw the order of the days inside each block, and of the blocks.

    The order hangs on the seed and the names of block and day alone.

    Args:
        plan: The fraction.
        letters: Which change is which letter.
        times: How often the whole fraction is played.
        seed: Text from which it is drawn.

    Raises:
        StudyError: The seed is empty, or it is to be played less than once.
    """
    if not seed.strip():
        raise StudyError("The draw has no seed.", where="plan", hint="Write down a text that nobody can guess, and keep it closed.")
    if times < 1:
        raise StudyError(f"Days cannot be played {times} times.", where="times", hint="Give 1 or more.")
    found: list[DayOfChanges] = []
    for time in range(1, times + 1):
        for block in sorted(_blocks(plan), key=lambda days: _drawn(seed, f"block\n{time}\n{days[0]}")):
            name = f"b{len({day.block for day in found}) + 1:02d}"
            for number in sorted(block, key=lambda number: _drawn(seed, f"day\n{time}\n{number}")):
                on = tuple(sorted(change for change, is_on in zip(letters.values(), plan.days[number], strict=True) if is_on))
                found.append(DayOfChanges(day=f"d{len(found) + 1:02d}", block=name, on=on))
    return tuple(found)


def precision_of_changes(plan: Fraction, times: int) -> Precision:
    """How precisely the days tell the effect of each change.

    An effect is the mean of half of the days less that of the other half, and a day spreads by a pilot's standard deviation of the
    difference of two days over the root of two.
    """
    days = len(plan.days) * times
    return Precision(error=sqrt(2 / days), freedom=freedom_of(plan, times), units=days, fewest=days // 2, sd_of_a_lot=sqrt(0.5))


def freedom_of(plan: Fraction, times: int) -> int:
    """How many degrees of freedom are left to see the spread by, if no day is lost."""
    groups = list(_groups(plan))
    kept = sum(min(map(len, group)) < _FEWEST_TOGETHER for group in groups)
    return len(plan.days) * times - times * len(_blocks(plan)) - kept


def _drawn(seed: str, name: str) -> bytes:
    return sha256(f"draw\n{seed}\n{name}".encode()).digest()


def _blocks(plan: Fraction) -> list[list[int]]:
    """Days that follow each other: two halves by what only three changes or more do together, where there is such; else all."""
    spare = next((group[0] for group in _groups(plan) if min(map(len, group)) >= _FEWEST_TOGETHER), None)
    if spare is None:
        return [list(range(len(plan.days)))]
    signs = [prod(1 if day[LETTERS.index(letter)] else -1 for letter in spare) for day in plan.days]
    return [[number for number, own in enumerate(signs) if own == sign] for sign in (-1, 1)]


def _groups(plan: Fraction) -> Iterator[list[str]]:
    """Effects that cannot be told from each other, each lot once, the shortest of a lot first."""
    seen: set[str] = set()
    letters = LETTERS[: plan.changes]
    for effect in ("".join(chosen) for count in range(1, plan.changes + 1) for chosen in combinations(letters, count)):
        if effect not in seen and effect not in plan.words:
            group = sorted([effect, *plan.aliases_of(effect)], key=lambda other: (len(other), other))
            seen.update(group)
            yield group
