"""What a process has at hand when it begins: modules of the first page and the rule data, loaded where processes are split off from."""

from __future__ import annotations

from marram.desk.pages import home_page
from marram.desk.rulings import desk_jobs
from marram.rulebook.reading.files import packaged_catalogue
from marram.sheets.drawn import course_drawing

__all__ = ["course_drawing", "desk_jobs", "home_page"]

packaged_catalogue()
