"""What cannot be, stated at the desk: each is told with what is wrong and what would be right, and nothing that was stated is lost."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from marram.desk.pages.page import Desk
from marram.desk.rulings.desk_jobs import do_job
from marram.desk.rulings.ruling_process import DeskAsked, open_desk
from marram.office.at_desk.stated_case import open_ground

AT = "/ruling?course=thimble-moor&hole=7&longest=45&"


@pytest.mark.parametrize(
    ("stated", "says"),
    [
        ("situation=penalty-area&x=-376&y=80", "penalty area"),
        ("situation=unplayable&x=5000&y=5000", "boundary|out of bounds|far|course"),
        ("situation=unplayable&x=nowhere&y=80", "is no number"),
        ("situation=unplayable&x=1e400&y=80", "number|finite|place"),
        ("situation=unplayable&x=-376&y=80&back=-5", "back|line"),
        ("situation=no-such-thing&x=-376&y=80", "situation"),
        ("situation=unplayable&x=-376&y=80&yes=no_such_fact", "fact"),
    ],
)
def test_what_cannot_be_is_told_on_the_page_and_keeps_what_was_stated(client: TestClient, stated: str, says: str) -> None:
    answer = client.get(AT + stated)
    assert answer.status_code in {200, 422}
    assert "Traceback" not in answer.text
    assert "went wrong in Marram itself" not in answer.text
    assert any(word in answer.text for word in says.split("|"))
    if answer.status_code == 422:
        assert 'role="alert"' in answer.text


def test_a_ball_on_the_hole_is_ruled_on_or_told(client: TestClient, examples_desk: Desk) -> None:
    hole = open_ground(examples_desk.room, examples_desk.folder, "thimble-moor").course.hole(7).location
    assert hole is not None
    answer = client.get(f"{AT}situation=unplayable&x={hole.x_m}&y={hole.y_m}")
    assert answer.status_code in {200, 422}
    assert "went wrong in Marram itself" not in answer.text


def bare_course(features: list[dict[str, object]]) -> str:
    return json.dumps({"type": "FeatureCollection", "name": "Bare", "features": features})


def test_a_course_file_that_cannot_be_used_is_told_by_its_name(tmp_path: Path) -> None:
    (tmp_path / "broken.geojson").write_text("{", encoding="utf-8")
    (tmp_path / "large.geojson").write_text(" " * 20_000_000 + bare_course([]), encoding="utf-8")
    desk = open_desk(DeskAsked(folder=tmp_path))
    for name in ("broken", "large"):
        page = do_job(desk, "home", f"course={name}")
        assert page.status == 422
        assert "went wrong in Marram itself" not in page.text
        assert str(tmp_path) not in page.text
