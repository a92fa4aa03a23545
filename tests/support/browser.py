"""Asking Chromium how a page stands at a width: what runs out of it."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from html import escape, unescape
from pathlib import Path

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
_HOLD = """<!doctype html><body><iframe src="{page}" width="{width}" height="900" frameborder="0"></iframe>
<script>addEventListener('message', told => {{ document.body.textContent = 'TOLD ' + told.data + ' DONE' }})</script></body>"""


def run_out(page: Path, width_px: int) -> list[str]:
    """What of a page stands outside a screen so wide, and not in a part that slides; all that is folded is opened first.

    Args:
        page: The page; a copy that measures itself is written beside it.
        width_px: Width of the screen.
    """
    chromium = shutil.which("chromium")
    assert chromium is not None, "scripts/chromium.sh installs it"
    measured, hold = page.with_name("measured.html"), page.with_name("held.html")
    measured.write_text(_POLICY.sub("", page.read_text(encoding="utf-8")) + _MEASURE, encoding="utf-8")
    hold.write_text(_HOLD.format(page=escape(measured.as_uri(), quote=True), width=width_px), encoding="utf-8")
    run = [chromium, "--headless", "--no-sandbox", "--disable-gpu", "--virtual-time-budget=8000", "--dump-dom", hold.as_uri()]
    done = subprocess.run(run, capture_output=True, text=True, check=False, timeout=120)
    told = re.search(r"<body>TOLD (.*) DONE</body>", done.stdout, re.DOTALL)
    for written in (measured, hold):
        written.unlink()
    assert told is not None, done.stderr[-2000:]
    found = json.loads(unescape(told[1]))
    assert found["wide"] == width_px
    return [*found["out"], *([f"the page is {found['across']} wide"] if found["across"] > width_px else [])]
