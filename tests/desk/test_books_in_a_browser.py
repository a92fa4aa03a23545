"""The rule book in Debian's Chromium: walked by keyboard, no page wider than its window, nothing that keeps anybody out, printed whole."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import ViewportSize, expect

from tests.desk.test_in_a_browser import NARROW, PHONE, WIDE, Visit, browser, visit

__all__ = ["browser", "visit"]
pytestmark = pytest.mark.browser
PATHS = (
    "/books",
    "/books/situation?situation=penalty-area&course=thimble-moor",
    "/books/rule?rule=act.wrong-ball",
    "/books/rule?rule=relief.penalty-area-lateral-red&book=2019%2Bfixed-lengths",
    "/books/heading?heading=The+flagstick",
    "/books/find?words=in+the+pond",
    "/books/compare?book=2019&book=2023",
)
AXE = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"], "rules": {"color-contrast": {"enabled": False}}}


@pytest.mark.parametrize("size", [WIDE, PHONE, NARROW], ids=["1280", "390", "320"])
def test_every_page_fits_its_window_and_keeps_nobody_out(visit: Callable[..., Visit], size: ViewportSize) -> None:
    entered = visit(size)
    for path in PATHS:
        page = entered.go(path)
        assert page.evaluate("document.documentElement.scrollWidth") <= size["width"], path
        found = Axe().run(page, options=AXE)
        assert [(path, one["id"], [node["html"][:160] for node in one["nodes"][:3]]) for one in found.response["violations"]] == []


def test_what_is_pressed_is_large_enough(visit: Callable[..., Visit]) -> None:
    entered = visit(PHONE, touch=True)
    for path in PATHS:
        page = entered.go(path)
        for target in page.locator(
            "a.btn, button, input:not([type=hidden]):not([type=checkbox]), .pick, select, summary, nav a, .headings a"
        ).all():
            box = target.bounding_box()
            if box is not None and target.is_visible():
                assert box["height"] >= 43.9, (path, target.evaluate("node => node.outerHTML"))


@pytest.mark.parametrize("size", [WIDE, PHONE], ids=["1280", "390"])
def test_a_walk_by_keyboard_from_the_contents_to_a_ruling(visit: Callable[..., Visit], size: ViewportSize) -> None:
    page = visit(size).page
    page.get_by_role("link", name=re.compile("Rule book")).focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("Rules of Golf (January 2023)")
    field = page.get_by_label("Find a rule in words")
    field.focus()
    page.keyboard.type("in the pond")
    page.keyboard.press("Enter")
    page.locator(".found a").first.focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("Penalty area")
    expect(page.get_by_role("heading", level=3).first).to_contain_text("Stroke and distance")
    page.get_by_role("link", name="Rule at this place").focus()
    page.keyboard.press("Enter")
    page.wait_for_url(re.compile(r"/ruling\?.*situation=penalty-area"))
    expect(page.locator("#ruling")).to_be_visible()


def test_a_book_is_put_together_and_read(visit: Callable[..., Visit]) -> None:
    page = visit().go("/books")
    page.get_by_label("Edition").select_option("2019")
    page.get_by_text(re.compile("Lay local rules or a trial over it")).click()
    page.get_by_label("fixed-lengths").check()
    page.get_by_role("button", name="Read this book").click()
    expect(page.locator(".stamp b")).to_have_text("2019+fixed-lengths")
    expect(page.get_by_label("fixed-lengths")).to_be_checked()


def test_on_paper_a_situation_is_text_without_tools(visit: Callable[..., Visit]) -> None:
    page = visit().go(PATHS[1])
    page.emulate_media(media="print")
    assert not page.locator("header.head").is_visible()
    assert not page.get_by_role("link", name="Rule at this place").is_visible()
    assert page.get_by_role("heading", name="Lateral relief").is_visible()
    assert page.locator("#sources").is_visible()
