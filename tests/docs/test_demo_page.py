"""The page of the demo: words and no keys, links that lead somewhere, pictures that wait, and room on a phone."""

from __future__ import annotations

import csv
import json
import re
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from demo import run, running
from demo.page import Section
from marram.office.workroom import Workroom
from tests.support.browser import run_out
from tests.support.visible_text import VisibleText

ROOT = Path(__file__).resolve().parents[2]
_PICTURED = {".svg", ".css"}
"""Endings of what the page itself shows; any other file that the demo writes is a sheet, a page or a table to open."""
_SAID = {"club-length"}
"""Names that are words of the game."""


@dataclass(frozen=True, slots=True)
class Shown:
    """The demo as far as it is made: its folder, the sections by name, and the steps that were done."""

    folder: Path
    made: dict[str, Section] = field(default_factory=dict)
    done: list[str] = field(default_factory=list)

    def do(self, step: str) -> None:
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(running, "out", self.folder)
            run.do_step(step, self.made)
        self.done.append(step)


@pytest.fixture(scope="module")
def shown(tmp_path_factory: pytest.TempPathFactory) -> Shown:
    return Shown(tmp_path_factory.mktemp("demo") / "out")


@pytest.mark.parametrize("step", run.STEPS)
def test_every_step_of_the_job_is_done(shown: Shown, step: str, capsys: pytest.CaptureFixture[str]) -> None:
    shown.do(step)
    assert f"  {step} " in capsys.readouterr().out


@pytest.fixture(scope="module")
def written(shown: Shown) -> Path:
    for step in run.STEPS:
        if step not in shown.done:
            shown.do(step)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(running, "out", shown.folder)
        run.end(shown.made)
    return shown.folder


@pytest.fixture(scope="module")
def page(written: Path) -> VisibleText:
    return VisibleText((written / "index.html").read_text(encoding="utf-8"))


def ids() -> set[str]:
    """Every name that the files and the rule data use among themselves and nobody says."""
    catalogue = Workroom().catalogue
    features = json.loads((ROOT / "examples/courses/thimble-moor.geojson").read_text(encoding="utf-8"))["features"]
    found = set(catalogue.keys) | set(catalogue.rows)
    found |= {feature["properties"]["id"] for feature in features}
    found |= {path.stem for path in (ROOT / "examples").rglob("*.*")}
    found |= {name for path in (ROOT / "examples/exercises").glob("*.toml") for name in re.findall(r'name = "([^"]+)"', path.read_text())}
    return {name for name in found if re.search(r"[-._]", name)} - _SAID


def test_no_key_and_no_id_stands_in_the_words(page: VisibleText) -> None:
    said = " ".join(page.words)
    names = ids()
    assert {"search.limit_min", "relief.lateral.size", "pond-9", "late-start-within-5"} & names >= {"search.limit_min", "pond-9"}
    assert [name for name in sorted(names) if re.search(rf"(?<![\w-]){re.escape(name)}(?![\w-])", said)] == []
    assert re.findall(r"\w+_\w+", said) == []
    assert re.findall(r"\b[a-z]+-\d+\b|\b\d{4}\+\w+|\S+\.(?:toml|csv|json|svg|pdf)\b", said) == []


def test_every_link_leads_somewhere_and_every_file_is_linked(written: Path, page: VisibleText) -> None:
    inner = {link.removeprefix("#") for link in page.links if link.startswith("#")}
    outer = {link for link in page.links if not link.startswith("#")}
    assert len(inner) > 8
    assert inner <= page.names
    assert [link for link in sorted(outer | set(page.files)) if not (written / link).is_file()] == []
    files = {path.relative_to(written).as_posix() for path in written.rglob("*") if path.is_file()}
    assert {name for name in files if Path(name).suffix not in _PICTURED} - outer == {"index.html"}


def test_verdicts_come_first_and_pictures_wait_until_they_are_met(page: VisibleText) -> None:
    said = " ".join(page.words)
    assert said.index("Did what it was meant to") < said.index("Contents") < said.index("The draft")
    assert len(page.pictures) > 16
    for picture in page.pictures:
        assert picture["loading"] == "lazy"
        assert picture["alt"]
        assert int(picture["width"]) > 100 < int(picture["height"])
    assert not any(name.startswith("data:") for name in page.files)


def test_the_page_is_light_and_no_element_has_a_style_of_its_own(written: Path, page: VisibleText) -> None:
    assert (written / "index.html").stat().st_size < 150_000
    assert page.styled == []


def test_what_decided_each_place_is_said(page: VisibleText) -> None:
    """By hand from examples/cards/cards.csv: Aster and Elder are level on 35 points, and 18 of Aster's are on the last nine."""
    said = re.sub(r"\s+", " ", " ".join(page.words))
    assert "Aster 35 Last 9: 18 , against 17 of Elder" in said
    assert "Alone on this score" in said


def test_a_ruling_moved_a_score_of_the_club_day(page: VisibleText) -> None:
    """By hand from examples/events: without the ruling Beech has 37 points and the better last nine; two strokes cost two points there."""
    said = re.sub(r"\s+", " ", " ".join(page.words))
    assert "1st with 37 points before, 2nd with 35 points now" in said
    assert "Played under trial rules: Trial of four changes." in said


def test_the_records_of_the_club_days_are_in_the_verdicts(written: Path, page: VisibleText) -> None:
    with (written / "values.csv").open(encoding="utf-8", newline="") as file:
        rounds = Counter(row["day"] for row in csv.DictReader(file) if row["outcome"] == "round_min")
    assert (rounds["summer"], rounds["midsummer"], len(rounds)) == (8, 8, 22)
    said = re.sub(r"\s+", " ", " ".join(page.words))
    assert "tried on eleven pairs of days" in said
    report = (written / "report.html").read_text(encoding="utf-8")
    assert "not planned" not in report and "not played" not in report and "other way round" not in report


@pytest.mark.browser
@pytest.mark.parametrize("width_px", [390, 1280])
def test_nothing_runs_out_of_the_page(written: Path, width_px: int) -> None:
    assert run_out(written / "index.html", width_px) == []


@pytest.mark.browser
def test_what_runs_out_is_seen(written: Path) -> None:
    wide = written / "wide.html"
    text = (written / "index.html").read_text(encoding="utf-8")
    wide.write_text(f"{text}<p>{'w' * 300}</p><table><tr><td width='500'>x</td></tr></table>", encoding="utf-8")
    found = run_out(wide, 390)
    assert any(told.startswith("the page is") for told in found)
    assert any(told.startswith("TD x") for told in found)
