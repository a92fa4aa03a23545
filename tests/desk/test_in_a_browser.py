"""The desk in Debian's Chromium: mouse, keyboard and touch, no request off loopback, no error in the console."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext, Page, ViewportSize, expect, sync_playwright

from tests.desk.conftest import EXAMPLES
from tests.support.started_desk import CHROMIUM, FLAGS, start_desk

pytestmark = pytest.mark.browser
POND = "/ruling?course=thimble-moor&hole=7&situation=penalty-area&x=-383.38&y=117.5&longest=45&crossed_at.x=-388.38&crossed_at.y=113.5"
TWO_BOOKS = "&book=2023&book=2016"
WIDE, PHONE, NARROW = ViewportSize(width=1280, height=900), ViewportSize(width=390, height=844), ViewportSize(width=320, height=640)


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with sync_playwright() as drives:
        opened = drives.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield opened
        opened.close()


class Visit:
    """A browser's window on the desk, with everything that it must not do."""

    def __init__(self, context: BrowserContext, address: str) -> None:
        self.page: Page = context.new_page()
        self.faults: list[str] = []
        self.page.on("console", lambda said: self.faults.append(said.text) if said.type in {"error", "warning"} else None)
        self.page.on("pageerror", lambda error: self.faults.append(str(error)))
        self.page.on("request", lambda request: self.faults.append(request.url) if "//127.0.0.1:" not in request.url else None)
        self.page.on("response", lambda answer: self.faults.append(f"{answer.status} {answer.url}") if answer.status >= 400 else None)
        self.origin = address.partition("/?")[0]
        self.page.goto(address)

    def go(self, path: str) -> Page:
        self.page.goto(self.origin + path)
        return self.page


@pytest.fixture
def visit(browser: Browser, started: Callable[[Path], str]) -> Iterator[Callable[..., Visit]]:
    opened: list[tuple[BrowserContext, Visit]] = []

    def enter(size: ViewportSize = WIDE, *, script: bool = True, touch: bool = False) -> Visit:
        context = browser.new_context(viewport=size, java_script_enabled=script, has_touch=touch)
        opened.append((context, Visit(context, started(EXAMPLES))))
        return opened[-1][1]

    yield enter
    for context, entered in opened:
        assert entered.faults == []
        context.close()


def test_the_start_token_is_gone_from_the_address_and_no_script_reads_the_cookie(visit: Callable[..., Visit]) -> None:
    page = visit().page
    assert "token" not in page.url
    assert page.evaluate("document.cookie") == ""
    expect(page.locator("h1")).to_have_text("Put the ball where it lies")


def test_a_touch_on_the_plan_puts_the_ball(visit: Callable[..., Visit]) -> None:
    entered = visit()
    page = entered.page
    page.locator("#plan .on-wide svg.drawing").click(position={"x": 300, "y": 200})
    page.wait_for_url(re.compile(r"/ruling\?.*x="))
    expect(page.locator("h1")).to_have_text("What happened?")
    page.get_by_role("link", name=re.compile("unplayable")).first.click()
    expect(page.locator("#ruling")).to_have_attribute("data-page", "ruling")


def test_arrows_move_the_ball_ten_centimetres(visit: Callable[..., Visit]) -> None:
    page = visit().go(POND)
    page.get_by_label("the ball", exact=True).check()
    page.locator("#map").focus()
    page.keyboard.press("ArrowUp")
    page.wait_for_url(re.compile(r"y=117\.60"))
    page.keyboard.press("Shift+ArrowLeft")
    page.wait_for_url(re.compile(r"x=-384\.38"))
    expect(page.locator("#map")).to_be_focused()
    expect(page.get_by_label("the ball", exact=True)).to_be_checked()


def test_a_ball_is_dragged_and_the_ruling_follows(visit: Callable[..., Visit]) -> None:
    page = visit().go(
        POND.partition("&crossed_at")[0].replace("penalty-area", "unplayable").replace("-383.38", "-376").replace("117.5", "80")
    )
    box = page.locator("#map .ball").first.bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    for step in range(1, 9):
        page.mouse.move(x + 5 * step, y)
    page.locator("#map.moving .moving-under path").first.wait_for(state="attached")
    assert page.locator("#map.moving .on-wide .layer-words").is_hidden()
    page.mouse.up()
    page.wait_for_url(re.compile(r"x=-37[0-5]"))
    expect(page.locator("#map .on-wide .layer-words")).to_be_visible()


def test_everything_works_without_script(visit: Callable[..., Visit]) -> None:
    page = visit(script=False).page
    place = page.locator("form.where")
    place.get_by_label("Hole").fill("7")
    place.get_by_label("Before the green").fill("17,92")
    place.get_by_label("Right of the line").fill("14.15")
    place.get_by_role("button").click()
    page.get_by_role("link", name=re.compile("penalty area")).first.click()
    expect(page.locator(".ask").first).to_be_visible()


@pytest.mark.parametrize("size", [WIDE, PHONE, NARROW], ids=["1280", "390", "320"])
def test_no_page_is_wider_than_its_window(visit: Callable[..., Visit], size: ViewportSize) -> None:
    entered = visit(size)
    for path in (
        "/",
        "/ruling?course=thimble-moor&hole=7",
        POND,
        POND + "&book=2023&book=2016",
        "/ask?course=thimble-moor&words=in+the+pond",
    ):
        assert entered.go(path).evaluate("document.documentElement.scrollWidth") <= size["width"], path


def test_what_is_pressed_is_large_enough(visit: Callable[..., Visit]) -> None:
    entered = visit(PHONE, touch=True)
    for path in ("/", POND):
        page = entered.go(path)
        for target in page.locator("a.btn, button, input:not([type=hidden]):not([type=radio]), .pick, select, summary, nav a").all():
            box = target.bounding_box()
            if box is not None and target.is_visible():
                assert box["height"] >= 44, target.evaluate("node => node.outerHTML")


def test_the_crossing_point_is_put_by_a_touch(visit: Callable[..., Visit]) -> None:
    page = visit().go(POND.partition("&crossed_at")[0])
    expect(page.locator("#handles input:checked")).to_have_value("crossed_at.x crossed_at.y")
    edge = page.evaluate(
        """() => { const view = document.querySelector("#map [data-bounds]"), svg = view.ownerSVGElement;
        const [x0, y0, x1, y1] = view.dataset.bounds.split(" ").map(Number), [l, t, w, h] = view.dataset.box.split(" ").map(Number);
        const at = new DOMPoint(l + (-388.38 - x0) / (x1 - x0) * w, t + (y1 - 113.5) / (y1 - y0) * h).matrixTransform(svg.getScreenCTM());
        return [at.x, at.y]; }"""
    )
    page.mouse.click(*edge)
    page.wait_for_url(re.compile(r"crossed_at\.x=-388"))
    expect(page.get_by_role("heading", name="Lateral relief")).to_be_visible()


def test_a_running_clock_puts_events_down_by_itself(visit: Callable[..., Visit]) -> None:
    page = visit().go("/search?book=2023")
    page.get_by_role("button", name="Start the clock now").click()
    page.wait_for_url(re.compile(r"begun=\d+"))
    expect(page.locator(".clock-f")).to_contain_text(re.compile(r"2:5\d|3:00"))
    page.get_by_role("button", name="Found").click()
    page.wait_for_url(re.compile(r"event=found"))
    expect(page.locator(".rail")).to_contain_text("found 0:0")


@pytest.mark.parametrize(
    "path", ["/", "/ruling?course=thimble-moor&hole=7", POND + "&book=2023&book=2016", "/drop?events=right-way", "/search"]
)
@pytest.mark.parametrize("size", [WIDE, PHONE], ids=["1280", "390"])
def test_nothing_keeps_anybody_out(visit: Callable[..., Visit], path: str, size: ViewportSize) -> None:
    """The checks of the Web Content Accessibility Guidelines that a program can make; contrast is reckoned in test_contrast.py."""
    page = visit(size).go(path)
    rules = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"], "rules": {"color-contrast": {"enabled": False}}}
    found = Axe().run(page, options=rules)
    assert [(entry["id"], [node["html"][:160] for node in entry["nodes"][:3]]) for entry in found.response["violations"]] == []


def test_a_stroke_goes_to_the_field_of_words(visit: Callable[..., Visit]) -> None:
    page = visit().go(POND)
    page.locator("#map").focus()
    page.keyboard.press("/")
    expect(page.get_by_label("In the player's words")).to_be_focused()
    page.keyboard.type("a/b")
    expect(page.get_by_label("In the player's words")).to_have_value("a/b")


def test_the_page_says_so_when_the_desk_was_stopped(browser: Browser) -> None:
    desk = start_desk(EXAMPLES)
    page = browser.new_page()
    page.goto(desk.address)
    page.goto(desk.origin + POND)
    page.get_by_text("State or change facts").click()
    page.get_by_label("Longest club").fill("44,5")
    assert "closed" in desk.stop()
    page.locator("#map").focus()
    page.keyboard.press("ArrowUp")
    expect(page.get_by_role("alert")).to_contain_text("the desk was stopped")
    assert "y=117.5" in page.url
    expect(page.get_by_label("Longest club")).to_have_value("44,5")
    page.get_by_role("button", name="Rule on it").click()
    expect(page.locator("form.casing + [role=alert]")).to_contain_text("the desk was stopped")
    expect(page.get_by_label("Longest club")).to_have_value("44,5")
    expect(page.locator("h1")).to_have_text("Ball at hole 7")
    page.close()


def test_the_first_page_is_light(browser: Browser, started: Callable[[Path], str]) -> None:
    """What is fetched for it, as it is sent: no more than 300 kB."""
    page = browser.new_page()
    sizes: list[int] = []
    page.on("requestfinished", lambda request: sizes.append(request.sizes()["responseBodySize"]))
    page.goto(started(EXAMPLES))
    page.wait_for_load_state("networkidle")
    assert 0 < sum(sizes) <= 300_000
    page.close()
