"""The jobs of the sheets."""

from __future__ import annotations

from marram.desk.chapters.sheets.sheets_page import file, how_far, list_page, looking, make_print, picture, show_page
from marram.desk.pages.chapter_list import ChapterJobs

JOBS = ChapterJobs(
    looks={
        "sheets": looking(list_page),
        "sheets-show": looking(show_page),
        "sheets-how-far": looking(how_far),
        "sheets-picture": looking(picture),
        "sheets-file": looking(file),
    },
    does={"sheets-make": make_print},
)
