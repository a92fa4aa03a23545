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
    },
    does={
        "/trial/begin": "trial-begin",
        "/trial/keep": "trial-keep",
        "/trial/head": "trial-head",
        "/trial/order": "trial-order",
    },
    takes_long=frozenset({"trial-ground"}),
)
