"""A plan of paired days as it is filled in on a form: what it asks, every fault beside its field, and the plan in words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from msgspec import UNSET

from marram.office.trials.designs.known_designs import plan_by_design
from marram.office.trials.designs.trial_design import AskedPlan
from marram.office.trials.plan_words import called, changes_told, effect_words, guard_words, needed_words, wanted_words
from marram.office.trials.planned_trial import PlannedChange, PlannedTrial, Spread
from marram.records.outcomes import Outcome, outcomes
from marram.rulebook.book import Book
from marram.rulebook.overlays.overlay import Overlay

_MOST_PAIRS, _MOST_PLAYERS, _MOST_LOST = 500, 500, 90.0


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledPlan:
    """What stands in the fields of a plan, as it was typed.

    Attributes:
        pairs: Pairs of days.
        seed: Text from which the coin is thrown.
        players: Players in the field of a day.
        lost_pct: Pairs of a hundred that are expected to be lost.
        spreads: Standard deviation of the difference of two days, by outcome.
        left_out: Changes that days on the course are not to judge.
    """

    pairs: str = "10"
    seed: str = ""
    players: str = "75"
    lost_pct: str = "0"
    spreads: Mapping[str, str]
    left_out: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlookTold:
    """How the season may end for one supposed effect, in per cent of seasons."""

    supposed: str
    did_pct: int
    mixed_pct: int
    did_not_pct: int
    open_pct: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangePlanned:
    """What a plan says of one change.

    Attributes:
        number: Its number.
        told: The change in a sentence.
        judged_by: What judges it.
        lines: What the plan can find of it, a sentence each.
        outlook: How the season may end; empty where days do not judge it.
        guards: What it must not make worse.
    """

    number: int
    told: str
    judged_by: str
    lines: tuple[str, ...]
    outlook: tuple[OutlookTold, ...]
    guards: tuple[str, ...]


def outcomes_planned(trial: Overlay) -> tuple[Outcome, ...]:
    """Outcomes by which the changes of a trial are judged, whose spread a plan asks for: those that are to show it first."""
    expected = [change.expects.outcome for change in trial.changes if change.expects is not None]
    guarded = [guard.outcome for change in trial.changes for guard in change.guards]
    return tuple(outcomes()[name] for name in dict.fromkeys((*expected, *guarded)))


def read_plan_filled(trial: Overlay, filled: FilledPlan) -> tuple[AskedPlan | None, Spread, dict[str, str]]:
    """Read a filled plan.

    Args:
        trial: The trial.
        filled: What stands in the fields.

    Returns:
        What is asked, None where something of it cannot be read; the spread; and what is wrong, by field.
    """
    faults: dict[str, str] = {}
    pairs = _whole("pairs", filled.pairs, _MOST_PAIRS, faults)
    players = _whole("players", filled.players, _MOST_PLAYERS, faults)
    lost_pct = _number("lost", filled.lost_pct or "0", faults)
    if "lost" not in faults and lost_pct > _MOST_LOST:
        faults["lost"] = f"Give per cent from 0 to {_MOST_LOST:g}."
    if not filled.seed.strip():
        faults["seed"] = "Give a text that nobody else knows before the last day; the coin is thrown from it."
    given = {name: text for name, text in filled.spreads.items() if text.strip()}
    sd = {name: _number(f"sd.{name}", text, faults) for name, text in given.items()}
    for change in trial.changes:
        if change.expects is not None and str(change.number) not in filled.left_out and change.expects.outcome not in sd:
            faults[f"sd.{change.expects.outcome}"] = (
                "A pilot, or an earlier season, tells how much it differs; leave its change out if nobody knows."
            )
    numbers = {str(change.number) for change in trial.changes}
    left_out = frozenset(int(number) for number in filled.left_out if number in numbers)
    spread = Spread(sd=sd, met={}, players=players or 1, lost=min(lost_pct, _MOST_LOST) / 100)
    return (None if faults else AskedPlan(seed=filled.seed.strip(), pairs=pairs, left_out=left_out)), spread, faults


def plan_trial_filled(trial: Overlay, asked: AskedPlan, spread: Spread) -> PlannedTrial:
    """Plan a trial in paired days.

    Args:
        trial: The trial.
        asked: What the plan is asked for.
        spread: How much days differ.

    Raises:
        StudyError: The plan cannot answer its question; the error says what would.
    """
    return plan_by_design(trial, spread, asked)


def tell_plan(trial: Overlay, base: Book, planned: PlannedTrial) -> tuple[ChangePlanned, ...]:
    """What a plan says of each change, in words."""
    told = changes_told(trial, base)
    return tuple(
        ChangePlanned(
            number=change.change,
            told=told[change.change],
            judged_by=change.judged_by,
            lines=tuple(_lines(planned, change)),
            outlook=_outlook(change),
            guards=tuple(f"{guard_words(guard)}." for guard in change.guards),
        )
        for change in planned.changes
    )


def _lines(planned: PlannedTrial, change: PlannedChange) -> list[str]:
    if change.outcome is UNSET or change.least_effect is UNSET:
        return []
    found = f"{effect_words(change, float(f'{change.least_effect:.3g}'))} is found with a chance of {planned.power:.0%}"
    lines = [f"Wanted: {wanted_words(change)}; {found}; {needed_words(change)} would do."]
    if change.outlook_lacks:
        lines.append(
            f"Drawn without {', '.join(map(called, change.outlook_lacks))}, whose spread nobody gave: the good word is less likely."
        )
    if change.together:
        lines.append(
            f"No day will tell it from change {', '.join(map(str, change.together))}, which is to move the same: they are weighed together."
        )
    return lines


def _outlook(change: PlannedChange) -> tuple[OutlookTold, ...]:
    if change.outlook is UNSET:
        return ()
    return tuple(
        OutlookTold(
            supposed=effect_words(change, entry.supposed) if entry.supposed else "nothing",
            did_pct=round(100 * entry.did),
            mixed_pct=round(100 * entry.mixed),
            did_not_pct=round(100 * entry.did_not),
            open_pct=round(100 * entry.open),
        )
        for entry in change.outlook
    )


def _whole(name: str, text: str, most: int, faults: dict[str, str]) -> int:
    typed = text.strip()
    if typed.isascii() and typed.isdecimal() and len(typed) < 5 and 1 <= int(typed) <= most:
        return int(typed)
    faults[name] = f"{typed[:40]!r} cannot be; give a whole number from 1 to {most}."
    return 0


def _number(name: str, text: str, faults: dict[str, str]) -> float:
    try:
        value = float(text.strip().replace(",", "."))
    except ValueError:
        value = -1.0
    if 0 <= value <= 1e6:
        return value
    faults[name] = f"{text.strip()[:40]!r} is no number, zero or more."
    return 0.0
