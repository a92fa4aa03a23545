"""Takes the pictures of the desk's pages in docs/pictures, in Debian's Chromium on the demo course.

python -m builders.desk_pictures
"""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import ViewportSize, sync_playwright

from tests.support.started_desk import CHROMIUM, FLAGS, running_desk

ROOT = Path(__file__).resolve().parents[1]
OUT = ROOT / "docs" / "pictures"
WIDE, PHONE = ViewportSize(width=1280, height=860), ViewportSize(width=390, height=844)
POND = (
    "/ruling?course=thimble-moor&hole=7&situation=penalty-area&x=-383.38&y=117.5&longest=45"
    "&crossed_at.x=-388.38&crossed_at.y=113.5&previous_stroke.x=-362&previous_stroke.y=-20"
)
PAGES = (
    ("desk-home", WIDE, "/"),
    ("desk-ruling", WIDE, POND),
    ("desk-ruling-phone", PHONE, POND),
    ("desk-ground-today", WIDE, "/ground/today?course=thimble-moor&day=2026-06-13&hole=9&show=green"),
    ("desk-ground-marking", WIDE, "/ground/marking?course=thimble-moor"),
    ("desk-trial", WIDE, "/trial?trial=four-changes&change=3"),
    ("desk-drop", WIDE, "/drop?events=right-way,first-touch-inside,rests-outside"),
)


def main() -> int:
    """Start the desk on the demo data, visit its pages, and write a picture of each."""
    with running_desk(ROOT / "examples") as desk, sync_playwright() as drives:
        browser = drives.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        for name, size, path in PAGES:
            page = browser.new_page(viewport=size)
            page.goto(desk.address)
            page.goto(desk.origin + path)
            page.screenshot(path=OUT / f"{name}.png")
            print(f"{name}.png")
        browser.close()
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
