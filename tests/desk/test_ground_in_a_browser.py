"""The ground in Chromium: a map dropped in, numbered, marked and ruled on; the day laid down by touch, drag and keys."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, ViewportSize, expect, sync_playwright

from marram.interchange.courses.course_geojson import read_course
from tests.desk.ground_visits import MAPS, folder_with, ponds
from tests.desk.test_in_a_browser import PHONE, WIDE, Visit
from tests.support.started_desk import CHROMIUM, FLAGS

pytestmark = pytest.mark.browser
MAP = MAPS / "malta-flat-18-coarse.osm"
DAY = "/ground/today?course=thimble-moor&day=2026-06-13"
PAGES = (
    "/ground?course=ponds",
    "/ground/holes?course=ponds",
    f"{DAY}&hole=9",
    "/ground/bring?course=ponds",
    "/ground/marking?course=ponds",
)
NARROW = ViewportSize(width=320, height=640)


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with sync_playwright() as drives:
        opened = drives.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield opened
        opened.close()


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = folder_with(tmp_path_factory.mktemp("ground"), day=True)
    (made / "ponds.geojson").write_bytes(ponds())
    return made


@pytest.fixture
def visit(browser: Browser, folder: Path, started: Callable[[Path], str]) -> Iterator[Callable[..., Visit]]:
    opened: list[Visit] = []

    def enter(size: ViewportSize = WIDE, *, script: bool = True, touch: bool = False) -> Visit:
        context = browser.new_context(viewport=size, java_script_enabled=script, has_touch=touch)
        opened.append(Visit(context, started(folder)))
        return opened[-1]

    yield enter
    for entered in opened:
        assert entered.faults == []
        entered.page.context.close()


def on_screen(page: Page, x_m: float, y_m: float) -> tuple[float, float]:
    """Where a place of the course lies on the screen."""
    at = page.evaluate(
        """([x, y]) => { const view = [...document.querySelectorAll("#day-map [data-bounds]")].find((each) => each.getClientRects().length);
        const svg = view.ownerSVGElement, [x0, y0, x1, y1] = view.dataset.bounds.split(" ").map(Number);
        const [l, t, w, h] = view.dataset.box.split(" ").map(Number);
        const at = new DOMPoint(l + (x - x0) / (x1 - x0) * w, t + (y1 - y) / (y1 - y0) * h).matrixTransform(svg.getScreenCTM());
        return [at.x, at.y]; }""",
        [x_m, y_m],
    )
    return at[0], at[1]


@pytest.mark.parametrize("size", [WIDE, PHONE], ids=["1280", "390"])
def test_a_map_becomes_a_course_that_is_ruled_on(visit: Callable[..., Visit], folder: Path, size: ViewportSize) -> None:
    name = f"flat-{size['width']}"
    page = visit(size).go("/ground/bring")
    page.locator('input[name="file"]').set_input_files(MAP)
    page.get_by_label("Name of the course").fill(name)
    page.get_by_role("button", name="Read the file").click()
    page.wait_for_url(re.compile(rf"/ground\?course={name}"), timeout=60_000)
    expect(page.locator(".flt b", has_text="stops")).to_have_count(1)
    page.get_by_role("button", name="Number as proposed").click()
    expect(page.locator(".flt b", has_text="stops")).to_have_count(0, timeout=30_000)
    for water, mark in (("canal-1", "red"), ("canal-2", "yellow")):
        page.get_by_role("button", name=f"Mark {mark}: {water}").click()
        expect(page.get_by_role("button", name=f"Mark {mark}: {water}")).to_have_count(0, timeout=30_000)
    course = read_course(folder / f"{name}.geojson")
    assert {area.features[0].id: area.mark.value for area in course.penalty_areas} == {"canal-1": "red", "canal-2": "yellow"}
    assert len(course.holes) == 18
    ball = next(area for area in course.penalty_areas if area.features[0].id == "canal-2").geometry.representative_point()
    page = visit(size).go(f"/ruling?course={name}&x={ball.x:.2f}&y={ball.y:.2f}&longest=45")
    page.get_by_role("link", name=re.compile("penalty area")).first.click()
    expect(page.locator("#ruling")).to_have_attribute("data-page", "ruling", timeout=30_000)
    assert "yellow" in page.locator("#ruling").inner_text()


def test_a_file_is_dropped_and_one_that_cannot_be_used_is_told_in_place(visit: Callable[..., Visit]) -> None:
    entered = visit()
    page = entered.go("/ground/bring")
    page.get_by_label("Name of the course").fill("Mine")
    dropped = page.evaluate_handle(
        "() => { const held = new DataTransfer(); held.items.add(new File(['{'], 'half <b>.geojson')); return held; }"
    )
    page.dispatch_event("#drop", "drop", {"dataTransfer": dropped})
    page.get_by_role("button", name="Read the file").click()
    expect(page.get_by_role("alert")).to_contain_text("half <b>.geojson")
    expect(page.get_by_label("Name of the course")).to_have_value("Mine")
    entered.faults[:] = [fault for fault in entered.faults if "422" not in fault]  # the refusal is told on the page


@pytest.mark.parametrize("size", [WIDE, PHONE], ids=["1280", "390"])
def test_a_hole_is_cut_where_the_green_is_touched(visit: Callable[..., Visit], folder: Path, size: ViewportSize) -> None:
    page = visit(size, touch=size is PHONE).go(f"{DAY}&hole=9&kind=hole-location")
    page.locator("#day-map").scroll_into_view_if_needed()
    at = on_screen(page, -92.0, -245.0)
    if size is PHONE:
        page.touchscreen.tap(*at)
    else:
        page.mouse.click(*at)
    east = float(page.locator('input[name="x"]').input_value())
    assert abs(east + 92) < 0.5
    page.get_by_role("button", name="Lay it down").click()
    expect(page.locator(".done li").first).to_contain_text("Hole location laid down on hole 9.")
    stated = tomllib.loads((folder / "2026-06-13.toml").read_text(encoding="utf-8"))["hole_locations"]
    assert [(entry["x_m"], entry["hole"]) for entry in stated if "x_m" in entry] == [(east, 9)]
    page.get_by_role("button", name="Undo").click()
    expect(page.locator(".done li")).to_have_count(0)
    stated = tomllib.loads((folder / "2026-06-13.toml").read_text(encoding="utf-8"))["hole_locations"]
    assert {"hole": 9, "on_paces": 8, "left_paces": 9} in stated


def test_a_place_is_dragged_and_stepped_and_a_ring_is_drawn(visit: Callable[..., Visit]) -> None:
    page = visit().go(f"{DAY}&hole=9&kind=temporary-water")
    page.locator("#day-map").scroll_into_view_if_needed()
    page.mouse.click(*on_screen(page, -100, -150))
    page.mouse.move(*on_screen(page, -100, -150))
    page.mouse.down()
    page.mouse.move(*on_screen(page, -90, -150), steps=5)
    page.mouse.up()
    assert abs(float(page.locator('input[name="x"]').input_value()) + 90) < 1
    page.locator("#day-map").focus()
    page.keyboard.press("Shift+ArrowRight")
    assert abs(float(page.locator('input[name="x"]').input_value()) + 89) < 1
    page.get_by_label("a corner of the ring").check()
    for corner in ((-100, -150), (-90, -150), (-90, -140)):
        page.mouse.click(*on_screen(page, *corner))
    corners = [line.split() for line in page.get_by_label("Or a ring").input_value().splitlines()]
    assert len(corners) == 3
    assert abs(float(corners[2][1]) + 140) < 1
    expect(page.locator("#day-map polygon.laid-ring")).to_have_count(1)


@pytest.mark.parametrize("size", [WIDE, PHONE, NARROW], ids=["1280", "390", "320"])
def test_the_pages_fit_and_keep_nobody_out(visit: Callable[..., Visit], size: ViewportSize) -> None:
    entered = visit(size)
    for path in PAGES:
        page = entered.go(path)
        assert page.evaluate("document.documentElement.scrollWidth") <= size["width"], path
        for target in page.locator(
            "a.btn, button, input:not([type=hidden]):not([type=radio]):not([type=checkbox]), .pick, select, summary, nav a"
        ).all():
            box = target.bounding_box()
            if box is not None and target.is_visible():
                assert box["height"] >= 44, (path, target.evaluate("node => node.outerHTML"))
        rules = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"], "rules": {"color-contrast": {"enabled": False}}}
        found = Axe().run(page, options=rules)
        assert [(entry["id"], [node["html"][:160] for node in entry["nodes"][:3]]) for entry in found.response["violations"]] == [], path


def test_everything_works_without_script(visit: Callable[..., Visit], folder: Path) -> None:
    page = visit(script=False).go("/ground/bring")
    page.locator('input[name="file"]').set_input_files({"name": "ponds.geojson", "mimeType": "application/json", "buffer": ponds()})
    page.get_by_label("Name of the course").fill("Without")
    page.get_by_role("button", name="Read the file").click()
    page.get_by_role("button", name="Mark red: pond-1").click()
    assert next(f for f in read_course(folder / "without.geojson").features if f.id == "pond-1").mark == "red"
    page.get_by_role("link", name="Today").first.click()
    page.get_by_label("What").first.select_option("no-play-zone")
    page.get_by_label("Date").fill("2026-08-01")
    page.get_by_label("Before the green").fill("30")
    page.get_by_role("button", name="Lay it down").click()
    expect(page.locator(".laid .flt li")).to_have_count(1)
    page.get_by_role("button", name=re.compile("Take up")).click()
    expect(page.locator(".laid .flt li")).to_have_count(0)
