"""The jobs of the event."""

from __future__ import annotations

from marram.desk.chapters.event.event_pages import looking_at_event
from marram.desk.pages.chapter_list import ChapterJobs

JOBS = ChapterJobs(
    looks={
        "event": looking_at_event("event.html"),
        "event-results": looking_at_event("results.html"),
        "event-log": looking_at_event("log.html"),
    }
)
