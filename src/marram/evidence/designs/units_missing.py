"""What of units is missing: a unit without a value, a player of a group without one, searches that nobody timed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Sized
from math import fsum

from marram.evidence.designs.drawn_units import Unit
from marram.evidence.effects import UnitsDifference
from marram.evidence.weighing.account import OUTER, Missing
from marram.records.outcomes import Outcome, Per
from marram.records.rows import Arm, Observation

Cells = Mapping[tuple[Unit, Arm], Sequence[Observation]]
"""The values of an outcome by unit and set of rules; a unit that should have some and has none is there, too."""


def missing_of_units(outcome: Outcome, cells: Cells, counted: Cells, players: Mapping[Unit, Sized]) -> Missing:
    """How much of an outcome is missing.

    Args:
        outcome: The outcome.
        cells: Its values.
        counted: The values of the outcome that counts how many there should be; none where nobody counted.
        players: The players of each unit, as far as anything recorded names them.
    """
    if outcome.per is Per.GROUP_ROUND:
        expected = {key: float(max(len(rows), 1)) for key, rows in cells.items()}
    elif outcome.per is Per.PLAYER_ROUND:
        expected = _of_players(cells, players)
    elif any(counted.values()):
        expected = {key: max(float(len(rows)), fsum(row.value for row in counted.get(key, ()))) for key, rows in cells.items()}
    else:
        expected = _as_many_on_both_sides(cells)
    return Missing(
        expected={arm: fsum(count for (_, own), count in expected.items() if own is arm) for arm in Arm},
        seen={arm: sum(len(rows) for (_, own), rows in cells.items() if own is arm) for arm in Arm},
        by_day={},
    )


def _of_players(cells: Cells, players: Mapping[Unit, Sized]) -> dict[tuple[Unit, Arm], float]:
    """Of players one value each; of a unit of which nobody is known, the usual number."""
    known = {(unit, arm): float(max(len(rows), len(players.get(unit, ())))) for (unit, arm), rows in cells.items()}
    seen = [count for count in known.values() if count]
    usual = fsum(seen) / len(seen) if seen else 1.0
    return {key: count or usual for key, count in known.items()}


def _as_many_on_both_sides(cells: Cells) -> dict[tuple[Unit, Arm], float]:
    """Of what happens now and then nobody knows how much there was: the two sides are held against each other, unit for unit."""
    units = {arm: sum(own is arm for _, own in cells) for arm in Arm}
    rows = {arm: sum(len(found) for (_, own), found in cells.items() if own is arm) for arm in Arm}
    rate = {arm: rows[arm] / units[arm] if units[arm] else 0.0 for arm in Arm}
    most = max(rate.values())
    return {key: len(found) * (most / rate[key[1]] if rate[key[1]] else 1.0) for key, found in cells.items()}


def bounds_of_units(effect: UnitsDifference, cells: Cells, missing: Missing) -> tuple[float, float] | None:
    """Between which ends the effect lies if all missing values were as low, or as high, as the outermost twentieth of what was seen.

    Args:
        effect: The effect.
        cells: The values by unit and set of rules.
        missing: What is missing.

    Returns:
        The lowest and the highest difference; None where nothing is missing.
    """
    trial, ordinary = missing.share(Arm.TRIAL), missing.share(Arm.ORDINARY)
    seen = sorted(entry.value for rows in cells.values() for entry in rows)
    if not seen or not (trial > 0 or ordinary > 0):
        return None
    low, high = seen[int(OUTER * (len(seen) - 1))], seen[-1 - int(OUTER * (len(seen) - 1))]
    # the mean of a side moves by its missing part times how far the missing lie from the mean
    lowest = trial * (low - effect.trial_mean) - ordinary * (high - effect.ordinary_mean)
    highest = trial * (high - effect.trial_mean) - ordinary * (low - effect.ordinary_mean)
    return effect.estimate + lowest, effect.estimate + highest
