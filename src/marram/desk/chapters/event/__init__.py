"""The event of the store beside the desk, to look at: entries, draw and starting times, results with what decided each place, the log."""

from __future__ import annotations

from marram.desk.pages.chapter_list import Chapter

CHAPTER = Chapter(
    name="event",
    number=3,
    group="today",
    looks={"/event": "event", "/event/results": "event-results", "/event/log": "event-log"},
)
