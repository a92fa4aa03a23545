"""Courses and places that stop a ruling, in Debian's Chromium: the page says what is missing and keeps what was stated, for everybody."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from tests.desk.conftest import EXAMPLES
from tests.desk.test_in_a_browser import PHONE, browser
from tests.support.started_desk import running_desk

__all__ = ["browser"]
pytestmark = pytest.mark.browser
POND = "hole=7&situation=penalty-area&x=-383.38&y=117.5&longest=44.5&crossed_at.x=-388.38&crossed_at.y=113.5"
Feature = dict[str, dict[str, object]]


def kind(feature: Feature) -> object:
    return feature["properties"]["kind"]


def unmarked(feature: Feature) -> Feature:
    is_water = kind(feature) == "penalty-area"
    return {**feature, "properties": {**feature["properties"], "mark": "unmarked"}} if is_water else feature


def unknown_mark(feature: Feature) -> Feature:
    is_water = kind(feature) == "penalty-area"
    return {**feature, "properties": {**feature["properties"], "mark": "blue"}} if is_water else feature


@pytest.fixture(scope="module")
def hard_courses(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("hard")
    whole = json.loads((EXAMPLES / "courses" / "thimble-moor.geojson").read_text(encoding="utf-8"))
    features: list[Feature] = whole["features"]
    laid: dict[str, list[Feature]] = {
        "whole": features,
        "no-location": [each for each in features if not (kind(each) == "hole-location" and each["properties"]["holes"] == [7])],
        "unmarked": [unmarked(each) for each in features],
        "no-boundary": [each for each in features if kind(each) != "boundary"],
        "faulty": [unknown_mark(each) for each in features],
    }
    for name, each in laid.items():
        (folder / f"{name}.geojson").write_text(json.dumps({**whole, "features": each}), encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def opened(browser: Browser, hard_courses: Path) -> Iterator[Callable[[str], Page]]:
    """Opens a page of the desk on those courses, on a phone; nothing may go wrong in it but what is told."""
    with running_desk(hard_courses) as desk:
        context = browser.new_context(viewport=PHONE)
        page = context.new_page()
        errors: list[str] = []
        page.on("pageerror", lambda error: errors.append(str(error)))
        page.goto(desk.address)

        def go(path: str) -> Page:
            page.goto(desk.origin + path)
            return page

        yield go
        assert errors == []
        context.close()


def keeps_nobody_out(page: Page) -> bool:
    found = Axe().run(page, options={"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]})
    assert [(entry["id"], [node["html"][:160] for node in entry["nodes"][:3]]) for entry in found.response["violations"]] == []
    return bool(page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"])


@pytest.mark.parametrize(
    ("stated", "says"),
    [
        (f"course=no-location&{POND}", "Where hole 7 is cut today is not known"),
        (f"course=no-boundary&{POND}", "has no boundary"),
        (f"course=faulty&{POND}", "16 faults"),
        ("course=whole&hole=7&situation=unplayable&x=4000&y=3500&longest=44.5", "5 km from the middle"),
        ("course=whole&hole=7&situation=unplayable&x=3000&y=0&longest=44.5", "outside the boundary"),
    ],
)
def test_what_stops_a_ruling_is_said_and_what_was_stated_is_kept(opened: Callable[[str], Page], stated: str, says: str) -> None:
    page = opened(f"/ruling?{stated}")
    alert = page.get_by_role("alert")
    expect(alert).to_contain_text(says)
    expect(alert).to_be_visible()
    assert "longest=44.5" in page.url
    assert keeps_nobody_out(page)


def test_without_a_hole_location_the_facts_stay_in_their_fields_and_the_ground_is_drawn(opened: Callable[[str], Page]) -> None:
    page = opened(f"/ruling?course=no-location&{POND}")
    expect(page.get_by_label("Longest club")).to_have_value("44.5")
    expect(page.locator("#map .on-phone svg.drawing")).to_be_visible()
    page.get_by_label("Longest club").fill("43")
    page.get_by_role("button", name="Rule on it").click()
    page.wait_for_url(re.compile("longest=43"))
    expect(page.get_by_role("alert")).to_contain_text("is not known")


def test_where_no_hole_is_cut_a_ball_can_still_be_put_and_said_what_happened(opened: Callable[[str], Page]) -> None:
    page = opened("/ruling?course=no-location&x=-383.38&y=117.5")
    expect(page.locator("h1")).to_have_text("What happened?")
    page.get_by_role("link", name=re.compile("penalty area")).first.click()
    expect(page.get_by_role("alert").or_(page.locator(".ask").first).first).to_be_visible()


def test_water_that_nobody_marked_is_ruled_on_as_red_and_called_unmarked(opened: Callable[[str], Page]) -> None:
    """Rules of Golf (January 2019), Rule 17.1a: a penalty area whose colour the Committee has not marked is treated as red."""
    page = opened(f"/ruling?course=unmarked&{POND}")
    expect(page.get_by_role("heading", name="Lateral relief")).to_be_visible()
    assert page.locator("#map .on-phone path.unmarked").count() > 0
    assert page.locator("#map .on-phone path.red").count() == 0
    assert keeps_nobody_out(page)


def test_a_ball_moved_where_nothing_can_be_ruled_leaves_the_page_and_says_why_at_rest(opened: Callable[[str], Page]) -> None:
    page = opened(f"/ruling?course=no-location&{POND}")
    page.get_by_label("the ball", exact=True).check()
    page.locator("#map").focus()
    page.keyboard.press("Shift+ArrowUp")
    page.wait_for_url(re.compile(r"y=118\.50"))
    expect(page.get_by_role("alert")).to_contain_text("is not known")
    expect(page.locator("#heard")).to_contain_text("is not known")
