"""Every page of the ruling in every light and at every width: what a program can check of the Web Content Accessibility Guidelines."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import ViewportSize

from marram.desk.server.desk_app import PAGES
from tests.desk.test_in_a_browser import NARROW, PHONE, POND, TWO_BOOKS, Visit, browser, visit

__all__ = ["browser", "visit"]
pytestmark = pytest.mark.browser
AT = "course=thimble-moor"
EVERY = (
    f"/?{AT}",
    f"/ruling?{AT}&hole=7",
    f"{POND}{TWO_BOOKS}&left=open",
    POND.partition("&crossed_at")[0],
    f"/ask?{AT}&words=in+the+pond",
    f"/act?{AT}&act=wrong-ball{TWO_BOOKS}",
    f"/thing?{AT}&thing=bridge&area=penalty-area",
    f"/drop?{AT}&events=right-way",
    f"/search?{AT}&events=start@0:00",
    f"/form?{AT}&form=match-play",
    f"/stopped?{AT}",
)
TWICE = ViewportSize(width=640, height=450)
"""What a browser at 200 % leaves of 1280 by 900."""


def test_no_page_is_left_out() -> None:
    """An incident is kept as a file, and is no page."""
    assert {path.partition("?")[0] for path in EVERY} | {"/incident"} == set(PAGES)


@pytest.mark.parametrize("light", ["day", "sun", "night"])
def test_every_page_keeps_nobody_out_in_every_light(visit: Callable[..., Visit], light: str) -> None:
    entered, found = visit(PHONE), {}
    for path in EVERY:
        page = entered.go(f"{path}&light={light}")
        assert page.locator("html").get_attribute("data-light") == light
        told = Axe().run(page, options={"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]})
        found[path] = [(entry["id"], [node["html"][:160] for node in entry["nodes"][:3]]) for entry in told.response["violations"]]
    assert {path: entries for path, entries in found.items() if entries} == {}


@pytest.mark.parametrize("size", [PHONE, NARROW, TWICE], ids=["390", "320", "200 %"])
def test_every_page_fits_its_window(visit: Callable[..., Visit], size: ViewportSize) -> None:
    entered = visit(size)
    wide = {path: entered.go(path).evaluate("document.documentElement.scrollWidth") for path in EVERY}
    assert {path: width for path, width in wide.items() if width > size["width"]} == {}
