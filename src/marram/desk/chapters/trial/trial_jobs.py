"""The jobs of the chapter of trials."""

from __future__ import annotations

from collections.abc import Callable

from marram.core.errors import MarramError
from marram.desk.chapters.trial.ground_page import ground_page
from marram.desk.chapters.trial.plan_page import papers, papers_without_plan, plan_done, plan_file, plan_page
from marram.desk.chapters.trial.shown_pages import guide_paper, report_page, report_paper, show_page
from marram.desk.chapters.trial.trial_address import address_from, fields_of
from marram.desk.chapters.trial.trial_kept_page import begin, keep, put_head, put_in_order
from marram.desk.chapters.trial.trial_list_page import trial_list_page
from marram.desk.chapters.trial.trial_sheet_page import trial_sheet_page
from marram.desk.pages.case_address import Address
from marram.desk.pages.chapter_list import ChapterJobs
from marram.desk.pages.page import Desk, Page, error_as_page
from marram.desk.pages.posted import Posted


def _looks(make: Callable[[Desk, Posted], Page]) -> Callable[[Desk, str], Page]:
    def page(desk: Desk, query: str) -> Page:
        address = Address(values={})
        try:
            asked = fields_of(query)
            address = address_from(asked)
            return make(desk, asked)
        except MarramError as problem:
            return error_as_page(problem, address)

    return page


def _does(do: Callable[[Desk, Posted], Page]) -> Callable[[Desk, Posted], Page]:
    def done(desk: Desk, posted: Posted) -> Page:
        try:
            return do(desk, posted)
        except MarramError as problem:
            return error_as_page(problem, address_from(posted))

    return done


def _trial(desk: Desk, asked: Posted) -> Page:
    return trial_sheet_page(desk, asked) if asked.first("trial") else trial_list_page(desk, asked)


JOBS = ChapterJobs(
    looks={
        "trial": _looks(_trial),
        "trial-ground": _looks(ground_page),
        "trial-plan": _looks(plan_page),
        "trial-papers-blank": _looks(papers_without_plan),
        "trial-shown": _looks(show_page),
        "trial-guide": _looks(guide_paper),
        "trial-report": _looks(report_page),
        "trial-report-paper": _looks(report_paper),
    },
    does={
        "trial-begin": _does(begin),
        "trial-keep": _does(keep),
        "trial-head": _does(put_head),
        "trial-order": _does(put_in_order),
        "trial-plan-done": _does(plan_done),
        "trial-plan-file": _does(plan_file),
        "trial-papers": _does(papers),
    },
)
