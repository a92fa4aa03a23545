"""What a process has at hand when it begins: modules of the first page and the rule data, loaded where processes are split off from."""

from __future__ import annotations

from marram.desk.pages import home_page
from marram.desk.rulings import desk_jobs
from marram.office.at_desk.read_beforehand import read_beforehand

__all__ = ["desk_jobs", "home_page"]

read_beforehand()
