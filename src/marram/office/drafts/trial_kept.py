"""A trial file as it is worked on: what it holds, what is wrong with each change, and the text after an edit."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from marram.core.errors import RuleDataError
from marram.core.toml_text import read_toml
from marram.interchange.books.overlay_blocks import TrialText, read_blocks
from marram.interchange.books.overlay_writing import change_lines, toml_value
from marram.office.trials.draft_trial import DraftFault, check_trial
from marram.office.trials.make_guide import base_of
from marram.rulebook.book import Book
from marram.rulebook.catalogue import Catalogue
from marram.rulebook.differences.change_heading import change_heading
from marram.rulebook.differences.told_change import tell_change
from marram.rulebook.overlays.overlay import Overlay, read_members

_OF_CHANGE = re.compile(r"change (\d+)(?:, ([^:]+))?: (.*)", re.S)
_STALE_AT = re.compile(r", change (\d+)")
_HINT = "Words stand in quotes, lengths in braces: docs/formats/overlay.md."
NO_CHANGE = "change: at least one [[change]] is needed"


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialKept:
    """A trial file as it stands.

    Attributes:
        name: Name of the file, without its ending.
        text: What it holds.
        members: Its members.
        trial: The trial, as far as it can be read.
        faults: What is wrong, or to be looked at; where none of them stops, the trial can be used.
        is_whole: Whether all of it could be read.
        edition: The edition that it is worked on under.
    """

    name: str
    text: str
    members: Mapping[str, object]
    trial: Overlay
    faults: tuple[DraftFault, ...]
    is_whole: bool
    edition: str

    @property
    def changes(self) -> tuple[Mapping[str, object], ...]:
        """Members of each change, in order."""
        listed = self.members.get("change", [])
        return tuple(entry if isinstance(entry, dict) else {} for entry in listed) if isinstance(listed, list) else ()

    def change(self, number: int) -> Mapping[str, object]:
        """Members of a change.

        Raises:
            RuleDataError: There is no such change.
        """
        _refuse_no_change(self, number)
        return self.changes[number - 1]

    def titles(self, book: Book) -> tuple[tuple[str, str], ...]:
        """What each change is in one breath, and what it is about; by its key where it cannot be read."""
        read = {change.number: (change_heading(book, change), tell_change(book, change).about) for change in self.trial.changes}
        told = enumerate(self.changes, start=1)
        return tuple(read.get(number, (str(entry.get("key") or f"Change {number}"), "")) for number, entry in told)

    def faults_of(self, number: int | None) -> tuple[DraftFault, ...]:
        """What is wrong with a change, or with the trial as a whole."""
        return tuple(fault for fault in self.faults if fault.change == number)


def keep_trial(text: str, *, name: str, catalogue: Catalogue) -> TrialKept:
    """Open a trial file that may be unfinished.

    Args:
        text: What the file holds.
        name: Its name, without the ending.
        catalogue: The rule data.

    Raises:
        RuleDataError: It is no TOML.
    """
    members = read_toml(text, where=name, hint=_HINT, error=RuleDataError)
    trial, told = read_members(members, name=name, catalogue=catalogue)
    faults = tuple(_as_fault(fault) for fault in told if fault != NO_CHANGE) or (() if told else _checked(trial))
    known = [edition for edition in trial.on if edition in catalogue.editions]
    edition = base_of(trial) if known else catalogue.latest
    return TrialKept(name=name, text=text, members=members, trial=trial, faults=faults, is_whole=not told, edition=edition)


def _checked(trial: Overlay) -> tuple[DraftFault, ...]:
    """What the check of a whole trial finds, each fault beside its change where it names one."""
    return tuple(_beside_change(fault) for fault in check_trial(trial))


def _beside_change(fault: DraftFault) -> DraftFault:
    found = _STALE_AT.search(fault.message) if fault.change is None else None
    if found is None:
        return fault
    return DraftFault(change=int(found[1]), stops=fault.stops, message=fault.message, remedy=fault.remedy)


def _as_fault(told: str) -> DraftFault:
    """What a reader told, beside the change that it names."""
    found = _OF_CHANGE.fullmatch(told)
    if found is None:
        return DraftFault(change=None, stops=True, message=f"{told}.", remedy="")
    number, member, rest = found.groups()
    return DraftFault(change=int(number), stops=True, message=f"{member}: {rest}." if member else f"{rest}.", remedy="")


# Edits ---------------------------------------------------------------------------------------------------------------


def begin_trial(title: str, dated: date, editions: Sequence[str], aims: Sequence[str]) -> str:
    """The text of a new trial, still without a change.

    Args:
        title: What it is called.
        dated: Day of its text.
        editions: Editions that it is written for.
        aims: What it is for, each a sentence; kept as remarks, since what is judged stands in each change.
    """
    remarks = [f"# Aim: {' '.join(aim.split())}" for aim in aims if aim.strip()]
    head = [f"title = {toml_value(title)}", f"dated = {dated.isoformat()}", f"on = {toml_value(list(editions))}"]
    return "\n".join([*remarks, *head]) + "\n"


def aims_of(text: str) -> tuple[str, ...]:
    """The aims that the remarks at the top of a trial file state."""
    lines = [line.removeprefix("# Aim:").strip() for line in text.splitlines() if line.startswith("# Aim:")]
    return tuple(line for line in lines if line)


def with_head(kept: TrialKept, members: Mapping[str, object]) -> str:
    """The text with other members in its head; None for one that is to go.

    Raises:
        RuleDataError: The file is written in a way that cannot be edited line by line.
    """
    return _blocks(kept).with_head(members).text


def with_change(kept: TrialKept, number: int, members: Mapping[str, object]) -> str:
    """The text with a change as its members say.

    Args:
        kept: The trial.
        number: Number of the change; 0 for a new one at the end.
        members: All members of the change.

    Raises:
        RuleDataError: There is no such change, or the file is written in a way that cannot be edited line by line.
    """
    if number:
        _refuse_no_change(kept, number)
    return _blocks(kept).with_change(number or len(kept.changes) + 1, members).text


def without_change(kept: TrialKept, number: int) -> str:
    """The text with a change taken out.

    Raises:
        RuleDataError: There is no such change, or the file is written in a way that cannot be edited line by line.
    """
    _refuse_no_change(kept, number)
    return _blocks(kept).in_order([other for other in _numbers(kept) if other != number]).text


def moved_change(kept: TrialKept, number: int, place: int) -> str:
    """The text with a change at another place among the others.

    Args:
        kept: The trial.
        number: Number of the change.
        place: Its number from then on.

    Raises:
        RuleDataError: There is no such change, or the file is written in a way that cannot be edited line by line.
    """
    _refuse_no_change(kept, number)
    _refuse_no_change(kept, place)
    others = [other for other in _numbers(kept) if other != number]
    return _blocks(kept).in_order([*others[: place - 1], number, *others[place - 1 :]]).text


def lines_of(members: Mapping[str, object]) -> str:
    """A change as its file has it."""
    return "\n".join(change_lines(members)).strip()


def _blocks(kept: TrialKept) -> TrialText:
    return read_blocks(kept.text, where=kept.name)


def _numbers(kept: TrialKept) -> range:
    return range(1, len(kept.changes) + 1)


def _refuse_no_change(kept: TrialKept, number: int) -> None:
    if number not in _numbers(kept):
        raise RuleDataError(f"The trial has no change {number}.", where=kept.name, hint=f"It has {len(kept.changes)}.")
