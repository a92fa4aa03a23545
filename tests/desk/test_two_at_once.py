"""Two people drag at once in windows of their own: each sees its own ruling, and neither's questions pile up."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import dataclass, field

import pytest
from playwright.sync_api import Page, WebSocket, expect

from tests.desk.test_handles import drag, middle
from tests.desk.test_in_a_browser import POND, Visit, browser, visit

__all__ = ["browser", "visit"]
pytestmark = pytest.mark.browser
UNPLAYABLE = "/ruling?course=thimble-moor&hole=7&situation=unplayable&x=-376&y=80&longest=45"


@dataclass(kw_only=True)
class Listened:
    """What a page asks over its socket and is told.

    Attributes:
        asked: Numbers of its questions.
        told: Numbers of the answers.
        most_waiting: The most questions that were ever without answer.
    """

    asked: list[int] = field(default_factory=list)
    told: list[int] = field(default_factory=list)
    most_waiting: int = 0

    def listen(self, socket: WebSocket) -> None:
        socket.on("framesent", lambda text: self._sent(json.loads(text)["seq"]))
        socket.on("framereceived", lambda text: self.told.append(json.loads(text)["seq"]))

    def _sent(self, number: int) -> None:
        self.asked.append(number)
        self.most_waiting = max(self.most_waiting, len(self.asked) - len(self.told))


def entered(visit: Callable[..., Visit], path: str) -> tuple[Page, Listened]:
    heard, one = Listened(), visit()
    one.page.on("websocket", heard.listen)
    return one.go(path), heard


def test_two_people_drag_at_once_and_both_are_right(visit: Callable[..., Visit]) -> None:
    water, at_water = entered(visit, POND)
    moor, at_moor = entered(visit, UNPLAYABLE)
    (x, y), (u, v) = middle(water, "crossed_at"), middle(moor, "ball")
    for page, at in ((water, (x, y)), (moor, (u, v))):
        page.mouse.move(*at)
        page.mouse.down()
    for number in range(30):
        water.mouse.move(x + number + 7, y)
        moor.mouse.move(u + number + 7, v)
    for page in (water, moor):
        page.locator("#map.moving .moving-under path").first.wait_for(state="attached")
    water.mouse.up()
    moor.mouse.up()
    water.wait_for_url(lambda url: "crossed_at.x=-388.38" not in url)
    moor.wait_for_url(lambda url: "x=-376&" not in url)
    for page, heard, says in ((water, at_water, "Lateral relief"), (moor, at_moor, "Back on the line")):
        assert heard.asked == sorted(set(heard.asked))
        assert heard.told == heard.asked[: len(heard.told)]
        assert heard.told
        assert heard.most_waiting == 1
        expect(page.locator("#heard")).to_contain_text(says)
        shown = page.locator("#ruling section.opts").inner_text()
        page.reload()
        expect(page.locator("#ruling section.opts")).to_have_text(re.compile(re.escape(shown.split("\n")[0])))
        assert page.locator("#ruling section.opts").inner_text() == shown


def test_what_moves_at_one_place_is_what_is_shown_at_rest_there(visit: Callable[..., Visit]) -> None:
    moor, _ = entered(visit, UNPLAYABLE)
    drag(moor, "ball", 30, 10)
    moor.wait_for_url(lambda url: "x=-376&" not in url)
    expect(moor.locator("#map.moving")).to_have_count(0)
    at_rest = moor.locator("#ruling section.opts").inner_text()
    moor.reload()
    assert moor.locator("#ruling section.opts").inner_text() == at_rest
