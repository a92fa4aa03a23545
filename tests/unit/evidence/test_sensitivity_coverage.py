"""How often the limits of the rows hold what is true, in seasons with weather shared by a pair, days of their own and returning players."""

from __future__ import annotations

from math import exp, log, sqrt

import numpy as np
import pytest

from marram.evidence.sensitivity.by_rows import Row, row_line
from marram.records.outcomes import outcomes

SEASONS, PAIRS, ROWS = 400, 8, 20


def value_of(outcome: str, weather: float, own: float, leaning: float, chance: np.random.Generator) -> float:
    shared = 0.3 * weather + 0.3 * own
    if outcome == "round_min":
        return float(240 + 5 * weather + 6 * own + chance.normal(0, 8))
    if outcome == "rulings":
        return float(chance.poisson(exp(log(1.2) + shared + chance.normal(0, 0.3))))
    if outcome == "ball_found":
        return float(chance.random() < 1 / (1 + exp(-0.2 - shared)))
    return float(np.digitize(shared + leaning + chance.logistic(), [-2, -0.7, 0.7, 2]) + 1)


def season(outcome: str, chance: np.random.Generator) -> list[Row]:
    leanings, rows = chance.normal(0, 1, 60), []
    for pair in range(PAIRS):
        weather = chance.normal()
        for is_trial in (True, False):
            own = chance.normal()
            for _ in range(ROWS):
                player = int(chance.integers(0, 60))
                value = value_of(outcome, weather, own, leanings[player], chance)
                rows.append(Row(value=value, is_trial=is_trial, day=f"{pair}{is_trial}", pair=str(pair), player=f"m{player}"))
    return rows


@pytest.mark.long
@pytest.mark.parametrize(("outcome", "none"), [("round_min", 0.0), ("rulings", 1.0), ("ball_found", 1.0), ("fair", 1.0)])
def test_limits_hold_in_nineteen_of_twenty_seasons(outcome: str, none: float) -> None:
    chance, held = np.random.default_rng(2027), 0
    for _ in range(SEASONS):
        line = row_line(outcomes()[outcome], season(outcome, chance))
        assert line is not None
        held += line.interval95 is not None and line.interval95.low <= none <= line.interval95.high
    error = sqrt(0.95 * 0.05 / SEASONS)
    assert abs(held / SEASONS - 0.95) <= 0.02 + 2 * error  # 93 to 97 %, and the Monte Carlo error
