"""The chapter of the ground: a course brought in, its faults put right, its marking checked, and the points and rings of the day."""

from __future__ import annotations

from marram.desk.pages.chapter_list import Chapter

LARGEST_FILE_BYTES = 64 * 1024 * 1024
"""The most that a course file may hold (``LARGEST_COURSE_BYTES``); a map may be larger on the command line, which reads it in passes."""
_FORM_BYTES = 64 * 1024

CHAPTER = Chapter(
    name="ground",
    number=2,
    group="today",
    looks={
        "/ground": "ground",
        "/ground/holes": "ground-holes",
        "/ground/marking": "ground-marking",
        "/ground/places": "ground-places",
        "/ground/today": "ground-today",
        "/ground/bring": "ground-bring",
    },
    does={
        "/ground/bring": "ground-bring-in",
        "/ground/mend": "ground-mend",
        "/ground/number": "ground-number",
        "/ground/back": "ground-back",
        "/ground/today": "ground-put-down",
        "/ground/take-up": "ground-take-up",
        "/ground/today/back": "ground-day-back",
    },
    takes_files={"/ground/bring": LARGEST_FILE_BYTES + _FORM_BYTES},
    takes_long=frozenset({"ground-marking", "ground-places", "ground-bring-in"}),
)
