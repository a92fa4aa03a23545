"""The sheets in Debian's Chromium: looked at and saved by keyboard, with script and without, at any width."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import ViewportSize, expect

from tests.desk.test_in_a_browser import NARROW, PHONE, WIDE, Visit, browser, visit

__all__ = ["browser", "visit"]
pytestmark = pytest.mark.browser
PATHS = (
    "/sheets",
    "/sheets/show?print=papers-of-plan",
    "/sheets/show?print=clarity&trial=four-changes",
    "/sheets/show?print=strip&length=30cm",
)
AXE = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"], "rules": {"color-contrast": {"enabled": False}}}


@pytest.mark.parametrize("size", [WIDE, PHONE], ids=["1280", "390"])
def test_a_sheet_is_looked_at_and_saved_by_keyboard(visit: Callable[..., Visit], size: ViewportSize, tmp_path: Path) -> None:
    page = visit(size).page
    page.get_by_role("link", name=re.compile("Sheets$")).focus()
    page.keyboard.press("Enter")
    page.get_by_role("link", name="Look at it Measuring strip").or_(page.get_by_role("link", name="Look again Measuring strip")).focus()
    page.keyboard.press("Enter")
    picture = page.get_by_role("img", name=re.compile("Page 1 of"))
    expect(picture).to_be_visible(timeout=60_000)
    assert picture.evaluate("image => image.decode().then(() => image.naturalWidth)") > 600
    page.get_by_role("link", name="Save the PDF").focus()
    with page.expect_download() as saving:
        page.keyboard.press("Enter")
    assert saving.value.suggested_filename == "strip.pdf"
    saving.value.save_as(tmp_path / "strip.pdf")
    assert (tmp_path / "strip.pdf").read_bytes().startswith(b"%PDF-")


def test_a_sheet_is_made_without_script(visit: Callable[..., Visit]) -> None:
    page = visit(script=False).go("/sheets/show?print=strip&length=40cm")
    expect(page.get_by_text("Not made yet.")).to_be_visible()
    page.get_by_label(re.compile("Length")).fill("41cm")
    page.get_by_role("button", name="Make it").click(timeout=60_000)
    expect(page.get_by_role("img", name=re.compile("Page 1 of"))).to_be_visible(timeout=60_000)
    assert "length=41cm" in page.url


def test_what_cannot_be_made_is_said_where_it_was_asked(visit: Callable[..., Visit]) -> None:
    entered = visit()
    page = entered.go("/sheets/show?print=strip&length=9+parsecs")
    expect(page.get_by_role("alert")).to_contain_text("parsecs", timeout=60_000)
    expect(page.get_by_label(re.compile("Length"))).to_have_value("9 parsecs")
    entered.faults[:] = [fault for fault in entered.faults if "422" not in fault]  # the refusal itself is no fault of the page


@pytest.mark.parametrize("size", [WIDE, PHONE, NARROW], ids=["1280", "390", "320"])
def test_every_page_fits_its_window_and_keeps_nobody_out(visit: Callable[..., Visit], size: ViewportSize) -> None:
    entered = visit(size)
    for path in PATHS:
        page = entered.go(path)
        if "length" in path:
            expect(page.get_by_role("img", name=re.compile("Page 1 of"))).to_be_visible(timeout=60_000)
        assert page.evaluate("document.documentElement.scrollWidth") <= size["width"], path
        found = Axe().run(page, options=AXE)
        assert [(path, one["id"], [node["html"][:160] for node in one["nodes"][:3]]) for one in found.response["violations"]] == []
        for target in page.locator("a.btn, button, select, input:not([type=hidden]), .crumbs a").all():
            box = target.bounding_box()
            assert box is None or not target.is_visible() or box["height"] >= 43.9, target.evaluate("node => node.outerHTML")
