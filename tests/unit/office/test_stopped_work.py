"""Long work tells how far it is and can be stopped midway; what is stopped gives no answer."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from marram.core.errors import Stopped
from marram.core.work import Work
from marram.office.courses.check_marking import check_marking
from marram.office.courses.find_places import find_places
from marram.office.courses.survey_course import SurveyOptions, survey_course
from marram.office.trials.make_guide import guide_trial
from marram.office.workroom import Workroom
from marram.rulings.case.incident import Player

ROOT = Path(__file__).resolve().parents[3]
COURSE, MAP = ROOT / "examples/courses/thimble-moor.geojson", ROOT / "tests/data/courses/iom-parkland-18-ponds.osm"
ROOM = Workroom()


def bring_in(work: Work) -> object:
    return survey_course(MAP, SurveyOptions(), work)


def mark(work: Work) -> object:
    return check_marking(ROOM.course(COURSE), [ROOM.book("2023")], longest_club_in=46.0, tolerance_m=0.1, work=work)


def look_for_places(work: Work) -> object:
    return find_places(ROOM.course(COURSE), "penalty-area-lateral-red", ROOM.books(["2023"]), player=Player(), count=1, work=work)


def guide(work: Work) -> object:
    trial = ROOM.overlay(str(ROOT / "examples/trials/fixed-lengths.toml"))
    return guide_trial(ROOM.survey(COURSE), ROOM.book("2023"), trial, player=Player(), each=1, procedures=(), work=work)


class Heard:
    """Hears how far the work is, and stops it after so many times."""

    def __init__(self, times: int) -> None:
        self.told: list[tuple[str, int, int]] = []
        self.times, self.work = times, Work(self)

    def __call__(self, doing: str, done: int, whole: int) -> None:
        self.told.append((doing, done, whole))
        if len(self.told) == self.times:
            self.work.stop()


@pytest.mark.parametrize("job", [bring_in, mark, look_for_places, guide])
def test_a_job_is_stopped_midway(job: Callable[[Work], object]) -> None:
    heard = Heard(times=2)
    with pytest.raises(Stopped, match="Stopped while"):
        job(heard.work)
    assert len(heard.told) == 2
    assert heard.work.is_stopped


@pytest.mark.parametrize("job", [mark, look_for_places])
def test_a_job_tells_how_much_of_it_is_done(job: Callable[[Work], object]) -> None:
    heard = Heard(times=0)
    job(heard.work)
    done, wholes = [done for _, done, _ in heard.told], {whole for *_, whole in heard.told}
    assert done == sorted(done)
    assert done[0] == 0
    assert len(wholes) == 1
    assert done[-1] < wholes.pop()


def test_work_that_was_stopped_before_it_began_does_nothing() -> None:
    heard = Heard(times=0)
    heard.work.stop()
    with pytest.raises(Stopped):
        bring_in(heard.work)
    assert heard.told == []
