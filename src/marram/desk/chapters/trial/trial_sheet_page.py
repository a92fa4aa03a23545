"""The page of one trial: its changes in a list, and beside it the one that is open, the search for a rule, or the trial as a whole."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from marram.core.errors import DataError, MarramError
from marram.desk.chapters.trial.change_form import ShownField, filled_before, filled_in, is_filled, now_in_file, show_field, typed_in
from marram.desk.chapters.trial.relief_page import ShownRelief, show_relief
from marram.desk.chapters.trial.trial_address import address_from, link_to, number_in
from marram.desk.pages.page import WELL, Desk, Page, fill
from marram.desk.pages.posted import Posted
from marram.desk.pages.shared_parts import head
from marram.office.at_desk.desk_folder import Holding
from marram.office.at_desk.keep_in_folder import kept_text
from marram.office.drafts.change_filled import Filled, ReadChange, read_change
from marram.office.drafts.offered_field import LENGTH_UNITS, offer_field
from marram.office.drafts.rule_found import find_rules
from marram.office.drafts.trial_kept import TrialKept, aims_of, keep_trial
from marram.office.drafts.what_it_touches import Touches, one_change, touches_of
from marram.office.trials.draft_change import list_outcomes
from marram.office.trials.draft_trial import STATUSES, may_count_for_handicap

if TYPE_CHECKING:
    from marram.office.drafts.offered_field import OfferedField
    from marram.office.trials.draft_trial import DraftFault
    from marram.rulebook.book import Book
    from marram.rulebook.overlays.overlay import Overlay


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenTrial:
    """A trial that is open on the desk.

    Attributes:
        desk: What pages are made with.
        asked: What the address states, or what was posted.
        kept: The trial.
        stamp: The stamp of its file.
        book: The edition that it is worked on under.
    """

    desk: Desk
    asked: Posted
    kept: TrialKept
    stamp: str
    book: Book

    @property
    def whole(self) -> Overlay:
        """The trial, where all of it can be read.

        Raises:
            DataError: Something of it cannot.
        """
        if not self.kept.is_whole:
            what = " ".join(fault.message for fault in self.kept.faults if fault.stops) or "It has no change yet."
            raise DataError(f"The trial cannot be used yet. {what}", where=self.kept.name, hint="Open it and mend what stops.")
        return self.kept.trial

    def link(self, path: str = "/trial", **stated: str) -> str:
        """The address of a page of this trial."""
        return link_to(self.asked, path, **stated)


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedChange:
    """A change in the list.

    Attributes:
        number: Its number.
        title: What it is, in one breath.
        about: What it is about; empty where the title says it.
        state: Name of its state among the words: whether something stops it, is to be looked at, or nothing is.
        waits: What it waits for first; empty where it waits for nothing.
    """

    number: int
    title: str
    about: str
    state: str
    waits: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownChange:
    """The change that is open.

    Attributes:
        number: Its number; 0 for one that is new.
        field: The field of its value.
        filled: What stands in the other fields.
        read: How all of it reads.
        faults: What is wrong, by field, as far as it is told already.
        checked: What the check of the file says of it.
        touches: What it touches; None before it has a value.
        is_moved: Whether the book holds another value now than the change says it held.
        doubles: The change that changes this key already; 0 where none does.
    """

    number: int
    field: ShownField
    filled: Filled
    read: ReadChange
    faults: Mapping[str, str]
    checked: tuple[DraftFault, ...]
    touches: Touches | None
    is_moved: bool
    doubles: int


def open_trial(desk: Desk, asked: Posted) -> OpenTrial:
    """Open the trial that is stated.

    Raises:
        DataError: The folder has none of that name.
        RuleDataError: Its file is no TOML.
    """
    name = asked.first("trial")
    text = kept_text(desk.folder, Holding.TRIAL, name)
    kept = keep_trial(text.text, name=name, catalogue=desk.room.catalogue)
    return OpenTrial(desk=desk, asked=asked, kept=kept, stamp=text.stamp, book=desk.room.book(kept.edition))


def trial_sheet_page(desk: Desk, asked: Posted) -> Page:
    """The page of one trial."""
    trial = open_trial(desk, asked)
    number = number_in(asked, "change")
    if number or asked.first("key") or asked.first("relief"):
        return open_page(trial, show_open(trial, number))
    if "find" in dict(asked.fields):
        return sheet_of(trial, "trial/trial-find.html", found=_found(trial))
    return whole_page(trial)


def whole_page(trial: OpenTrial, faults: Mapping[str, str] | None = None, status: int = WELL) -> Page:
    """The page of the trial as a whole: its head, what is wrong with it, and what comes next.

    Args:
        trial: The trial.
        faults: What is wrong with what was filled in, by field.
        status: The status of the answer.
    """
    editions = trial.desk.room.catalogue.editions
    return sheet_of(
        trial,
        "trial/trial-whole.html",
        status,
        faults=faults or {},
        is_posted=faults is not None,
        editions=[(name, editions[name].document) for name in reversed(list(editions))],
        statuses=STATUSES,
        aims=aims_of(trial.kept.text),
    )


def changed_page(trial: OpenTrial, shown: ShownChange, status: int = WELL) -> Page:
    """The page with a change open."""
    return sheet_of(
        trial, "trial/trial-change.html", status, shown=shown, outcomes=list_outcomes(), units=LENGTH_UNITS, aims=aims_of(trial.kept.text)
    )


def relief_page(trial: OpenTrial, shown: ShownRelief, status: int = WELL) -> Page:
    """The page with a new relief open."""
    aims = aims_of(trial.kept.text)
    return sheet_of(trial, "trial/trial-relief.html", status, shown=shown, outcomes=list_outcomes(), units=LENGTH_UNITS, aims=aims)


def show_new(trial: OpenTrial, number: int, *, tells_all: bool = False) -> ShownRelief:
    """The new relief that is open.

    Args:
        trial: The trial.
        number: Number of its change; 0 for one that is not kept yet.
        tells_all: Whether every fault is told, also of gaps that nobody has filled yet.

    Raises:
        RuleDataError: There is no such change.
    """
    members = trial.kept.change(number) if number else None
    checked = trial.kept.faults_of(number) if number else ()
    return show_relief(trial.book, trial.asked, members, number, checked, tells_all=tells_all)


def show_open(trial: OpenTrial, number: int, *, tells_all: bool = False) -> ShownChange | ShownRelief:
    """The change that is open, of a value or a new relief."""
    is_new = trial.asked.first("relief") or (number and "add" in trial.kept.change(number))
    return show_new(trial, number, tells_all=tells_all) if is_new else show_change(trial, number, tells_all=tells_all)


def open_page(trial: OpenTrial, shown: ShownChange | ShownRelief, status: int = WELL) -> Page:
    """The page with a change open, of a value or a new relief."""
    return relief_page(trial, shown, status) if isinstance(shown, ShownRelief) else changed_page(trial, shown, status)


def show_change(trial: OpenTrial, number: int, *, tells_all: bool = False) -> ShownChange:
    """The change that is open, with what was filled in, else with what the file holds.

    Args:
        trial: The trial.
        number: Number of the change; 0 for a new one.
        tells_all: Whether every fault is told, also of fields that nobody has filled in yet.

    Raises:
        RuleDataError: There is no such change or key.
    """
    members = trial.kept.change(number) if number else None
    key = trial.asked.first("key") or str((members or {}).get("key", ""))
    offered = offer_field(trial.book, key)
    filled = _filled(trial, offered, members)
    read = read_change(trial.book, filled, members)
    is_touched = is_filled(trial.asked) or members is not None
    faults = read.faults if tells_all else {name: fault for name, fault in read.faults.items() if is_touched and _is_told(name, filled)}
    return ShownChange(
        number=number,
        field=show_field(trial.book, offered, filled.now or offered.holds),
        filled=filled,
        read=read,
        faults=faults,
        checked=trial.kept.faults_of(number) if number else (),
        touches=_touches(trial.book, read),
        is_moved=members is not None and read.members.get("was") != read_change(trial.book, filled).members.get("was"),
        doubles=next((at for at, each in enumerate(trial.kept.changes, start=1) if each.get("key") == key and at != number), 0),
    )


def _filled(trial: OpenTrial, offered: OfferedField, members: Mapping[str, object] | None) -> Filled:
    if is_filled(trial.asked):
        return filled_in(trial.asked, offered.key, typed_in(trial.book, offered, trial.asked))
    if members is None:
        return Filled(key=offered.key)
    return filled_before(members, now_in_file(trial.book, offered.key, members))


def _is_told(name: str, filled: Filled) -> bool:
    """Whether a fault is told while somebody is still filling in: of what stands there, and not of what is still empty."""
    return bool(getattr(filled, name, "x"))


def _touches(book: Book, read: ReadChange) -> Touches | None:
    if "now" not in read.members:
        return None
    try:
        return touches_of(book, one_change(book, read.members))
    except MarramError:
        return None  # the fault itself stands beside the field or above the change


def _found(trial: OpenTrial) -> tuple[OfferedField, ...]:
    """Fields of the keys that the words are about, two of a row at most."""
    words = trial.asked.first("find").strip()
    return tuple(offer_field(trial.book, hit.key) for hit in find_rules(trial.book, words)) if words else ()


def sheet_of(trial: OpenTrial, template: str, status: int = WELL, **shown: object) -> Page:
    """The page of a trial with one of its sheets open.

    Args:
        trial: The trial.
        template: The sheet.
        status: The status of the answer.
        shown: What it shows.
    """
    address = address_from(trial.asked)
    return fill(
        template,
        address,
        status,
        head=head(trial.desk, address, (trial.book,)),
        trial=trial,
        kept=trial.kept,
        asked=trial.asked,
        link=trial.link,
        listed=tuple(_listed(trial)),
        counts=trial.kept.is_whole and may_count_for_handicap(trial.kept.trial),
        **shown,
    )


def _listed(trial: OpenTrial) -> list[ListedChange]:
    return [
        ListedChange(
            number=number, title=title, about=_besides(title, about), state=_state(faults), waits=faults[0].message if faults else ""
        )
        for number, (title, about) in enumerate(trial.kept.titles(trial.book), start=1)
        for faults in [sorted(trial.kept.faults_of(number), key=lambda fault: not fault.stops)]
    ]


def _besides(title: str, about: str) -> str:
    return "" if about.lower()[:24] in title.lower() else about


def _state(faults: list[DraftFault]) -> str:
    if not faults:
        return "complete"
    return "stops" if faults[0].stops else "asks"
