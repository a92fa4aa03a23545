"""The workroom keeps what it opened, and opens anew what has changed."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

from marram.office.play.give_ruling import Rulings, give_rulings
from marram.office.workroom import Workroom

ROOT = Path(__file__).resolve().parents[3]
COURSE, DAY = ROOT / "examples/courses/thimble-moor.geojson", ROOT / "examples/days/2026-06-13.toml"


def test_a_day_laid_on_a_course_keeps_the_survey_warm(monkeypatch: pytest.MonkeyPatch) -> None:
    room = Workroom()
    survey = room.survey(COURSE)
    monkeypatch.setattr("marram.interchange.courses.course_geojson.read_course", lambda path: pytest.fail(f"{path.name} is read again"))
    today = room.course(COURSE, DAY)
    assert today.day is not None
    assert {feature.id for feature in today.day.features} <= {feature.id for feature in today.course.features}
    assert {feature.id for feature in today.day.features}.isdisjoint(feature.id for feature in survey.features)
    assert room.survey(COURSE) is survey
    assert room.course(COURSE).course is survey
    assert room.course(COURSE, DAY) is today


def test_a_file_that_has_changed_is_opened_anew(tmp_path: Path) -> None:
    file = Path(shutil.copy(COURSE, tmp_path / "course.geojson"))
    room = Workroom()
    before = room.survey(file)
    assert room.survey(file) is before
    file.write_text(file.read_text(encoding="utf-8").replace("Thimble Moor", "Thimble Heath"), encoding="utf-8")
    os.utime(file, ns=(1, 1))
    assert (before.name, room.survey(file).name) == ("Thimble Moor", "Thimble Heath")


def test_an_overlay_that_has_changed_is_laid_anew(tmp_path: Path) -> None:
    trial = tmp_path / "trial.toml"
    text = (ROOT / "examples/trials/fixed-lengths.toml").read_text(encoding="utf-8")
    trial.write_text(text, encoding="utf-8")
    room, name = Workroom(), f"2023+{trial}"
    before, together = room.book(name), room.books(["2023", name])
    assert room.book(name) is before
    assert room.books(["2023", name]) is together
    trial.write_text(text + "\n# one word more\n", encoding="utf-8")
    assert room.book(name) is not before
    assert room.books(["2023", name]) is not together


def test_books_are_opened_once() -> None:
    room = Workroom()
    assert room.book("2023") is room.book("2023")
    assert room.books([]) is room.books(room.editions())
    assert room.local_rules is room.local_rules


INCIDENT = ROOT / "examples/incidents/path-15.toml"
TRIAL = ROOT / "examples/trials/fixed-lengths.toml"


def rule(room: Workroom, incident: Path, course: Path, trial: Path) -> Rulings:
    asked, opened = room.books(["2023", f"2023+{trial}"]), room.course(course, DAY)
    return give_rulings(room.incident(incident, opened.course, asked), opened, asked, where=incident.name)


def copies(folder: Path) -> tuple[Path, Path, Path]:
    """An incident, a course and a trial of the test's own."""
    return Path(shutil.copy(INCIDENT, folder)), Path(shutil.copy(COURSE, folder)), Path(shutil.copy(TRIAL, folder))


@pytest.fixture
def openings(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Names of the files that are opened, in their order."""
    opened: list[str] = []
    true_open = Path.open

    def open_it(self: Path, *args: object, **named: object) -> object:
        opened.append(self.name)
        return true_open(self, *args, **named)  # type: ignore[call-overload]

    monkeypatch.setattr(Path, "open", open_it)
    return opened


def test_a_second_ruling_opens_nothing_again(tmp_path: Path, openings: list[str]) -> None:
    room, files = Workroom(), copies(tmp_path)
    first = rule(room, *files)
    assert sorted(name for name in openings if name in {INCIDENT.name, COURSE.name, DAY.name, TRIAL.name}) == sorted(
        [INCIDENT.name, COURSE.name, DAY.name, TRIAL.name]
    )
    openings.clear()
    second = rule(room, *files)
    assert openings == []
    assert second.incident is first.incident
    assert [one.ruling.stamp for one in second.given] == [one.ruling.stamp for one in first.given]


def test_an_incident_that_has_changed_is_opened_anew_and_nothing_else(tmp_path: Path, openings: list[str]) -> None:
    room, files = Workroom(), copies(tmp_path)
    assert rule(room, *files).incident.hole == 15
    files[0].write_text(files[0].read_text(encoding="utf-8").replace("hole = 15", "hole = 14"), encoding="utf-8")
    openings.clear()
    assert rule(room, *files).incident.hole == 14
    assert openings == [INCIDENT.name]


def test_an_incident_is_placed_anew_on_another_course(tmp_path: Path) -> None:
    room, (incident, course, trial) = Workroom(), copies(tmp_path)
    before = rule(room, incident, course, trial)
    raw = course.read_text(encoding="utf-8")
    course.write_text(raw.replace("Thimble Moor", "Thimble Heath"), encoding="utf-8")
    after = rule(room, incident, course, trial)
    assert (before.course.name, after.course.name) == ("Thimble Moor", "Thimble Heath")
    assert after.incident is not before.incident
