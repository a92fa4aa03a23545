"""Weigh an exercise when its table comes back, and hold the rulings against Marram's own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marram.core.errors import RuleDataError
from marram.evidence.clarity.exercise import ClarityFinding, Wording, weigh_clarity
from marram.evidence.clarity.stations import StationFinding, weigh_stations
from marram.interchange.field.exercise_files import BroughtBack, WrittenIncident
from marram.rulebook.book import Book, open_book
from marram.rulebook.catalogue import Catalogue
from marram.rulebook.overlays.overlay import Overlay
from marram.rulings.acts.acts import known_act, rule_on_act


@dataclass(frozen=True, slots=True, kw_only=True)
class Meant:
    """What Marram makes of an incident under one text.

    Attributes:
        incident: Name of the incident.
        wording: The text.
        answer: The answer that it comes to; empty where none of the answers says so.
        why_none: Why there is none.
    """

    incident: str
    wording: Wording
    answer: str
    why_none: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClarityWeighed:
    """What came of a clarity exercise.

    Attributes:
        trial: The trial.
        finding: What it showed.
        meant: What Marram makes of each incident, where that is known.
        blank: Rows that came back without an answer.
    """

    trial: Overlay
    finding: ClarityFinding
    meant: tuple[Meant, ...]
    blank: int


@dataclass(frozen=True, slots=True, kw_only=True)
class StationsWeighed:
    """What came of stations.

    Attributes:
        trial: The trial.
        findings: One for each change that had a station.
        blank: Rows that came back without a value.
    """

    trial: Overlay
    findings: tuple[StationFinding, ...]
    blank: int


def weigh_clarity_exercise(
    trial: Overlay, incidents: Sequence[WrittenIncident], back: BroughtBack, catalogue: Catalogue, *, matters: float
) -> ClarityWeighed:
    """Whether the draft is ruled more alike than the text in force.

    Args:
        trial: The trial.
        incidents: The written incidents.
        back: What came back.
        catalogue: The rule data.
        matters: The smallest difference of agreement that matters, as a share.

    Raises:
        StudyError: Nothing came back, or an official ruled an incident twice.
        RuleDataError: The trial does not lie on the edition that it is written for, or an incident names no act.
    """
    edition = max(trial.on, key=list(catalogue.editions).index)
    books = {Wording.PRESENT: open_book(edition, [], catalogue), Wording.DRAFT: open_book(edition, [trial], catalogue)}
    asked = [(one, wording) for one in incidents for wording in books if one.act or wording.value in one.meant]
    meant = tuple(_meant(one, wording, books[wording]) for one, wording in asked)
    known = {(one.incident, one.wording): one.answer for one in meant if one.answer}
    finding = weigh_clarity(back.rulings, matters=matters, meant=known)
    return ClarityWeighed(trial=trial, finding=finding, meant=meant, blank=back.blank)


def weigh_station_exercise(trial: Overlay, back: BroughtBack) -> StationsWeighed:
    """What the stations of a trial showed.

    Raises:
        StudyError: Nothing came back, or a player did a task twice under one text.
    """
    return StationsWeighed(trial=trial, findings=weigh_stations(trial, back.tries), blank=back.blank)


def _meant(incident: WrittenIncident, wording: Wording, book: Book) -> Meant:
    """What an incident comes to under a text: as its file says, or as the act that it names costs in stroke play."""
    stated = incident.meant.get(wording.value, "")
    if stated:
        return Meant(incident=incident.name, wording=wording, answer=stated)
    try:
        answer = rule_on_act(book, known_act(book.catalogue, incident.act), incident.facts)
    except RuleDataError as problem:
        raise RuleDataError(problem.message, where=f"incident {incident.name}", hint=problem.hint) from None
    if answer.case is None:
        return Meant(incident=incident.name, wording=wording, answer="", why_none=answer.why_none)
    costs = answer.case.stroke_play_words
    found = next((option for option in incident.answers if option.casefold() == costs.casefold()), "")
    why_none = "" if found else f"it costs {costs}, which is none of the answers to choose from"
    return Meant(incident=incident.name, wording=wording, answer=found, why_none=why_none)
