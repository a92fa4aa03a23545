"""A process that writes to a store is killed at a random moment, again and again: what it was told is kept must be kept.

`python -m tests.support.killed_writes STORE TIMES SEED` prints how many writers were killed and how many rows they were told of. It proves
crashes of the program, not of the power: what the system was given to write survives the program.
"""

from __future__ import annotations

import os
import random
import signal
import sys
import time
from pathlib import Path

from marram.store.kept_rows import Hand, Kind, Writing
from marram.store.open_store import Store, open_store
from marram.store.verify import verify_store

EVENT = "killed"
ROWS_AT_ONCE = 3


def write_on(store: Store, told: int, first: int) -> None:
    """Write rows, three in a transaction, and say on a pipe which are kept."""
    hand = Hand(who="Writer", clock=lambda: f"{time.time():.6f}")
    for place in range(first, first + 10_000):
        given = [Writing(kind=Kind.CARD, key=f"{place}-{part}", content=f'{{"place":{place}}}') for part in range(ROWS_AT_ONCE)]
        store.append(EVENT, hand, given)
        os.write(told, f"{place}\n".encode())


def kill_once(store: Store, first: int, chance: random.Random) -> list[int]:
    """Start a writer, kill it some moments after some of its rows are kept, and give back what it was told of."""
    read, told = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(read)
        try:
            write_on(store, told, first)
        finally:
            os._exit(1)
    os.close(told)
    with os.fdopen(read, encoding="utf-8") as pipe:
        lines = [pipe.readline() for _ in range(chance.randrange(4))]
        time.sleep(chance.uniform(0.0, 0.01))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        return [int(line) for line in (*lines, *pipe) if line.strip()]


def main() -> None:
    place, times, seed = Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3])
    chance = random.Random(seed)
    store = open_store(str(place), is_new=True)
    acknowledged: list[int] = []
    for number in range(times):
        acknowledged += kill_once(store, number * 10_000, chance)
        found = verify_store(store)
        assert found.is_sound, found
        kept = {row.key for row in store.every_row(EVENT)}
        lost = [one for one in acknowledged if not {f"{one}-{part}" for part in range(ROWS_AT_ONCE)} <= kept]
        assert lost == [], f"after {number + 1} killings these rows are lost: {lost}"
        by_place = [key.partition("-")[0] for key in kept]
        halves = [one for one in set(by_place) if by_place.count(one) != ROWS_AT_ONCE] if number == times - 1 else []
        assert halves == [], f"written by half: {halves}"
    print(f"{times} killed, {len(acknowledged)} told of")


if __name__ == "__main__":
    main()
