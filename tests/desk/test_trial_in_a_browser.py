"""Trials in Debian's Chromium: a trial of three changes with one new relief written from nothing, with script and without."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, ViewportSize, expect, sync_playwright

from tests.desk.conftest import EXAMPLES
from tests.support.started_desk import CHROMIUM, FLAGS

pytestmark = pytest.mark.browser
WIDE, PHONE, NARROW = ViewportSize(width=1280, height=900), ViewportSize(width=390, height=844), ViewportSize(width=320, height=640)
PAGES = [
    "/trial",
    "/trial?trial=four-changes",
    "/trial?trial=four-changes&find=lateral+relief+size",
    "/trial?trial=four-changes&change=3",
    "/trial?trial=four-changes&key=act.wrong-ball.cases",
    "/trial?trial=four-changes&key=search.limit_min&filled=yes&now=abc&because=",
    "/trial?trial=divot-holes&change=1&gap=size",
    "/trial?trial=four-changes&relief=new",
    "/trial/plan?trial=four-changes",
    "/trial/shown?trial=four-changes",
    "/trial/report?trial=four-changes&days=season/days.csv&values=season/values.csv",
]


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with sync_playwright() as drives:
        opened = drives.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield opened
        opened.close()


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("desk")
    for name in ("courses", "trials", "incidents", "season"):
        shutil.copytree(EXAMPLES / name, made / name)
    return made


@pytest.fixture
def visit(browser: Browser, started: Callable[[Path], str], folder: Path) -> Iterator[Callable[..., Page]]:
    faults: list[str] = []
    contexts = []

    def enter(size: ViewportSize = WIDE, *, script: bool = True) -> Page:
        context = browser.new_context(viewport=size, java_script_enabled=script)
        contexts.append(context)
        context.set_default_timeout(15_000)
        page = context.new_page()
        page.on("console", lambda said: faults.append(said.text) if said.type in {"error", "warning"} else None)
        page.on("pageerror", lambda error: faults.append(str(error)))
        page.on("request", lambda request: faults.append(request.url) if "//127.0.0.1:" not in request.url else None)
        page.goto(started(folder))
        return page

    yield enter
    for context in contexts:
        context.close()
    assert faults == []


def go(page: Page, path: str) -> Page:
    page.goto(re.sub(r"(//[^/]+)/.*", r"\1", page.url) + path)
    return page


def find(page: Page, words: str, key: str) -> None:
    page.get_by_role("link", name="Add a change").click()
    page.get_by_label("Which rule? In your words, or by its number").fill(words)
    page.get_by_role("button", name="Find it").click()
    page.locator(f'a[href*="key={key}"]').first.click()


def write_relief(page: Page) -> None:
    page.get_by_role("link", name="Add a change").click()
    page.get_by_role("link", name="Write it as a new relief").click()
    page.locator("[name=thing]").fill("a divot hole")
    page.locator("[name=means]").fill("A hole in the turf that a stroke has left.")
    page.locator("[name=radius]").fill("0,08")
    page.get_by_role("button", name="choose a size").click()
    page.get_by_label(re.compile("^one club-length")).check()
    page.get_by_label("Reason").fill("A good drive should not be punished.")
    page.get_by_role("button", name="Add this relief to the trial").click()
    expect(page.locator(".t-list ol a")).to_have_count(3)


def write_three_changes(page: Page, title: str) -> str:
    """Write a trial of three changes, one of them a new relief, and give the name of its file."""
    go(page, "/trial")
    page.locator("[name=title]").fill(title)
    page.get_by_label("What it is for, a sentence a line").fill("Less waiting.")
    page.get_by_role("button", name="Begin this trial").click()
    page.wait_for_url(re.compile(r"[?&]trial="))
    found = re.search(r"[?&]trial=([a-z0-9-]+)", page.url)
    assert found is not None
    find(page, "how long may a ball be looked for", "search.limit_min")
    page.locator("[name=now],[name=amount]").fill("2")
    page.get_by_label("Reason").fill("Groups behind stand and wait.")
    page.locator("[name=outcome]").select_option("search_s")
    page.get_by_label("Smallest effect that matters").fill("15")
    page.get_by_role("button", name="Add this change to the trial").click()
    expect(page.locator(".t-list ol a")).to_have_count(1)
    find(page, "lateral relief size", "relief.lateral.size")
    page.locator("[name=now],[name=amount]").fill("1,5")
    page.get_by_label("Reason").fill("Two is much.")
    page.get_by_role("button", name="Add this change to the trial").click()
    expect(page.locator(".t-list ol a")).to_have_count(2)
    write_relief(page)
    return found[1]


@pytest.mark.parametrize("script", [True, False])
def test_three_changes_with_a_new_relief_are_written_from_nothing(visit: Callable[..., Page], folder: Path, *, script: bool) -> None:
    page = visit(script=script)
    name = write_three_changes(page, f"Three changes {'with' if script else 'without'} script")
    command = [sys.executable, "-c", "from marram.cli.main import main; main()", "trial", "check", str(folder / f"{name}.toml")]
    done = subprocess.run(command, capture_output=True, text=True, check=False, env={**os.environ})
    assert "stops" not in done.stdout, done.stdout
    assert done.stderr == ""
    page.get_by_role("link", name="The trial as a whole").click()
    go(page, f"/ruling?course=thimble-moor&hole=7&situation=unplayable&x=-376&y=80&book=2023&book=2023%2B{name}")
    expect(page.locator("#ruling")).to_contain_text(name)


def test_what_a_new_value_does_is_told_while_it_is_typed_and_kept_over_a_reload(visit: Callable[..., Page]) -> None:
    page = go(visit(), "/trial?trial=four-changes&change=3")
    page.locator("[name=now],[name=amount]").fill("3")
    expect(page.locator(".t-heading")).to_have_text("Three club-lengths instead of two.")
    expect(page.locator("[name=now],[name=amount]")).to_be_focused()
    page.get_by_label("Reason").fill("Half-written")
    page.wait_for_url(re.compile("Half-written"))
    page.reload()
    expect(page.locator("[name=now],[name=amount]")).to_have_value("3")
    expect(page.get_by_label("Reason")).to_have_value("Half-written")
    expect(page.locator("#t-ground svg.drawing").first).to_be_visible(timeout=60_000)
    page.locator("[name=now],[name=amount]").fill("wide")
    expect(page.locator("#wrong-now")).to_be_visible()


def test_a_gap_of_the_sentence_opens_by_keyboard(visit: Callable[..., Page]) -> None:
    page = go(visit(), "/trial?trial=divot-holes&change=1")
    button = page.get_by_role("button", name=re.compile("no penalty"))
    button.focus()
    page.keyboard.press("Enter")
    expect(page.locator("[name=penalty]")).to_be_focused()
    page.keyboard.press("ControlOrMeta+a")
    page.keyboard.type("1")
    expect(page.get_by_role("button", name=re.compile("one penalty stroke"))).to_be_visible()


@pytest.mark.parametrize("size", [WIDE, PHONE, NARROW], ids=["wide", "phone", "narrow"])
def test_no_page_of_a_trial_is_wider_than_its_window(visit: Callable[..., Page], size: ViewportSize) -> None:
    page = visit(size, script=False)
    for path in PAGES:
        go(page, path)
        page.evaluate("for (const each of document.querySelectorAll('details')) each.open = true")
        assert page.evaluate("document.documentElement.scrollWidth") <= size["width"], path


@pytest.mark.parametrize("light", ["day", "night", "sun"])
@pytest.mark.parametrize("size", [WIDE, PHONE], ids=["wide", "phone"])
def test_nothing_of_a_trial_keeps_anybody_out(visit: Callable[..., Page], size: ViewportSize, light: str) -> None:
    page = visit(size)  # the checker needs scripts: on a page without any its promise is never kept
    for path in PAGES if light == "day" else PAGES[3::3]:
        go(page, f"{path}{'&' if '?' in path else '?'}light={light}")
        page.evaluate("for (const each of document.querySelectorAll('details')) each.open = true")
        found = Axe().run(page, options={"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]})
        assert [f"{path}: {fault['id']} {fault['nodes'][0]['html'][:160]}" for fault in found.response["violations"]] == []


SMALL = """() => ['a', 'button', 'input:not([type=hidden])', 'select', 'textarea', 'summary']
.flatMap(name => [...document.querySelectorAll('main ' + name)])
.filter(each => !each.closest('p.advice, .sr') && !each.matches('.sr') && each.checkVisibility())
.map(each => [each, (each.closest('label.pick') ?? each).getBoundingClientRect()])
.filter(([each, box]) => box.height > 0 && box.height < 43.5)
.map(([each, box]) => each.outerHTML.slice(0, 90) + ' ' + box.height)"""


def test_what_is_pressed_of_a_trial_is_large_enough(visit: Callable[..., Page]) -> None:
    page = visit(PHONE, script=False)
    for path in PAGES:
        assert go(page, path).evaluate(SMALL) == [], path
