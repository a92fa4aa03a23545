"""The desk in Chromium: from a handle's move to new marks on the screen, in frames of this machine, beside the plain loop of its server.

A pond's crossing point, an unplayable ball and a ball on a path under two books are each dragged; a page draws a move's answer in the
frame after it comes. Beside it the same moves over the same socket from a plain program, one after another, without a browser. Then the
time from rest to words, the first page on the wire, and the time from the command to a page that is ready, with files warm.
"""

from __future__ import annotations

import json
import statistics
import time
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import parse_qsl, urlencode, urlsplit

from websockets.sync.client import connect
from websockets.typing import Origin

from benchmarks.timing import Row
from tests.support.started_desk import CHROMIUM, FLAGS, running_desk

if TYPE_CHECKING:
    from playwright.sync_api import BrowserContext, Page, Request

EXAMPLES = Path(__file__).resolve().parents[1] / "examples"
MOVES = 120
_AT = "/ruling?course=thimble-moor&longest=45&"
SCENES = {
    "pond": (f"{_AT}hole=7&situation=penalty-area&x=-383.38&y=117.5&crossed_at.x=-388.38&crossed_at.y=113.5", "crossed_at"),
    "unplayable": (f"{_AT}hole=7&situation=unplayable&x=-376&y=80", "ball"),
    "path, two books": (
        f"{_AT}hole=15&situation=immovable-obstruction&x=378.26&y=-216.09&hand=right&club=iron&book=2023&book=2016",
        "ball",
    ),
}
_LISTEN = """
window.came = [];
window.WebSocket = class extends WebSocket {
  constructor(...asked) {
    super(...asked);
    this.addEventListener("message", (event) => {
      const seq = JSON.parse(event.data).seq;
      requestAnimationFrame(() => {
        const after = new MessageChannel();
        after.port1.onmessage = () => window.came.push([seq, performance.now()]);
        after.port2.postMessage(0);
      });
    });
  }
};
"""
_DRAG = """async ([handle, moves]) => {
  const grip = [...document.querySelectorAll(`.grip[data-handle="${handle}"]`)].find((each) => each.getClientRects().length);
  const box = grip.getBoundingClientRect(), map = document.getElementById("map");
  const x = box.x + box.width / 2, y = box.y + box.height / 2, asked = [], frames = [];
  const typed = () => [...document.querySelectorAll("#ruling input[data-place]")].map((field) => field.value).join();
  const same = { pointerId: 1, pointerType: "mouse", button: 0, bubbles: true };
  const at = (kind, dx, dy) => new PointerEvent(kind, { ...same, clientX: x + dx, clientY: y + dx / 3 + dy });
  map.setPointerCapture = () => {};
  grip.dispatchEvent(at("pointerdown", 0, 0));
  let last = performance.now();
  for (let number = 1; number <= moves; number += 1) {
    await new Promise(requestAnimationFrame);
    frames.push(performance.now() - last);
    last = performance.now();
    const before = typed();
    map.dispatchEvent(at("pointermove", 8 + 1.5 * (number % 40), number / 40));
    if (typed() !== before) asked.push(last); // a move of less than a centimetre asks nothing
  }
  await new Promise((done) => setTimeout(done, 400));
  const words = document.getElementById("said");
  const rested = performance.now();
  map.dispatchEvent(at("pointerup", 30, 8));
  while (document.getElementById("said") === words && performance.now() - rested < 20000) await new Promise(requestAnimationFrame);
  return { frames, asked, came: window.came, words_ms: performance.now() - rested };
}"""


@dataclass(frozen=True, kw_only=True)
class Dragged:
    """What one drag took.

    Attributes:
        marks_ms: From a move to its marks on the screen, of each move that was answered.
        frame_ms: Median time of a frame.
        words_ms: From rest to words.
    """

    marks_ms: list[float]
    frame_ms: float
    words_ms: float


def p95(values: list[float]) -> float:
    """The value that 95 of 100 do not exceed."""
    return sorted(values)[max(0, round(0.95 * len(values)) - 1)]


def drag(page: Page, address: str, handle: str) -> Dragged:
    """Open a ruling and drag a handle of it, one move a frame."""
    page.goto(address)
    page.locator(f'.grip[data-handle="{handle}"]').first.wait_for(state="attached")
    told = page.evaluate(_DRAG, [handle, MOVES])
    marks = [at - told["asked"][seq - 1] for seq, at in told["came"] if 1 <= seq <= len(told["asked"])]
    return Dragged(marks_ms=marks, frame_ms=statistics.median(told["frames"][5:]), words_ms=told["words_ms"])


def plain_ms(context: BrowserContext, page: Page, origin: str) -> list[float]:
    """The same moves over the socket from a plain program, one after another."""
    cookie = "; ".join(f"{each.get('name')}={each.get('value')}" for each in context.cookies())
    bounds = [float(at) for at in str(page.locator("#map .on-wide [data-bounds]").get_attribute("data-bounds")).split()]
    name = "crossed_at.x" if "crossed_at.x=" in page.url else "x"
    pairs = dict(parse_qsl(urlsplit(page.url).query))
    books = [pair for pair in parse_qsl(urlsplit(page.url).query) if pair[0] == "book"]
    took = []
    with connect(origin.replace("http", "ws") + "/moving", additional_headers={"Cookie": cookie}, origin=Origin(origin)) as socket:
        for seq in range(1, MOVES + 1):
            moved = [(key, value) for key, value in pairs.items() if key != "book"] + books
            query = urlencode([(key, f"{float(value) + 0.01 * (seq % 40):.2f}" if key == name else value) for key, value in moved])
            start = time.perf_counter()
            socket.send(json.dumps({"seq": seq, "query": query, "bounds": bounds}))
            socket.recv()
            took.append(1000 * (time.perf_counter() - start))
    return took


def first_page(page: Page, address: str, start: float) -> tuple[int, float, float]:
    """How many requests the first page takes, kilobytes on the wire, and seconds from the command until it is there."""
    done: list[Request] = []

    def note(request: Request) -> None:
        done.append(request)

    page.on("requestfinished", note)
    page.goto(address, wait_until="load")
    ready_s = time.perf_counter() - start
    page.wait_for_load_state("networkidle")
    page.remove_listener("requestfinished", note)
    sizes = [request.sizes() for request in [*done]]
    return len(sizes), sum(each["responseBodySize"] + each["responseHeadersSize"] for each in sizes) / 1000, ready_s


def measure() -> list[Row]:
    """Start a desk and drag each scene; one row each."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as drives:
        browser = drives.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        context = browser.new_context(viewport={"width": 1280, "height": 900})
        context.add_init_script(_LISTEN)
        page = context.new_page()
        start = time.perf_counter()
        with running_desk(EXAMPLES) as desk:
            requests, size_kb, ready_s = first_page(page, desk.address, start)
            print(f"desk, first page: {requests} requests, {size_kb:.0f} kB; ready {ready_s:.2f} s after the command", flush=True)
            rows: list[Row] = [{"name": "desk, first page", "requests": requests, "kb": size_kb, "ready_s": ready_s}]
            for name, (path, handle) in SCENES.items():
                drag(page, desk.origin + path, handle)  # both processes and the browser warm
                rows.append(_row(name, drag(page, desk.origin + path, handle), plain_ms(context, page, desk.origin)))
        browser.close()
        return rows


def _row(name: str, dragged: Dragged, plain: list[float]) -> Row:
    marks, other = p95(dragged.marks_ms), p95(plain)
    print(
        f"desk, {name}: new marks p95 {marks:.0f} ms = {marks / dragged.frame_ms:.1f} frames of {dragged.frame_ms:.1f} ms "
        f"(median {statistics.median(dragged.marks_ms):.0f}); words {dragged.words_ms:.0f} ms after rest; "
        f"plain loop p95 {other:.0f} ms, ratio {marks / other:.2f}; {len(dragged.marks_ms)} of {MOVES} moves answered",
        flush=True,
    )
    return {
        "name": f"desk, {name}",
        "ours_s": marks / 1000,
        "other": "plain loop over the socket, p95",
        "other_s": other / 1000,
        "ratio": other / marks,
        "frames": marks / dragged.frame_ms,
        "words_s": dragged.words_ms / 1000,
        "n": len(dragged.marks_ms),
    }


if __name__ == "__main__":
    measure()
