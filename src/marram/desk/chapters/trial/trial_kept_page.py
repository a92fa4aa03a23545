"""What is done with a posted form of this chapter: a trial is begun, a change is kept, the head is set, changes are moved or taken out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from marram.core.words import odd_sign
from marram.desk.chapters.trial.relief_page import ShownRelief
from marram.desk.chapters.trial.trial_address import address_from, link_to, number_in
from marram.desk.chapters.trial.trial_list_page import trial_list_page
from marram.desk.chapters.trial.trial_sheet_page import OpenTrial, ShownChange, open_page, open_trial, show_open, whole_page
from marram.desk.pages.page import NOT_AS_STATED, Desk, Page, fill
from marram.desk.pages.posted import Posted
from marram.desk.pages.shared_parts import head
from marram.office.at_desk.desk_folder import Holding
from marram.office.at_desk.keep_in_folder import ChangedMeanwhile, free_name, save_text
from marram.office.drafts.trial_kept import (
    TrialKept,
    begin_trial,
    keep_trial,
    lines_of,
    moved_change,
    with_change,
    with_head,
    without_change,
)

_CONFLICT, _LONGEST_TITLE = 409, 200
_DAYS = {"first": "from", "last": "until", "answers_until": "answers_until"}


def begin(desk: Desk, posted: Posted) -> Page:
    """Begin a trial: its file is written with a title, an edition and its aims, and still without a change."""
    title, dated = " ".join(posted.first("title").split()), _day(posted.first("dated"))
    faults = _faults_of_title(title)
    if dated is None:
        faults["dated"] = "A day such as 2026-03-01 is needed."
    if posted.first("on") not in desk.room.catalogue.editions:
        faults["on"] = "Choose the edition that the trial lies on."
    aims = posted.first("aims").splitlines()
    if sign := odd_sign(" ".join(aims)):
        faults["aims"] = f"It holds the sign {sign}, which is not seen; write it without."
    if faults or dated is None:
        return trial_list_page(desk, posted, faults)
    name = free_name(desk.folder, Holding.TRIAL, title)
    save_text(desk.folder, Holding.TRIAL, name, begin_trial(title, dated, (posted.first("on"),), aims))
    return Page(goes_to=link_to(posted, trial=name, begun="yes"))


def _faults_of_title(title: str) -> dict[str, str]:
    if not title:
        return {"title": "Give the trial a title."}
    if len(title) > _LONGEST_TITLE:
        return {"title": f"That is {len(title)} letters long; up to {_LONGEST_TITLE} fit a sheet."}
    sign = odd_sign(title)
    return {"title": f"It holds the sign {sign}, which is not seen; write it without."} if sign else {}


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        return None


def keep(desk: Desk, posted: Posted) -> Page:
    """Keep a change in its file, where it can be read; else show it again with what is wrong."""
    trial = open_trial(desk, posted)
    number = number_in(posted, "change")
    moved = posted.first("stamp") != trial.stamp
    shown = show_open(trial, 0 if moved else number, tells_all=True)
    if shown.faults:
        return open_page(trial, shown, NOT_AS_STATED)
    if moved:
        return _both(trial, shown)
    text = with_change(trial.kept, number, shown.read.members)
    at = number or len(trial.kept.changes) + 1
    again = keep_trial(text, name=trial.kept.name, catalogue=desk.room.catalogue)
    if stops := _newly_stops(trial.kept, again, at):
        return open_page(trial, replace(shown, faults={**shown.faults, "now": stops}), NOT_AS_STATED)
    return _saved(trial, text, shown, Page(goes_to=trial.link(trial=trial.kept.name, change=str(at), kept="yes")))


def _newly_stops(before: TrialKept, after: TrialKept, number: int | None) -> str:
    """What would stop a change, or the trial as a whole, after an edit and did not before; empty where nothing does."""
    known = {fault.message for fault in before.faults}
    faults = (*after.faults_of(number), *(after.faults_of(None) if number is not None else ()))
    return " ".join(fault.message for fault in faults if fault.stops and fault.message not in known)


def put_head(desk: Desk, posted: Posted) -> Page:
    """Set what stands at the head of a trial: its title, its days, the editions, and where it stands."""
    trial = open_trial(desk, posted)
    if posted.first("stamp") != trial.stamp:
        return _moved_on(trial, posted)
    title, dated = " ".join(posted.first("title").split()), _day(posted.first("dated"))
    faults = _faults_of_title(title) | ({} if dated else {"dated": "A day such as 2026-03-01 is needed."})
    days = {name: _day(posted.first(field)) for field, name in _DAYS.items()}
    for field, name in _DAYS.items():
        if posted.first(field).strip() and days[name] is None:
            faults[field] = "A day such as 2026-03-01, or nothing, is needed."
    editions = [name for name in desk.room.catalogue.editions if name in posted.all("on")]
    if not editions:
        faults["on"] = "Choose at least one edition that the trial lies on."
    status = posted.first("status") or "draft"
    members: dict[str, object] = {"title": title, "dated": dated, "on": editions, "status": None if status == "draft" else status, **days}
    if faults:
        return whole_page(trial, faults, NOT_AS_STATED)
    text = with_head(trial.kept, members)
    again = keep_trial(text, name=trial.kept.name, catalogue=desk.room.catalogue)
    if stops := _newly_stops(trial.kept, again, None) if not again.is_whole else "":
        return whole_page(trial, {"head": stops}, NOT_AS_STATED)
    return _saved(trial, text, None, Page(goes_to=trial.link(trial=trial.kept.name, kept="yes")))


def put_in_order(desk: Desk, posted: Posted) -> Page:
    """Move a change among the others, take it out, or put back what was taken out."""
    trial = open_trial(desk, posted)
    if posted.first("stamp") != trial.stamp:
        return _moved_on(trial, posted)
    if text := posted.first("text"):
        keep_trial(text, name=trial.kept.name, catalogue=desk.room.catalogue)
        return _saved(trial, text, None, Page(goes_to=trial.link(trial=trial.kept.name, kept="yes")))
    number, count = number_in(posted, "change"), len(trial.kept.changes)
    match posted.first("do"):
        case "out":
            return _taken_out(trial, number)
        case "up" if number > 1:
            to = number - 1
        case "down" if number < count:
            to = number + 1
        case _:
            to = number
    text = moved_change(trial.kept, number, to) if to != number else trial.kept.text
    return _saved(trial, text, None, Page(goes_to=trial.link(trial=trial.kept.name, change=str(to), kept="yes")))


def _taken_out(trial: OpenTrial, number: int) -> Page:
    """Take a change out; the page that says so can put it back."""
    taken = lines_of(trial.kept.change(number))
    text = without_change(trial.kept, number)
    saved = _saved(trial, text, None, Page())
    if saved.text:
        return saved
    after = open_trial(trial.desk, trial.asked)
    return _shown(after, "trial/trial-out.html", number=number, taken=taken, before=trial.kept.text)


# Two pages on one trial ----------------------------------------------------------------------------------------------


def _saved(trial: OpenTrial, text: str, shown: ShownChange | ShownRelief | None, then: Page) -> Page:
    """Save the text where the file is still the one that the page was made from; else show both."""
    try:
        save_text(trial.desk.folder, Holding.TRIAL, trial.kept.name, text, was=trial.stamp)
    except ChangedMeanwhile:
        again = open_trial(trial.desk, trial.asked)
        return _moved_on(again, trial.asked) if shown is None else _both(again, shown)
    return then


def _both(trial: OpenTrial, shown: ShownChange | ShownRelief) -> Page:
    """What stands in the file now and what was filled in here, and a way to keep either or both."""
    mine = _named(shown.read.members)
    at = next((number for number, entry in enumerate(trial.kept.changes, start=1) if _named(entry) == mine), 0)
    there = lines_of(trial.kept.change(at)) if at else ""
    kept = [(name, value) for name, value in trial.asked.fields if name not in {"stamp", "change"}]
    return _shown(trial, "trial/trial-both.html", _CONFLICT, at=at, there=there, mine=lines_of(shown.read.members), hidden=kept)


def _named(members: Mapping[str, object]) -> tuple[str, ...]:
    """What tells a change from the others: its key, or the rows that it adds."""
    added = members.get("add")
    return tuple(sorted(added)) if isinstance(added, Mapping) else (str(members.get("key", "")),)


def _moved_on(trial: OpenTrial, posted: Posted) -> Page:
    """The file is not any more what a page was made from that moves, takes out or sets the head."""
    kept = [(name, value) for name, value in posted.fields if name not in {"stamp", "text"}]
    return _shown(trial, "trial/trial-moved-on.html", _CONFLICT, stated=kept)


def _shown(trial: OpenTrial, template: str, status: int = 200, **shown: object) -> Page:
    address = address_from(Posted(fields=tuple(pair for pair in trial.asked.fields if pair[0] in {"course", "day", "light", "trial"})))
    told: Mapping[str, object] = {"trial": trial, "kept": trial.kept, "link": trial.link, "asked": trial.asked, **shown}
    return fill(template, address, status, head=head(trial.desk, address, (trial.book,)), **told)
