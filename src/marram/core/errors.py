"""Every error that Marram raises on purpose, in one tree.

An error says what is wrong, where it is (file, key, hole, card, row), what was expected and what to do. The tree decides the exit code of
the command line: an answer that the rules give (no relief, disqualified) is a value and never an error.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, ClassVar

if TYPE_CHECKING:
    from marram.core.citations import Citation


class MarramError(Exception):
    """Something that the official can put right.

    Args:
        message: What is wrong, in one sentence.
        where: The place: a file, a key, a hole, a row.
        field: The field that the official filled in wrongly (``Field``), with its value if that helps; empty where a file is at fault.
        hint: What was expected, or what to do.
        citations: Rules that the message rests on.
    """

    code: ClassVar[str] = "error"
    exit_code: ClassVar[int] = 1

    def __init__(self, message: str, *, where: str = "", field: str = "", hint: str = "", citations: Sequence[Citation] = ()) -> None:
        super().__init__(message)
        self.message = message
        self.where = where
        self.field = field
        self.hint = hint
        self.citations = tuple(citations)

    def __str__(self) -> str:
        place = ", ".join(part for part in (self.where, self.field) if part)
        return " ".join(part for part in (f"{place}:" if place else "", self.message, self.hint) if part)


class DataError(MarramError):
    """A file or value that cannot be read as it stands."""

    code = "data"
    exit_code = 2


class RuleDataError(DataError):
    """Rule data, or a key of a rule book, that does not hold together."""

    code = "rule_data"


class StaleOverlay(RuleDataError):
    """An overlay expects a value that its base does not hold."""

    code = "stale_overlay"


class OverlayConflict(RuleDataError):
    """Two overlays change one key and neither says that it comes after the other."""

    code = "overlay_conflict"


class SurveyError(DataError):
    """A course file, or a place on a course, that cannot be used."""

    code = "survey"


class IncidentError(DataError):
    """An incident that says something impossible, or says it in a way that cannot be read."""

    code = "incident"


class RecordError(DataError):
    """A record of a trial, or a name in one, that cannot be used."""

    code = "record"


class HandicapError(DataError):
    """A handicap, a rating, a score or a record of scores that cannot be used."""

    code = "handicap"


class CardError(DataError):
    """A card, a penalty or the terms of a competition that cannot be scored as they stand."""

    code = "card"


class OwnFault(MarramError):
    """A fault of the program itself; whoever asked did nothing wrong."""

    code = "own_fault"
    exit_code = 70


class StudyError(MarramError):
    """A plan or a report of a trial that cannot be made from what there is."""

    code = "study"
    exit_code = 4


class Stopped(MarramError):
    """A job that was stopped before it was done; nothing of it is kept."""

    code = "stopped"
    exit_code = 130


class EventError(MarramError):
    """A competition that cannot be drawn, started or closed as it was asked for."""

    code = "event"
    exit_code = 3


class StoreError(MarramError):
    """A store of events that cannot be read or written, or in which somebody else was quicker."""

    code = "store"
    exit_code = 5


class RulingError(MarramError):
    """A ruling that cannot be given."""

    code = "ruling"
    exit_code = 3


class FactsNeeded(RulingError):
    """Nothing can be ruled before some facts are known.

    Args:
        message: What cannot be ruled.
        questions: Pairs of a fact's name and the question that settles it.
        where: The incident.
    """

    code = "facts_needed"

    def __init__(self, message: str, *, questions: Sequence[tuple[str, str]], where: str = "") -> None:
        asked = " ".join(f"{question} ({name.replace('_', '-')})" for name, question in questions)
        super().__init__(message, where=where, hint=f"Answer first: {asked}")
        self.questions = tuple(questions)
