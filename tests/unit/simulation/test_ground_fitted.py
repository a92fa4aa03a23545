"""Ground fitted to drops: what the model itself drew on other ground is found again, and too few drops fit nothing."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from marram.core.errors import RecordError, StudyError
from marram.interchange.measured.drop_table import read_drops
from marram.records.measured_drops import MeasuredDrop
from marram.simulation.dropped_ball.bounce_and_roll import drop_balls
from marram.simulation.dropped_ball.ground_fitted import fit_ground
from marram.simulation.dropped_ball.ground_met import ground_named, grounds

FAIRWAY = ground_named("fairway")


def drawn(tilt: float, rho: float, each: int = 60) -> list[MeasuredDrop]:
    """Drops on ground of another unevenness and resistance than the table has."""
    ground = replace(FAIRWAY, tilt_rad=tilt, rho=rho)
    return [
        MeasuredDrop(ground="fairway", slope_deg=slope, height_m=height, rest_m=float(rest))
        for height, slope in ((0.5, 0.0), (1.45, 0.0), (0.5, 5.0))
        for rest in drop_balls(height, slope, ground, drops=each, seed=77).distance_m
    ]


def test_unevenness_and_resistance_are_found_again() -> None:
    """Within a step and a half of the grid (25 % and 10 to 14 %), from 180 drops."""
    fitted = fit_ground(FAIRWAY, drawn(0.09, 0.26))
    assert fitted.ground.tilt_rad == pytest.approx(0.09, rel=0.38)
    assert fitted.ground.rho == pytest.approx(0.26, rel=0.2)
    assert fitted.misfit_pct < 20 < fitted.misfit_before_pct
    assert fitted.drops == 180
    assert "fitted to 180 drops" in fitted.ground.provenance
    assert (fitted.ground.mu, fitted.ground.rebound) == (FAIRWAY.mu, FAIRWAY.rebound)


def test_too_few_drops_fit_nothing() -> None:
    with pytest.raises(StudyError, match="49 drops were measured"):
        fit_ground(FAIRWAY, drawn(0.05, 0.2)[:49])
    with pytest.raises(StudyError, match="0 drops were measured on light rough"):
        fit_ground(ground_named("light-rough"), drawn(0.05, 0.2))
    apart = [MeasuredDrop(ground="fairway", slope_deg=number / 10, height_m=0.5, rest_m=0.1) for number in range(60)]
    with pytest.raises(StudyError, match="No slope and height has 5 drops"):
        fit_ground(FAIRWAY, apart)


def test_a_table_of_drops_is_read_and_its_faults_are_told(tmp_path: Path) -> None:
    table = tmp_path / "drops.csv"
    table.write_text("Ground,Slope,Height,Rest\nfairway,5,0.5,0.21\n", encoding="utf-8")
    assert read_drops(table, grounds()) == (MeasuredDrop(ground="fairway", slope_deg=5, height_m=0.5, rest_m=0.21),)
    table.write_text("ground,slope,height,rest\nsand,5,0.5,0.2\nfairway,50,0.5,0.2\nfairway,5,,0.2\nfairway,5,0.5,far\n", encoding="utf-8")
    with pytest.raises(RecordError) as refused:
        read_drops(table, grounds())
    for said in ("4 faults", "'sand'; expected one of", "50 cannot be", "column height: is empty", "'far' is no number"):
        assert said in refused.value.message
