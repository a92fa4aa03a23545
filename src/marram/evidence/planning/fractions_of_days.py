"""Several changes over days by a fraction of all ways to combine them: which days play what, and what cannot be told from what.

Each day plays some of the changes and not the others. With a fraction of all combinations an effect is tangled with that of certain sets of
other changes together; the list of these is part of the plan, in the changes' own names.

Source: Box and Hunter, The 2^(k-p) fractional factorial designs (1961).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, product

from marram.core.errors import StudyError

MOST_CHANGES = 7
_LETTERS = "ABCDEFG"
_USUAL: Mapping[tuple[int, int], tuple[str, ...]] = {
    (2, 4): (),
    (3, 8): (),
    (4, 8): ("D=ABC",),
    (4, 16): (),
    (5, 8): ("D=AB", "E=AC"),
    (5, 16): ("E=ABCD",),
    (6, 8): ("D=AB", "E=AC", "F=BC"),
    (6, 16): ("E=ABC", "F=BCD"),
    (7, 8): ("D=AB", "E=AC", "F=BC", "G=ABC"),
    (7, 16): ("E=ABC", "F=BCD", "G=ACD"),
}
"""Usual generators by the number of changes and of days."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fraction:
    """A fraction of all combinations of changes.

    Attributes:
        changes: How many changes.
        generators: What makes the further changes out of the first ones, such as ``D=ABC``.
        words: What is the same on all days: each set of changes whose product never changes.
        days: For each day, which changes are played.
    """

    changes: int
    generators: tuple[str, ...]
    words: tuple[str, ...]
    days: tuple[tuple[bool, ...], ...]

    @property
    def resolution(self) -> int:
        """The length of the shortest word; one more than the number of changes where all combinations are played."""
        return min((len(word) for word in self.words), default=self.changes + 1)

    def aliases_of(self, effect: str) -> tuple[str, ...]:
        """The effects that cannot be told from one, the shortest first.

        Args:
            effect: Letters of one or more changes.
        """
        found = {_times(effect, word) for word in self.words}
        return tuple(sorted(found, key=lambda letters: (len(letters), letters)))


def folded(plan: Fraction) -> Fraction:
    """A fraction played again with every change turned round: no change then goes with a pair of others any more.

    Args:
        plan: The fraction; of all combinations there is nothing to turn round.

    Raises:
        StudyError: The days are all combinations already, or turning them round gives the same days again.
    """
    again = [tuple(not is_on for is_on in day) for day in plan.days]
    if set(again) & set(plan.days):
        raise StudyError("Turned round, the days are the same again.", where="fold_over", hint="Plan without it: it would free nothing.")
    words = tuple(word for word in plan.words if len(word) % 2 == 0)
    return Fraction(changes=plan.changes, generators=plan.generators, words=words, days=(*plan.days, *again))


def has_usual_fraction(changes: int, days: int) -> bool:
    """Whether there is a usual fraction for so many changes on so many days."""
    return (changes, days) in _USUAL


def usual_fraction(changes: int, days: int) -> Fraction:
    """The usual fraction for so many changes on so many days.

    Args:
        changes: How many changes, from two to seven.
        days: How many days: 4, 8 or 16.

    Raises:
        StudyError: There is none.
    """
    generators = _USUAL.get((changes, days))
    if generators is None:
        known = ", ".join(f"{count} changes on {number}" for count, number in _USUAL)
        often = next((f"Perhaps {changes} changes on {of} days, played {days // of} times. " for of in _of(changes) if days % of == 0), "")
        raise StudyError(f"{changes} changes on {days} days have no usual plan.", where="days", hint=f"{often}Known: {known}.")
    return fraction(changes, generators)


def _of(changes: int) -> list[int]:
    """Days of the usual fractions for so many changes, the most first."""
    return sorted((days for count, days in _USUAL if count == changes), reverse=True)


def fraction(changes: int, generators: Sequence[str]) -> Fraction:
    """A fraction by its generators.

    Args:
        changes: How many changes.
        generators: Such as ``D=AB``: change D is played on days on which A and B are both played or both not.

    Raises:
        StudyError: A generator cannot be read, or makes a change out of itself.
    """
    if not 1 <= changes <= MOST_CHANGES:
        raise StudyError(f"{changes} changes cannot be planned together.", where="changes", hint=f"Plan from 1 to {MOST_CHANGES}.")
    made = [_generator(text, changes) for text in generators]
    first = changes - len(made)
    if [letter for letter, _ in made] != list(_LETTERS[first:changes]):
        message = f"{', '.join(generators)} do not make the last of {changes} changes out of the first {first}."
        raise StudyError(message, where="generators", hint="Give one for each further change, in order, such as D=AB, E=AC.")
    alone = [_times(letter, factors) for letter, factors in made]
    words = {_product(chosen) for count in range(1, len(alone) + 1) for chosen in combinations(alone, count)}
    days = [_day(signs, made) for signs in product((False, True), repeat=first)]
    return Fraction(
        changes=changes,
        generators=tuple(generators),
        words=tuple(sorted(words, key=lambda word: (len(word), word))),
        days=tuple(days),
    )


def _generator(text: str, changes: int) -> tuple[str, str]:
    letter, _, factors = text.replace(" ", "").partition("=")
    known = _LETTERS[:changes]
    if len(letter) != 1 or letter not in known or not factors or set(factors) - set(known) or letter in factors:
        raise StudyError(f"{text!r} makes no change out of others.", where="generators", hint="Give such as D=ABC.")
    return letter, factors


def _day(signs: Sequence[bool], made: Sequence[tuple[str, str]]) -> tuple[bool, ...]:
    """A day: the first changes as given, each further one played where an even number of its factors is not."""
    played = dict(zip(_LETTERS, signs, strict=False))
    for letter, factors in made:
        played[letter] = sum(not played[factor] for factor in factors) % 2 == 0
    return tuple(played.values())


def _times(first: str, second: str) -> str:
    """The product of two effects: what stands in both cancels."""
    return "".join(sorted(set(first) ^ set(second)))


def _product(effects: Sequence[str]) -> str:
    found = ""
    for effect in effects:
        found = _times(found, effect)
    return found
