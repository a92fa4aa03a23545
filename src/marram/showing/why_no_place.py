"""Why no place was found at which a procedure could be shown: what was looked at, and what stood against it there."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field

from marram.core.terms import Area
from marram.course.course import Course
from marram.rulebook.book import Book
from marram.rulebook.vocabulary import NOT_FOUND
from marram.rulebook.wording.value_words import listed
from marram.rulings.case.incident import Incident, Player
from marram.rulings.case.procedure import Procedure
from marram.rulings.rule_on import rule_on
from marram.showing.choice import openings_in_turn
from marram.showing.incidents import Candidate, conditions_met, fact_against, marks_of, propose, wants_conditions, wants_edges
from marram.showing.openings import ball_in_of
from marram.showing.spots import CLEAR_OF_BOUNDARY_M, CLEAR_OF_OTHER_WATER_M, PLAYED_WITHIN_M

_OTHERWISE = "the ruling gives other relief there"
_NEAR_A_HOLE = f"within {PLAYED_WITHIN_M:.0f} m of the line of play of a hole that may be played there"


@dataclass(slots=True, kw_only=True)
class Tally:
    """What stood against the spots that were ruled on.

    Attributes:
        because: Reasons, with at how many spots each was the first.
        otherwise: The first spot at which a book gives other relief, with the book; None where there was none.
    """

    because: Counter[str] = field(default_factory=Counter)
    otherwise: tuple[Incident, Book] | None = None

    @property
    def spots(self) -> int:
        """How many spots will not do."""
        return sum(self.because.values())

    def add(self, reason: str) -> None:
        """Count one spot."""
        self.because[reason] += 1

    def add_otherwise(self, incident: Incident, book: Book) -> None:
        """Count one spot at which a book gives other relief."""
        self.otherwise = self.otherwise or (incident, book)
        self.because[_OTHERWISE] += 1


def why_no_place(course: Course, openings: Sequence[Procedure], books: Sequence[Book], player: Player, tally: Tally) -> str:
    """Say what was looked at and why none of it will do.

    Args:
        course: The course.
        openings: The ways of coming to the procedure.
        books: The books under which it was to be shown.
        player: The player.
        tally: What stood against the spots that were ruled on.
    """
    if tally.because:
        words, times = tally.because.most_common(1)[0]
        words = _given_instead(course, tally) if words == _OTHERWISE else words
        return f"None of the {tally.spots} spots tried on {course.name} will do; most often ({times}): {words}"
    tried = [opening for turn in openings_in_turn(openings) for opening in turn]
    against = Counter(_against(candidate, books) for opening in tried for candidate in propose(opening, player))
    if against:
        words, times = against.most_common(1)[0]
        return f"None of the {sum(against.values())} spots looked at on {course.name} will do; at {times} the survey itself says: {words}"
    return _nothing_there(course, tried)


def _given_instead(course: Course, tally: Tally) -> str:
    """What the ruling gives at the first spot at which it gives something else."""
    assert tally.otherwise is not None
    incident, book = tally.otherwise
    titles = list(dict.fromkeys(f"“{option.title}”" for option in rule_on(incident, course, book).options))
    return f"the ruling gives other relief there, at the first of them {listed(titles)}." if titles else "the ruling gives no relief there."


def _against(candidate: Candidate, books: Sequence[Book]) -> str:
    found = fact_against(candidate, books)
    if found is None:
        return "nothing that stands against it"
    question, is_so = found
    return f"“{question}” {'Yes' if is_so else 'No'}."


def _nothing_there(course: Course, openings: Sequence[Procedure]) -> str:
    """What the course lacks, where not one spot could be proposed."""
    about = [opening for opening in openings if wants_conditions(opening)]
    if about:
        return _no_condition(course, about)
    edges = [opening for opening in openings if wants_edges(opening)]
    if edges:
        return _no_edge(course, edges)
    where = _ground_words(openings)
    needed = f"a hole needs a line of play, a green and a hole location, and a spot lies {_NEAR_A_HOLE}"
    return f"No spot on {where} was found on {course.name}: {needed}."


def _no_edge(course: Course, openings: Sequence[Procedure]) -> str:
    marks = {mark for opening in openings for mark in marks_of(opening)}
    named = listed(sorted(mark.value for mark in marks), "or")
    there = [area for area in course.penalty_areas if area.mark in marks]
    if not there:
        return f"{course.name} has no penalty area marked {named}."
    return (
        f"{course.name} has penalty areas marked {named}, but no spot on their edges lies {_NEAR_A_HOLE}, at least "
        f"{CLEAR_OF_BOUNDARY_M:.0f} m from the boundary and {CLEAR_OF_OTHER_WATER_M:.0f} m from other penalty areas."
    )


def _no_condition(course: Course, openings: Sequence[Procedure]) -> str:
    book = openings[0].case.book
    situations = dict.fromkeys(opening.case.incident.situation for opening in openings)
    kinds = dict.fromkeys(kind for situation in situations for kind in book.words(f"situation.{situation}.conditions").value)
    named = listed([kind.replace("-", " ") for kind in kinds], "or")
    met_today = "One met that day can be stated under [[conditions]]."
    if not any(conditions_met(opening) for opening in openings):
        return f"{course.name} has none of these: {named}. {met_today}"
    return f"{course.name} has none of these with a ball on {_ground_words(openings)} {_NEAR_A_HOLE}: {named}. {met_today}"


def _ground_words(openings: Sequence[Procedure]) -> str:
    areas = dict.fromkeys(Area.GENERAL_AREA.value if area == NOT_FOUND else area for opening in openings for area in ball_in_of(opening))
    return listed([f"the {area.replace('-', ' ')}" if area != Area.BUNKER else "a bunker" for area in areas], "or")
