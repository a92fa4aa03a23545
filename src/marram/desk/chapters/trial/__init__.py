"""The chapter of trials: written change by change, what each touches beside it, planned, shown and reported."""

from __future__ import annotations

from marram.desk.pages.chapter_list import Chapter

CHAPTER = Chapter(
    name="trial",
    number=7,
    group="trial",
    looks={
        "/trial": "trial",
        "/trial/ground": "trial-ground",
        "/trial/plan": "trial-plan",
        "/trial/papers/blank": "trial-papers-blank",
        "/trial/shown": "trial-shown",
        "/trial/guide": "trial-guide",
        "/trial/report": "trial-report",
        "/trial/report/paper": "trial-report-paper",
    },
    does={
        "/trial/begin": "trial-begin",
        "/trial/keep": "trial-keep",
        "/trial/head": "trial-head",
        "/trial/order": "trial-order",
        "/trial/plan": "trial-plan-done",
        "/trial/plan/file": "trial-plan-file",
        "/trial/papers": "trial-papers",
    },
    takes_long=frozenset(
        {"trial-ground", "trial-guide", "trial-plan-done", "trial-plan-file", "trial-papers", "trial-report", "trial-report-paper"}
    ),
)
