"""Marram: a bench for rules officials. Rule books as data, exact relief on a surveyed course, rulings with their rules.

From Python: nouns are frozen objects; verbs are functions on what is known, a course and a book, in that order
(docs/how-to/from-python.md). Each name is loaded when it is first used.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from marram.core.citations import Citation as Citation
    from marram.core.errors import FactsNeeded as FactsNeeded
    from marram.core.errors import MarramError as MarramError
    from marram.core.terms import Area as Area
    from marram.core.terms import Club as Club
    from marram.core.terms import Form as Form
    from marram.core.terms import Hand as Hand
    from marram.course.course import Course as Course
    from marram.course.frame import Position as Position
    from marram.office.from_python import act as act
    from marram.office.from_python import check as check
    from marram.office.from_python import draw as draw
    from marram.office.from_python import drop as drop
    from marram.office.from_python import find as find
    from marram.office.from_python import form_of_play as form_of_play
    from marram.office.from_python import open_book as open_book
    from marram.office.from_python import open_course as open_course
    from marram.office.from_python import open_incident as open_incident
    from marram.office.from_python import open_records as open_records
    from marram.office.from_python import open_trial as open_trial
    from marram.office.from_python import places as places
    from marram.office.from_python import rule as rule
    from marram.office.from_python import search as search
    from marram.office.from_python import thing as thing
    from marram.office.from_python import weigh as weigh
    from marram.rulebook.book import Book as Book
    from marram.rulebook.overlays.overlay import Overlay as Overlay
    from marram.rulings.case.incident import Choice as Choice
    from marram.rulings.case.incident import Incident as Incident
    from marram.rulings.case.incident import Player as Player
    from marram.rulings.case.incident import PreviousStroke as PreviousStroke
    from marram.rulings.case.ruling import Option as Option
    from marram.rulings.case.ruling import Ruling as Ruling

__version__ = "0.1.0"

_NOUNS = {
    "Area": "core.terms",
    "Book": "rulebook.book",
    "Choice": "rulings.case.incident",
    "Citation": "core.citations",
    "Club": "core.terms",
    "Course": "course.course",
    "FactsNeeded": "core.errors",
    "Form": "core.terms",
    "Hand": "core.terms",
    "Incident": "rulings.case.incident",
    "MarramError": "core.errors",
    "Option": "rulings.case.ruling",
    "Overlay": "rulebook.overlays.overlay",
    "Player": "rulings.case.incident",
    "Position": "course.frame",
    "PreviousStroke": "rulings.case.incident",
    "Ruling": "rulings.case.ruling",
}
_VERBS = (
    "act",
    "check",
    "draw",
    "drop",
    "find",
    "form_of_play",
    "open_book",
    "open_course",
    "open_incident",
    "open_records",
    "open_trial",
    "places",
    "rule",
    "search",
    "thing",
    "weigh",
)
_WHERE = _NOUNS | dict.fromkeys(_VERBS, "office.from_python")

__all__ = ["__version__", *sorted(_WHERE)]  # noqa: PLE0604 - the names stand in the table above


def __getattr__(name: str) -> object:
    """Load a name when it is first used, so that importing the package costs nothing."""
    if name not in _WHERE:
        raise AttributeError(f"module 'marram' has no attribute {name!r}")
    return getattr(import_module(f"marram.{_WHERE[name]}"), name)


def __dir__() -> list[str]:
    return sorted(__all__)
