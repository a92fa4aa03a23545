"""What is moved on the drawing of a ruling, in Debian's Chromium: by mouse, touch and keys, redrawn while it moves, said at rest."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from urllib.parse import parse_qs, urlsplit

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, ViewportSize, WebSocket, expect

from tests.desk.test_in_a_browser import NARROW, PHONE, POND, WIDE, Visit, browser, visit

__all__ = ["browser", "visit"]
pytestmark = pytest.mark.browser


def stated(page: Page, name: str) -> float:
    return float(parse_qs(urlsplit(page.url).query)[name][0])


def middle(page: Page, handle: str) -> tuple[float, float]:
    box = page.locator(f'.grip[data-handle="{handle}"]').bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def drag(page: Page, handle: str, right: float, down: float) -> None:
    x, y = middle(page, handle)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + right / 2, y + down / 2)
    page.mouse.move(x + right, y + down)
    page.locator("#map.moving .moving-under path").first.wait_for(state="attached")
    page.mouse.up()


@pytest.mark.parametrize("size", [WIDE, PHONE], ids=["1280", "390"])
def test_a_crossing_point_is_dragged_along_its_edge(visit: Callable[..., Visit], size: ViewportSize) -> None:
    page = visit(size).go(POND)
    drag(page, "crossed_at", 60, 20)
    page.wait_for_url(lambda url: "crossed_at.x=-388.38" not in url)
    # The words say how far a crossing point lies off the edge where it is a centimetre or more; on the edge nothing is said.
    assert "off the edge" not in page.locator("#ruling").inner_text()
    assert stated(page, "x") == -383.38
    shown = page.locator("#said").text_content()
    page.reload()
    assert page.locator("#said").text_content() == shown


def test_a_spot_on_the_line_is_put_by_a_touch_and_stays_on_it(visit: Callable[..., Visit]) -> None:
    page = visit().go(POND)
    page.get_by_label("the spot on the line").check()
    page.locator("#map").focus()
    page.keyboard.press("Shift+ArrowUp")
    page.wait_for_url(re.compile("back=1.00"))
    page.keyboard.press("ArrowDown")
    page.wait_for_url(re.compile("back=0.90"))
    expect(page.get_by_label("the spot on the line")).to_be_checked()
    drag(page, "back", 30, 40)
    page.wait_for_url(lambda url: "back=0.90" not in url)
    assert stated(page, "back") > 0.9
    assert stated(page, "crossed_at.x") == -388.38


def test_a_finger_moves_a_handle_and_scrolls_beside_it(visit: Callable[..., Visit]) -> None:
    page = visit(PHONE, touch=True).go(POND)
    fingers = page.context.new_cdp_session(page)

    def draw(x: float, y: float, right: float, down: float) -> None:
        fingers.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [{"x": x, "y": y}]})
        for share in (0.25, 0.5, 0.75, 1.0):
            fingers.send(
                "Input.dispatchTouchEvent", {"type": "touchMove", "touchPoints": [{"x": x + right * share, "y": y + down * share}]}
            )
        fingers.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})

    x, y = middle(page, "crossed_at")
    draw(x, y, 40, 60)
    page.wait_for_url(lambda url: "crossed_at.x=-388.38" not in url)
    assert page.evaluate("scrollY") == 0
    put = page.url
    x, y = middle(page, "crossed_at")
    draw(x - 120, y + 150, 0, -140)
    page.wait_for_function("scrollY > 40")
    assert page.url == put


def test_a_phone_has_the_area_large_and_answers_before_prose(visit: Callable[..., Visit]) -> None:
    page = visit(PHONE).go(POND)
    drawing = page.locator(".on-phone svg.drawing")
    area, box = drawing.locator("path.relief:not(.second)").first.bounding_box(), page.locator("#map .on-phone").bounding_box()
    assert area is not None
    assert box is not None
    assert 0.45 <= area["width"] / box["width"] <= 0.66
    assert 270 <= drawing.locator(".neat").bounding_box()["height"] <= 320  # type: ignore[index]
    tops = [page.locator(name).first.bounding_box()["y"] for name in ("#map", ".picker", ".opt", ".facts", ".sec")]  # type: ignore[index]
    assert tops == sorted(tops)
    assert not page.locator(".on-wide").is_visible()


def test_what_was_typed_stays_when_a_handle_moves(visit: Callable[..., Visit]) -> None:
    page = visit().go(POND)
    page.get_by_text("State or change facts").click()
    page.get_by_label("Longest club").fill("44,5")
    drag(page, "crossed_at", 30, 10)
    page.wait_for_url(lambda url: "crossed_at.x=-388.38" not in url)
    expect(page.get_by_label("Longest club")).to_have_value("44,5")
    expect(page.locator("#heard")).to_contain_text("Lateral relief")


def test_only_the_newest_place_is_asked_for(visit: Callable[..., Visit]) -> None:
    entered = visit()
    asked: list[int] = []
    told: list[int] = []
    waiting: list[int] = []

    def ask(text: str | bytes) -> None:
        asked.append(json.loads(text)["seq"])
        waiting.append(len(asked) - len(told))

    def listen(socket: WebSocket) -> None:
        socket.on("framesent", ask)
        socket.on("framereceived", lambda text: told.append(json.loads(text)["seq"]))

    entered.page.on("websocket", listen)
    page = entered.go(POND)
    x, y = middle(page, "crossed_at")
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 47, y, steps=160)  # faster than any answer comes
    page.wait_for_timeout(1500)
    page.mouse.up()
    page.wait_for_url(lambda url: "crossed_at.x=-388.38" not in url)
    assert asked == sorted(set(asked))
    assert told == asked[: len(told)]
    assert len(asked) < 160
    assert max(waiting) == 1


@pytest.mark.parametrize("light", ["day", "sun", "night"])
def test_a_ruling_keeps_nobody_out_in_any_light_on_the_narrowest_page(visit: Callable[..., Visit], light: str) -> None:
    page = visit(NARROW).go(f"{POND}&light={light}")
    found = Axe().run(page, options={"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]})
    assert [(entry["id"], [node["html"][:160] for node in entry["nodes"][:3]]) for entry in found.response["violations"]] == []
    assert page.evaluate("document.documentElement.scrollWidth") <= NARROW["width"]


def test_a_wide_page_at_twice_its_size_has_one_column_and_no_sideways_scroll(visit: Callable[..., Visit]) -> None:
    entered = visit(ViewportSize(width=640, height=450))  # what a browser at 200 % leaves of 1280 by 900
    for path in ("/", POND):
        assert entered.go(path).evaluate("document.documentElement.scrollWidth") <= 640


def test_a_ball_stated_along_the_hole_is_moved_by_arrows(visit: Callable[..., Visit]) -> None:
    page = visit().go("/ruling?course=thimble-moor&hole=7&situation=unplayable&before=56&right=12&longest=45")
    page.locator("#map").focus()
    page.keyboard.press("ArrowUp")
    page.wait_for_url(re.compile(r"[?&]x=-?\d"))
    assert "before=" not in page.url


def test_choosing_an_option_redraws_the_map_in_place(visit: Callable[..., Visit]) -> None:
    page = visit().go(
        "/ruling?course=thimble-moor&hole=7&situation=unplayable&x=-376&y=80&longest=45&previous_stroke.x=-362&previous_stroke.y=-20"
    )
    page.evaluate("window.isSame = true")
    before = page.locator("#map .on-wide [data-bounds]").get_attribute("data-bounds")
    page.get_by_role("link", name="Draw the map for A").click()
    page.wait_for_url(re.compile("option=unplayable-stroke-and-distance"))
    expect(page.locator("#option-A.drawn")).to_be_visible()
    assert page.locator("#map .on-wide [data-bounds]").get_attribute("data-bounds") != before
    assert page.evaluate("window.isSame")
    expect(page.locator("#map")).to_be_focused()
    page.keyboard.press("ArrowUp")
    page.wait_for_url(re.compile(r"y=80\.10"))
    assert "option=unplayable-stroke-and-distance" in page.url
