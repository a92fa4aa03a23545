"""Play many days, some at a time and on several processors: what comes out is the same for any number of workers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from multiprocessing import get_context

from marram.core.errors import StudyError
from marram.core.field_names import Field
from marram.core.work import Work
from marram.simulation.campaign.arm_played import ArmPlayed, joined, play_arm
from marram.simulation.campaign.drawn_days import draw_days
from marram.simulation.campaign.field_of_day import FieldOfDay
from marram.simulation.campaign.what_happens import Rules

AT_ONCE = 50
"""Days that are played together; it fixes no result, and fits a processor's memory."""
MOST_WORKERS, MOST_DAYS = 64, 20_000


@dataclass(frozen=True, slots=True, kw_only=True)
class ArmAsked:
    """Days that are asked for.

    Attributes:
        rules: The rules.
        field: Holes and groups.
        seed: Seed.
        days: How many days.
    """

    rules: Rules
    field: FieldOfDay
    seed: int
    days: int


def play_arms(arms: Mapping[str, ArmAsked], *, workers: int = 1, work: Work | None = None) -> Mapping[str, ArmPlayed]:
    """Play days under several sets of rules.

    Args:
        arms: What is asked for, by name.
        workers: Processes that share the days; a worker that is killed is replaced by doing its days here.
        work: Told how far it is.

    Raises:
        StudyError: So many workers cannot be had.
        Stopped: It was stopped.
    """
    if not 1 <= workers <= MOST_WORKERS:
        raise StudyError(f"{workers} workers cannot be had.", field=Field.WORKERS, hint=f"Give 1 to {MOST_WORKERS}.")
    work = work or Work()
    most = max((arm.days for arm in arms.values()), default=0)
    chunks = [range(first, min(first + AT_ONCE, most)) for first in range(0, most, AT_ONCE)]
    parts = _here(arms, chunks, work) if workers == 1 else _shared(arms, chunks, workers, work)
    return {name: joined([part[name] for part in parts if name in part]) for name in arms}


def _here(arms: Mapping[str, ArmAsked], chunks: Sequence[range], work: Work) -> list[Mapping[str, ArmPlayed]]:
    parts = []
    for number, chunk in enumerate(chunks):
        work.tell("playing days", number, len(chunks))
        parts.append(play_chunk(arms, chunk))
    return parts


def _shared(arms: Mapping[str, ArmAsked], chunks: Sequence[range], workers: int, work: Work) -> list[Mapping[str, ArmPlayed]]:
    with ProcessPoolExecutor(max_workers=min(workers, len(chunks) or 1), mp_context=get_context("spawn")) as pool:
        asked = [pool.submit(play_chunk, arms, chunk) for chunk in chunks]
        parts = []
        for number, (part, chunk) in enumerate(zip(asked, chunks, strict=True)):
            work.tell("playing days", number, len(chunks))
            parts.append(_part_of(part, arms, chunk))
        return parts


def _part_of(part: Future[Mapping[str, ArmPlayed]], arms: Mapping[str, ArmAsked], chunk: range) -> Mapping[str, ArmPlayed]:
    """What a worker made of some days; what a killed one left undone is done here."""
    try:
        return part.result()
    except BrokenProcessPool:
        return play_chunk(arms, chunk)


def play_chunk(arms: Mapping[str, ArmAsked], chunk: range) -> Mapping[str, ArmPlayed]:
    """Play some days under every set of rules that asks for them; days with equal seed and field are drawn once.

    Args:
        arms: What is asked for, by name.
        chunk: Numbers of the days.
    """
    drawn, found = {}, {}
    for name, arm in arms.items():
        days = [day for day in chunk if day < arm.days]
        if not days:
            continue
        key = (arm.seed, id(arm.field), len(days))
        if key not in drawn:
            drawn[key] = draw_days(arm.field, arm.seed, days)
        found[name] = play_arm(arm.rules, arm.field, drawn[key])
    return found
