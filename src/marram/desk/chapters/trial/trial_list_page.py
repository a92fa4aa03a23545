"""The page of all trials of the folder, and of beginning a new one."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from marram.core.errors import MarramError
from marram.desk.chapters.trial.trial_address import address_from, link_to
from marram.desk.pages.page import NOT_AS_STATED, WELL, Desk, Page, fill
from marram.desk.pages.posted import Posted
from marram.desk.pages.shared_parts import head
from marram.office.at_desk.desk_folder import Holding
from marram.office.at_desk.keep_in_folder import kept_text
from marram.office.drafts.trial_kept import TrialKept, keep_trial


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """A trial of the folder.

    Attributes:
        name: Name of its file.
        kept: The trial; None where its file cannot be read.
        why: Why it cannot.
        stops: How many faults stop it.
        asks: How many are to be looked at.
    """

    name: str
    kept: TrialKept | None
    why: str = ""
    stops: int = 0
    asks: int = 0


def trial_list_page(desk: Desk, asked: Posted, faults: dict[str, str] | None = None) -> Page:
    """All trials of the folder, and the form that begins one.

    Args:
        desk: What pages are made with.
        asked: What the address states, or what was filled in to begin a trial.
        faults: What is wrong with that, by field.
    """
    address = address_from(asked)
    editions = desk.room.catalogue.editions
    return fill(
        "trial/trial-list.html",
        address,
        NOT_AS_STATED if faults else WELL,
        head=head(desk, address),
        asked=asked,
        link=lambda **stated: link_to(asked, **stated),
        rows=[_row(desk, name) for name in desk.folder.names(Holding.TRIAL)],
        editions=[(name, editions[name].document) for name in reversed(list(editions))],
        latest=desk.room.catalogue.latest,
        today=date.today().isoformat(),
        faults=faults or {},
    )


def _row(desk: Desk, name: str) -> _Row:
    try:
        kept = keep_trial(kept_text(desk.folder, Holding.TRIAL, name).text, name=name, catalogue=desk.room.catalogue)
    except MarramError as problem:
        return _Row(name=name, kept=None, why=problem.message)
    stops = sum(fault.stops for fault in kept.faults)
    return _Row(name=name, kept=kept, stops=stops, asks=len(kept.faults) - stops)
