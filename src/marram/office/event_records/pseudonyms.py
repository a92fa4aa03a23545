"""Names that leave a store: each player and each recorder of a trial has a name without meaning, whose key stays in the store."""

from __future__ import annotations

import secrets
from collections.abc import Callable, Iterable, Mapping, Sequence

from marram.core.words import plain_name
from marram.store.contents import read_back, written
from marram.store.kept_rows import BESIDE_EVENTS, Hand, Kind, Writing
from marram.store.open_store import Store, standing

_KEYS = f"{BESIDE_EVENTS}pseudonyms"
_LETTERS = {"player": "p", "recorder": "w"}
_FEWEST, _ROOM = 1_000, 20
"""So many numbers at least there are to draw from, and so many for each name."""


def pseudonyms_of(
    store: Store, hand: Hand, trial: str, names: Mapping[str, Iterable[str]], draw: Callable[[int], int] = secrets.randbelow
) -> Mapping[tuple[str, str], str]:
    """The name without meaning of each player and recorder; who has none yet is drawn one, and it is kept.

    The number is drawn, so that neither the alphabet nor the order of entry tells who is meant.

    Args:
        store: The store.
        hand: Who does it.
        trial: Title of the trial: in another trial the same player has another name.
        names: Names of the players and recorders, by ``player`` and ``recorder``.
        draw: Draws a number below another.

    Returns:
        The names without meaning, by kind and by what tells names apart.
    """
    rows = store.every_row(_KEYS)
    known = {row.key: read_back(row.content, str, f"row {row.number}") for row in standing(rows)}
    wanted = {
        (kind, plain_name(name)): f"{plain_name(trial)}|{kind}|{plain_name(name)}"
        for kind, given in names.items()
        for name in sorted(set(given))
        if name
    }
    new = [(key, place) for key, place in wanted.items() if place not in known]
    taken = {name for key, name in known.items() if key.startswith(f"{plain_name(trial)}|")}
    drawn = _drawn([kind for (kind, _), _ in new], taken, len(taken) + len(new), draw)
    writings = [Writing(kind=Kind.PSEUDONYM, key=place, content=written(name)) for (_, place), name in zip(new, drawn, strict=True)]
    if writings:
        store.append(_KEYS, hand, writings, seen=len(rows))
    given_now = {place: name for (_, place), name in zip(new, drawn, strict=True)}
    return {key: known.get(place) or given_now[place] for key, place in wanted.items()}


def _drawn(kinds: Sequence[str], taken: Iterable[str], names: int, draw: Callable[[int], int]) -> list[str]:
    """A name for each kind, none of them taken."""
    used = set(taken)
    numbers = max(_FEWEST, names * _ROOM)
    width = len(str(numbers - 1))
    found: list[str] = []
    for kind in kinds:
        name = ""
        while not name or name in used:
            name = f"{_LETTERS[kind]}{draw(numbers):0{width}d}"
        used.add(name)
        found.append(name)
    return found
