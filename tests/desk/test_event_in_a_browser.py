"""The event in Debian's Chromium: walked by keyboard from the head to the results and the log, at any width."""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, ViewportSize, expect

from marram.office.sheets.folder_papers import STORE
from tests.desk.conftest import EXAMPLES
from tests.desk.test_in_a_browser import NARROW, PHONE, WIDE, Visit, browser
from tests.support.documents import run_day

__all__ = ["browser"]
pytestmark = pytest.mark.browser
AXE = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"], "rules": {"color-contrast": {"enabled": False}}}


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory, started: Callable[[Path], str]) -> str:
    folder = tmp_path_factory.mktemp("event")
    shutil.copytree(EXAMPLES / "courses", folder / "courses")
    run_day(folder / STORE)
    return started(folder)


@pytest.fixture
def enter(browser: Browser, address: str) -> Iterator[Callable[[ViewportSize], Visit]]:
    opened = []

    def entered(size: ViewportSize) -> Visit:
        context = browser.new_context(viewport=size)
        opened.append((context, Visit(context, address)))
        return opened[-1][1]

    yield entered
    for context, visit in opened:
        assert visit.faults == []
        context.close()


@pytest.mark.parametrize("size", [WIDE, PHONE], ids=["1280", "390"])
def test_a_walk_by_keyboard_from_the_head_to_the_log(enter: Callable[[ViewportSize], Visit], size: ViewportSize) -> None:
    page = enter(size).page
    page.get_by_role("link", name=re.compile("Event$")).focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name=re.compile("Starting times"))).to_be_visible(timeout=30_000)
    page.get_by_role("link", name="Look at the results").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_contain_text("the results")
    first = page.locator("table.places tbody tr").first
    expect(first).to_contain_text("Beech")
    assert first.locator(".said" if size is WIDE else "small").is_visible()
    page.get_by_role("link", name="Entries and starting times").focus()
    page.keyboard.press("Enter")
    page.get_by_role("link", name=re.compile(r"All \d+ rows")).focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("row").nth(1)).to_contain_text("Rowan")


@pytest.mark.parametrize("size", [WIDE, PHONE, NARROW], ids=["1280", "390", "320"])
def test_every_page_fits_its_window_and_keeps_nobody_out(enter: Callable[[ViewportSize], Visit], size: ViewportSize) -> None:
    entered = enter(size)
    for path in ("/event", "/event/results", "/event/log"):
        page = entered.go(path)
        assert page.evaluate("document.documentElement.scrollWidth") <= size["width"], path
        found = Axe().run(page, options=AXE)
        assert [(path, one["id"], [node["html"][:160] for node in one["nodes"][:3]]) for one in found.response["violations"]] == []
        for target in page.locator("a.btn, button, a.all").all():
            box = target.bounding_box()
            assert box is None or not target.is_visible() or box["height"] >= 43.9, target.evaluate("node => node.outerHTML")
