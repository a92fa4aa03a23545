"""The plan of a trial in paired days as a page: its fields, the plan in words, its file and the papers of its days."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from marram.answers.shape import json_text
from marram.answers.trials.plan_answer import trial_plan_answer
from marram.core.errors import MarramError
from marram.desk.chapters.trial.trial_sheet_page import OpenTrial, open_trial, sheet_of
from marram.desk.pages.page import JSON, NOT_AS_STATED, PDF, WELL, Desk, Page
from marram.desk.pages.posted import Posted
from marram.office.drafts.plan_filled import FilledPlan, outcomes_planned, plan_trial_filled, read_plan_filled, tell_plan
from marram.office.trials.plan_trial import read_plan
from marram.office.trials.trial_papers import make_papers, papers_file

if TYPE_CHECKING:
    from marram.office.trials.planned_trial import PlannedTrial

_SD = "sd."


@dataclass(frozen=True, slots=True, kw_only=True)
class _Made:
    """What became of a filled plan."""

    filled: FilledPlan
    faults: dict[str, str]
    planned: PlannedTrial | None = None
    error: MarramError | None = None


def plan_page(desk: Desk, asked: Posted) -> Page:
    """The fields of a plan."""
    trial = open_trial(desk, asked)
    return _page(trial, _Made(filled=FilledPlan(spreads={}), faults={}))


def plan_done(desk: Desk, posted: Posted) -> Page:
    """The plan in words; what it cannot answer is said with what would."""
    trial = open_trial(desk, posted)
    made = _made(trial, posted)
    return _page(trial, made, WELL if made.planned is not None else NOT_AS_STATED)


def plan_file(desk: Desk, posted: Posted) -> Page:
    """The frozen plan as its file."""
    trial = open_trial(desk, posted)
    made = _made(trial, posted)
    if made.planned is None:
        return _page(trial, made, NOT_AS_STATED)
    return Page(media=JSON, text=json_text(trial_plan_answer(made.planned)) + "\n", saved_as=f"{trial.kept.name}-plan.json")


def papers(desk: Desk, posted: Posted) -> Page:
    """The papers of the trial's days, with the calendar of the plan."""
    trial = open_trial(desk, posted)
    made = _made(trial, posted)
    if made.planned is None:
        return _page(trial, made, NOT_AS_STATED)
    frozen = read_plan(json_text(trial_plan_answer(made.planned)), where="plan")
    return Page(media=PDF, data=papers_file(make_papers(trial.whole, trial.book, frozen), ".pdf"))


def papers_without_plan(desk: Desk, asked: Posted) -> Page:
    """The papers of a trial that is not planned yet."""
    trial = open_trial(desk, asked)
    return Page(media=PDF, data=papers_file(make_papers(trial.whole, trial.book, None), ".pdf"))


def _made(trial: OpenTrial, posted: Posted) -> _Made:
    filled = FilledPlan(
        pairs=posted.first("pairs"),
        seed=posted.first("seed"),
        players=posted.first("players"),
        lost_pct=posted.first("lost"),
        spreads={name.removeprefix(_SD): value for name, value in posted.fields if name.startswith(_SD)},
        left_out=posted.all("left_out"),
    )
    asked, spread, faults = read_plan_filled(trial.whole, filled)
    if asked is None:
        return _Made(filled=filled, faults=faults)
    try:
        return _Made(filled=filled, faults=faults, planned=plan_trial_filled(trial.whole, asked, spread))
    except MarramError as problem:
        return _Made(filled=filled, faults=faults, error=problem)


def _page(trial: OpenTrial, made: _Made, status: int = WELL) -> Page:
    whole = trial.whole if trial.kept.is_whole else None
    return sheet_of(
        trial,
        "trial/trial-plan.html",
        status,
        filled=made.filled,
        faults=made.faults,
        error=made.error,
        planned=made.planned,
        told=() if made.planned is None or whole is None else tell_plan(whole, trial.book, made.planned),
        spreads=() if whole is None else outcomes_planned(whole),
        judged=() if whole is None else whole.changes,
    )
