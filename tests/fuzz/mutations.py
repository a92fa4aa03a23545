"""One seed, a random hand, one to four blows: bytes, words and the tree of a JSON file."""

from __future__ import annotations

import copy
import json
import re
from collections.abc import Callable, Sequence
from random import Random
from typing import Any, TypeAlias

from tests.fuzz.strange import HUGE, LUMPS, NUMBERS, TEXTS

Blow: TypeAlias = Callable[[Random, bytes], bytes]
_WORD = re.compile(r"[+-]?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?|\w+|\s+|[^\w\s]")
_NUMBER = re.compile(r"[+-]?\d+(?:\.\d+)?")
_MOST_BLOWS = 4
_ODD_VALUES: tuple[object, ...] = (
    None, True, False, 0, -1, 1.5, int(HUGE), -int(HUGE), float("nan"), float("inf"), -float("inf"), 1e308, 5e-324, "", "x", [], {}, [[]],
    [None], {"a": None}, [1, 2], ["x"], 2**63, *TEXTS[:24],
)  # fmt: skip


def _slice(random: Random, length: int, longest: int) -> slice:
    start = random.randrange(length + 1)
    return slice(start, min(length, start + random.randrange(1, longest)))


def _flip(random: Random, data: bytes) -> bytes:
    changed = bytearray(data)
    for _ in range(random.choice((1, 1, 2, 8))):
        changed[random.randrange(len(changed))] ^= 1 << random.randrange(8)
    return bytes(changed)


def _drop(random: Random, data: bytes) -> bytes:
    gone = _slice(random, len(data), random.choice((2, 16, 400)))
    return data[: gone.start] + data[gone.stop :]


def _repeat(random: Random, data: bytes) -> bytes:
    again = _slice(random, len(data), random.choice((8, 200)))
    return data[: again.stop] + data[again] * random.choice((1, 2, 50)) + data[again.stop :]


def _cut(random: Random, data: bytes) -> bytes:
    return data[: random.randrange(len(data))]


def _put_in(random: Random, data: bytes) -> bytes:
    place = random.randrange(len(data) + 1)
    lump = random.choice((random.randbytes(random.choice((1, 4, 60))), random.choice(TEXTS).encode("utf-8", "surrogatepass")))
    return data[:place] + lump + data[place:]


def _exchange(random: Random, data: bytes) -> bytes:
    first, second = sorted((_slice(random, len(data), 40), _slice(random, len(data), 40)), key=lambda part: part.start)
    if first.stop > second.start:
        return data
    return data[: first.start] + data[second] + data[first.stop : second.start] + data[first] + data[second.stop :]


BYTES: tuple[Blow, ...] = (_flip, _drop, _repeat, _cut, _put_in, _exchange)


def of_words(random: Random, data: bytes) -> bytes:
    """A word of a text is replaced, dropped, doubled, or takes the place of another; a number becomes a strange one."""
    words = _WORD.findall(data.decode("utf-8", "replace"))
    if not words:
        return data
    place, other = random.randrange(len(words)), random.randrange(len(words))
    numbers = [number for number, word in enumerate(words) if _NUMBER.fullmatch(word)]
    match random.randrange(7):
        case 0 | 1 if numbers:
            words[random.choice(numbers)] = random.choice(NUMBERS)
        case 2:
            words[place] = random.choice(TEXTS)
        case 3:
            words[place] = ""
        case 4:
            words[place], words[other] = words[other], words[place]
        case 5:
            words[place] += random.choice((words[place], words[other], random.choice(NUMBERS)))
        case _:
            words[place] = random.choice(LUMPS) if random.random() < 0.15 else words[other]
    return "".join(words).encode("utf-8", "surrogatepass")


def of_lines(random: Random, data: bytes) -> bytes:
    """A line is dropped, doubled, moved or comes many times."""
    lines = data.splitlines(keepends=True)
    if not lines:
        return data
    place, other = random.randrange(len(lines)), random.randrange(len(lines))
    match random.randrange(4):
        case 0:
            del lines[place]
        case 1:
            lines.insert(other, lines[place])
        case 2:
            lines[place], lines[other] = lines[other], lines[place]
        case _:
            lines[place:place] = [lines[place]] * random.choice((2, 60))
    return b"".join(lines)


def of_json(random: Random, data: bytes) -> bytes:
    """A value somewhere in a JSON file becomes another one: the file stays JSON, and the fault lies deeper."""
    try:
        tree = json.loads(data)
    except (ValueError, RecursionError):
        return data
    places = list(_places(tree))
    if not places:
        return data
    holder, key = random.choice(places)
    match random.randrange(6):
        case 0:
            del holder[key]
        case 1:
            other, other_key = random.choice(places)
            holder[key] = copy.deepcopy(other[other_key])
        case 2 if isinstance(holder[key], int | float):
            holder[key] *= random.choice((-1, 1000, 1e-9, 1.0001, 0))
        case 3 if isinstance(holder, list):
            holder[key:key] = [holder[key]] * random.choice((1, 3, 40))
        case _:
            holder[key] = random.choice(_ODD_VALUES)
    return json.dumps(tree, ensure_ascii=random.random() < 0.5).encode("utf-8", "surrogatepass")


def _places(tree: object) -> list[tuple[Any, Any]]:
    """Every holder of a value with the key or index under which it stands."""
    found: list[tuple[Any, Any]] = []
    left = [tree]
    while left:
        holder = left.pop()
        entries = list(holder.items()) if isinstance(holder, dict) else list(enumerate(holder)) if isinstance(holder, list) else []
        found += [(holder, key) for key, _ in entries]
        left += [value for _, value in entries]
    return found


def struck(random: Random, data: bytes, blows: Sequence[Blow]) -> bytes:
    """The seed after one to four blows."""
    for _ in range(random.randint(1, _MOST_BLOWS)):
        data = random.choice(blows)(random, data) if data else data
    return data


TEXT: tuple[Blow, ...] = (*BYTES, of_lines, of_lines, *([of_words] * 8))
JSON: tuple[Blow, ...] = (*TEXT, *([of_json] * 16))
