"""Who rules what under which text, and in which order: drawn from a seed, so that neither hard incidents nor habit sit on one side."""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from hashlib import sha256

from marram.core.errors import StudyError
from marram.evidence.clarity.exercise import FEWEST_OFFICIALS, Wording


@dataclass(frozen=True, slots=True, kw_only=True)
class Assigned:
    """One thing to be done by one person.

    Attributes:
        person: Whoever does it.
        place: Its place in that person's order, from 1.
        item: Name of the incident or the task.
        wording: Under which text.
    """

    person: str
    place: int
    item: str
    wording: Wording


def assign_incidents(incidents: Sequence[str], officials: int, seed: str) -> tuple[Assigned, ...]:
    """Each official rules each incident once, half of them under the present text and half under the draft, drawn incident by incident.

    Args:
        incidents: Names of the incidents.
        officials: How many officials.
        seed: Text from which it is drawn.

    Raises:
        StudyError: There are too few officials, no incident, or one is named twice; or the seed is empty.
    """
    least = 2 * FEWEST_OFFICIALS
    if officials < least:
        message = f"{officials} officials cannot be split over two texts: each incident needs {FEWEST_OFFICIALS} under each."
        raise StudyError(message, where="officials", hint=f"Ask at least {least}.")
    _check(incidents, seed)
    names = _names("o", officials)
    under: dict[tuple[str, str], Wording] = {}
    for number, incident in enumerate(incidents):
        drawn = _drawn(seed, f"text\n{incident}").sample(names, officials)
        # Of an odd number the odd one goes to either text in turn.
        half = officials // 2 + (officials % 2) * (number % 2)
        under |= {(name, incident): Wording.DRAFT if place < half else Wording.PRESENT for place, name in enumerate(drawn)}
    return tuple(_in_order(names, incidents, seed, lambda name, incident: (under[name, incident],)))


def assign_tasks(tasks: Sequence[str], players: int, seed: str) -> tuple[Assigned, ...]:
    """Each player does each task under both texts; which comes first is drawn for each player and task, half and half.

    Args:
        tasks: Names of the tasks.
        players: How many players.
        seed: Text from which it is drawn.

    Raises:
        StudyError: There are fewer than two players, no task, or one is named twice; or the seed is empty.
    """
    if players < 2:
        raise StudyError(f"{players} player cannot be compared.", where="players", hint="Ask at least six, better twelve.")
    _check(tasks, seed)
    names = _names("p", players)
    first: dict[tuple[str, str], Wording] = {}
    for task in tasks:
        drawn = _drawn(seed, f"first\n{task}").sample(names, players)
        first |= {(name, task): Wording.DRAFT if place < players // 2 else Wording.PRESENT for place, name in enumerate(drawn)}

    def both(name: str, task: str) -> tuple[Wording, ...]:
        start = first[name, task]
        return (start, Wording.PRESENT if start is Wording.DRAFT else Wording.DRAFT)

    return tuple(_in_order(names, tasks, seed, both))


def _in_order(names: Sequence[str], items: Sequence[str], seed: str, wordings: Callable[[str, str], tuple[Wording, ...]]) -> list[Assigned]:
    found = []
    for name in names:
        order = _drawn(seed, f"order\n{name}").sample(list(items), len(items))
        done = [(item, wording) for item in order for wording in wordings(name, item)]
        found += [Assigned(person=name, place=place, item=item, wording=wording) for place, (item, wording) in enumerate(done, start=1)]
    return found


def _names(letter: str, count: int) -> list[str]:
    return [f"{letter}{number:02d}" for number in range(1, count + 1)]


def _drawn(seed: str, what: str) -> random.Random:
    return random.Random(sha256(f"exercise\n{seed}\n{what}".encode()).digest())


def _check(items: Sequence[str], seed: str) -> None:
    if not seed.strip():
        raise StudyError("The draw has no seed.", where="seed", hint="Write down a text that nobody can guess.")
    if not items or len(set(items)) < len(items):
        raise StudyError("There is nothing to do, or it is named twice.", where="exercise", hint="Give each a name of its own.")
