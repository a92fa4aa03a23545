"""The lots of units: which groups of a day play under trial rules, or first under them, so that half of them do, from a committed seed."""

from __future__ import annotations

from collections.abc import Sequence
from hashlib import sha256

from marram.core.errors import StudyError
from marram.evidence.plan import draw_pairs
from marram.records.rows import Arm


def draw_halves(names: Sequence[str], block: str, seed: str) -> dict[str, Arm]:
    """Draw one half of the units of a block for the trial rules; of an odd number the coin says which half is larger.

    The lot of a unit hangs on the seed, the block and its name alone, so another block does not turn it.

    Args:
        names: Names of the units, each once.
        block: Name of the day or wave that they belong to.
        seed: The seed.

    Raises:
        StudyError: The seed is empty, or a unit is named twice.
    """
    if not seed.strip():
        raise StudyError("The lot has no seed.", where="plan", hint="Write down a text that nobody can guess, and keep it closed.")
    if len(set(names)) < len(names):
        raise StudyError("A unit is named twice.", where="plan", hint="Give each its own name.")
    lots = sorted(names, key=lambda name: sha256(f"lot\n{seed}\n{block}\n{name}".encode()).digest())
    extra = sha256(f"odd\n{seed}\n{block}".encode()).digest()[0] & 1
    half = (len(names) + extra * (len(names) % 2)) // 2
    return {name: Arm.TRIAL if lots.index(name) < half else Arm.ORDINARY for name in names}


def draw_orders(events: Sequence[str], seed: str) -> dict[str, tuple[Arm, Arm]]:
    """For each event of two days, under which rules each day's half of the field plays its first round: one under each.

    Args:
        events: Names of the events.
        seed: The seed.
    """
    return {drawn.pair: (drawn.first, drawn.second) for drawn in draw_pairs(events, seed)}
