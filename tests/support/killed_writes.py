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
from collections import Counter

from marram.store.kept_rows import Hand, Kind, Writing
from marram.store.open_store import Store, open_store
from marram.store.verify import find_row_faults, verify_store

ROWS_AT_ONCE = 3


def write_on(store: Store, event: str, told: int) -> None:
    """Write rows, three in a transaction, and say on a pipe which are kept."""
    hand = Hand(who="Writer", clock=lambda: f"{time.time():.6f}")
    for place in range(10_000):
        given = [Writing(kind=Kind.CARD, key=f"{place}-{part}", content=f'{{"place":{place}}}') for part in range(ROWS_AT_ONCE)]
        store.append(event, hand, given)
        os.write(told, f"{place}\n".encode())


def kill_once(store: Store, event: str, chance: random.Random) -> list[int]:
    """Start a writer, kill it some moments after some of its rows are kept, and give back what it was told of."""
    read, told = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(read)
        try:
            write_on(store, event, told)
        finally:
            os._exit(1)
    os.close(told)
    with os.fdopen(read, encoding="utf-8") as pipe:
        lines = [pipe.readline() for _ in range(chance.randrange(4))]
        time.sleep(chance.uniform(0.0, 0.01))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        return [int(line) for line in (*lines, *pipe) if line.strip()]


def kill_many(place: str, times: int, seed: int) -> str:
    """Kill writers one after the other and see after each that what they were told of is there, whole, and that the store is sound.

    Each writer has an event of its own, so that what is looked through after a killing is what that writer wrote and not all before it; the
    whole store is looked through at the end.
    """
    chance = random.Random(seed)
    store = open_store(place, is_new=True)
    told_of = 0
    for number in range(times):
        event = f"killed-{number:05d}"
        acknowledged = kill_once(store, event, chance)
        rows = store.every_row(event)
        faults = list(find_row_faults(rows)) if rows else []
        assert faults == [], f"after {number + 1} killings: {faults}"
        parts = Counter(row.key.partition("-")[0] for row in rows)
        lost = [one for one in acknowledged if str(one) not in parts]
        assert lost == [], f"after {number + 1} killings these rows are lost: {lost}"
        halves = [key for key, count in parts.items() if count != ROWS_AT_ONCE]
        assert halves == [], f"written by half: {halves}"
        told_of += len(acknowledged)
    found = verify_store(store)
    assert found.is_sound, found
    return f"{times} killed, {told_of} told of"


if __name__ == "__main__":
    print(kill_many(sys.argv[1], int(sys.argv[2]), int(sys.argv[3])))
