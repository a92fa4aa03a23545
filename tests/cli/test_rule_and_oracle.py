"""What `marram rule --json` prints, held against the oracle: the numbers on the page are those that were worked out."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from shapely.geometry import shape

from tests.published.geometry.oracle.answers import Oracle
from tests.published.geometry.oracle.asked import Asked
from tests.published.geometry.oracle.editions import EDITIONS
from tests.published.geometry.oracle.expected import Expected
from tests.published.geometry.oracle.ground import Ground
from tests.published.geometry.oracle.outlines import apart_m
from tests.published.geometry.oracle_courses import real_course
from tests.published.geometry.oracle_incidents import Incidents
from tests.support.running import Run

_POINT_M, _AREA_M2, _LINE_M = 0.003, 0.01, 0.01
"""Printed places are whole millimetres; the other tolerances are those of docs/accuracy.md for a disc of two club-lengths."""
_FALSE = ("another_reason_makes_stroke_unreasonable", "interference_only_by_unreasonable_stroke", "dropping_zone_here")


def incident_text(asked: Asked) -> str:
    """The question as an incident file."""
    assert asked.ball is not None and asked.crossed_at is not None
    lines = [f"hole = {asked.hole}", f'situation = "{asked.situation}"', f"ball = {{ at = {list(asked.ball)} }}", "[player]"]
    lines += [f'hand = "{asked.hand}"', f"longest_club_in = {asked.club_in}", f'club = "{asked.club}"', "[facts]"]
    lines += [f"{name} = false" for name in _FALSE]
    lines += [f"crossed_at = {list(asked.crossed_at)}"]
    for name, place in (("previous_stroke", asked.previous_stroke), ("last_stroke_outside", asked.last_stroke_outside)):
        assert place is not None
        lines.append(f"{name} = {{ at = {list(place)} }}")
    return "\n".join([*lines, "[choice]", f"back_m = {asked.back_m or 4.0}", ""])


def drawn(ground: Ground, count: int) -> list[Asked]:
    """Balls found in penalty areas."""
    source = Incidents(ground, 77, (1, 0, 0, 0, 0))
    found = (source.draw() for _ in range(100 * count))
    return [asked for asked in found if asked.ball is not None and asked.back_m is not None][:count]


@pytest.mark.parametrize("number", range(3))
def test_the_command_prints_what_the_oracle_expects(called: Run, tmp_path: Path, number: int) -> None:
    text = real_course("demo course")
    (tmp_path / "course.geojson").write_text(text, encoding="utf-8")
    ground = Ground(text)
    asked = drawn(ground, 3)[number]
    (tmp_path / "incident.toml").write_text(incident_text(asked), encoding="utf-8")
    books = [word for edition in EDITIONS for word in ("--book", edition)]
    code, out, err = called("rule", str(tmp_path / "incident.toml"), "--course", str(tmp_path / "course.geojson"), *books, "--json")
    assert code == 0, err
    for told in json.loads(out)["books"]:
        wanted = {expected.procedure: expected for expected in Oracle(ground).answer(asked, told["book"]).options if expected.is_sure}
        given = {option["carried_out_as"] or option["procedure"]: option for option in told["options"]}
        assert wanted.keys() == given.keys()
        for name, expected in wanted.items():
            _agrees(expected, given[name])


def _agrees(expected: Expected, given: dict[str, object]) -> None:
    references, area, line = given["references"], given["relief_area"], given["line"]
    assert given["penalty_strokes"] == expected.strokes
    assert isinstance(references, list)
    for point in expected.points:
        assert min(apart_m(point, (told["x_m"], told["y_m"])) for told in references) < _POINT_M
    assert (area is None) == (expected.area is None) or expected.maybe_points
    if isinstance(area, dict) and expected.area is not None:
        assert area["area_m2"] == pytest.approx(expected.area.area, abs=_AREA_M2 + 2e-3 * expected.area.length)
        assert sum(part["area_m2"] for part in area["parts"]) == pytest.approx(area["area_m2"], abs=1e-3)
        assert shape(area["geometry"]).is_valid
    assert (line is None) == (expected.line is None)
    if isinstance(line, dict) and expected.line is not None:
        assert [tuple(pair) for pair in line["intervals_m"]] == [pytest.approx(pair, abs=_LINE_M) for pair in expected.line]
