"""Asking Chromium how a page stands at a width: what runs out of it."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from html import escape, unescape
from pathlib import Path
from typing import Any

_MEASURE = """
<script>addEventListener('load', () => {
  const slides = each => each && each !== document.body &&
    (/auto|scroll/.test(getComputedStyle(each).overflowX) || slides(each.parentElement));
  for (const each of document.querySelectorAll('details')) each.open = true;
  const out = [];
  for (const each of document.querySelectorAll('body *')) {
    const box = each.getBoundingClientRect();
    const isOut = box.width > 0 && box.height > 0 && (box.right > innerWidth + 0.5 || box.left < -0.5);
    if (isOut && !each.closest('.skip, svg') && !slides(each))
      out.push(each.tagName + ' ' + each.textContent.trim().slice(0, 60));
  }
  parent.postMessage(JSON.stringify({wide: innerWidth, across: document.documentElement.scrollWidth, out: out}), '*');
})</script>
"""
_POLICY = re.compile(r'<meta http-equiv="Content-Security-Policy"[^>]*>')
"""A page of ours forbids every script; its copy is measured by one."""
_HOLD = """<!doctype html><body><iframe src="{page}" width="{width}" height="{height}" frameborder="0"></iframe>
<script>addEventListener('message', told => {{ document.body.textContent = 'TOLD ' + told.data + ' DONE' }})</script></body>"""


def run_out(page: Path, width_px: int) -> list[str]:
    """What of a page stands outside a screen so wide, and not in a part that slides; all that is folded is opened first.

    Args:
        page: The page; a copy that measures itself is written beside it.
        width_px: Width of the screen.
    """
    found = _asked(page, _MEASURE, width_px, 900)
    assert found["wide"] == width_px
    return [*found["out"], *([f"the page is {found['across']} wide"] if found["across"] > width_px else [])]


def _asked(page: Path, script: str, width_px: int, height_px: int) -> dict[str, Any]:
    """What a script says of a page in a frame of a size."""
    chromium = shutil.which("chromium")
    assert chromium is not None, "scripts/chromium.sh installs it"
    measured, hold = page.with_name("measured.html"), page.with_name("held.html")
    measured.write_text(_POLICY.sub("", page.read_text(encoding="utf-8")) + script, encoding="utf-8")
    hold.write_text(_HOLD.format(page=escape(measured.as_uri(), quote=True), width=width_px, height=height_px), encoding="utf-8")
    run = [chromium, "--headless", "--no-sandbox", "--disable-gpu", "--virtual-time-budget=8000", "--dump-dom", hold.as_uri()]
    done = subprocess.run(run, capture_output=True, text=True, check=False, timeout=120)
    told = re.search(r"<body>TOLD (.*) DONE</body>", done.stdout, re.DOTALL)
    for written in (measured, hold):
        written.unlink()
    assert told is not None, done.stderr[-2000:]
    answer: dict[str, Any] = json.loads(unescape(told[1]))
    return answer


_FULL = """
<script>addEventListener('load', () => {
  const out = [];
  for (const slide of document.querySelectorAll('section')) {
    const foot = slide.querySelector('footer').getBoundingClientRect();
    for (const each of slide.querySelectorAll('h2, h3, p, li, td, figcaption, svg')) {
      const box = each.getBoundingClientRect(), isIn = each.closest('footer, svg svg');
      if (!isIn && box.height > 0 && (box.bottom > foot.top + 1 || box.right > innerWidth + 0.5))
        out.push(slide.id + ': ' + each.tagName + ' ' + each.textContent.trim().slice(0, 40));
    }
  }
  parent.postMessage(JSON.stringify({out: out}), '*');
})</script>
"""


def run_under_foot(page: Path, width_px: int, height_px: int) -> list[str]:
    """What of the frames of a big screen runs under the foot of its frame or out of the screen.

    Args:
        page: The page; a copy that measures itself is written beside it.
        width_px: Width of the screen.
        height_px: Its height.
    """
    told = _asked(page, _FULL, width_px, height_px)
    found: list[str] = told["out"]
    return found
