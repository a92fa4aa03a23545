"""The desk in tests: the application with its jobs done in this process, and the real one started by its command."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from marram.desk.pages.page import Desk, Page
from marram.desk.pages.posted import Posted
from marram.desk.rulings.desk_jobs import do_job, do_posted
from marram.desk.rulings.ruling_process import DeskAsked, RulingProcesses, open_desk
from marram.desk.server.desk_app import make_app
from marram.desk.server.guard import TOKEN, Door
from tests.support.started_desk import StartedDesk, start_desk

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = ROOT / "examples"
PORT = 8642
AT = f"http://127.0.0.1:{PORT}"
SOCKETS_AT = f"ws://127.0.0.1:{PORT}"


class DoneHere(RulingProcesses):
    """Does the jobs of a desk in this process."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk

    async def do(self, name: str, text: str) -> Page:
        return do_job(self.desk, name, text)

    async def do_posted(self, name: str, posted: Posted) -> Page:
        return do_posted(self.desk, name, posted)

    def close(self) -> None:
        """Nothing was started."""


@pytest.fixture(scope="session")
def examples_desk() -> Desk:
    return open_desk(DeskAsked(folder=EXAMPLES))


@pytest.fixture(scope="session")
def door() -> Door:
    return Door(port=PORT)


@pytest.fixture(scope="session")
def stranger(examples_desk: Desk, door: Door) -> TestClient:
    """Somebody who has not opened the printed address."""
    return TestClient(make_app(DoneHere(examples_desk), door), base_url=AT, follow_redirects=False)


@pytest.fixture(scope="session")
def client(examples_desk: Desk, door: Door) -> TestClient:
    """Somebody who has."""
    made = TestClient(make_app(DoneHere(examples_desk), door), base_url=AT, headers={"origin": AT})
    assert made.get("/desk.css", params={TOKEN: door.token}).status_code in {200, 303}
    made.get("/", params={TOKEN: door.token}, follow_redirects=False)
    return made


@pytest.fixture(scope="session")
def started() -> Iterator[Callable[[Path], str]]:
    """Starts the real desk on a folder and gives its printed address; each folder once."""
    running: dict[Path, StartedDesk] = {}

    def start(folder: Path) -> str:
        if folder not in running:
            running[folder] = start_desk(folder)
        return running[folder].address

    yield start
    for desk in running.values():
        desk.stop()
