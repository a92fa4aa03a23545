"""Find where on a course a relief procedure can be shown well to players."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches

from marram.core.errors import DataError, IncidentError, SurveyError
from marram.core.field_names import Field
from marram.core.terms import Club, Hand
from marram.core.work import Work
from marram.course.along_hole import AlongHole, tell_along
from marram.course.course import Course
from marram.course.day import Day
from marram.course.frame import Position
from marram.interchange.field.incident_file import LONGEST_CLUB_IN, SHORTEST_CLUB_IN
from marram.office.open_course import OpenCourse
from marram.rulebook.book import Book, know_each_other
from marram.rulebook.catalogue import Catalogue
from marram.rulings.case.incident import Choice, Incident, Player
from marram.rulings.case.procedure import Procedure
from marram.rulings.case.ruling import Option, Ruling
from marram.rulings.rule_on import rule_on
from marram.showing.choice import choose_candidates, openings_in_turn
from marram.showing.incidents import Candidate
from marram.showing.openings import chain_of, find_openings
from marram.showing.spots import Spot
from marram.showing.standing import ShowingGround, Standing, see_ground
from marram.showing.why_no_place import Tally, why_no_place
from marram.showing.worth import Shown, reasons_of, score_of, spot_of, watch_of

APART_M, PER_FEATURE, PER_HOLE = 25.0, 2, 2
"""Two places lie at least this far apart, no feature has more than two and, while others will do, no hole either: groups spread."""
BACK_M = (4.0, 3.0, 6.0, 2.0, 8.0, 10.0, 1.0)
"""How far back on a line, beyond where it may first be used, a ball is tried."""
_FAMILY = "relief."


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownPlace:
    """A place at which a procedure can be shown.

    Attributes:
        incident: The incident that shows it.
        spot: Where the ball was put, and what it is about.
        at: Where to lead people: the ball, or the reference point where the ball is not found.
        under: What each book gives, in the order asked.
        standing: What the spot offers to people.
        score: From 0 to 1, the least of all books.
    """

    incident: Incident
    spot: Spot
    at: Position
    under: tuple[Shown, ...]
    standing: Standing
    score: float

    @property
    def least(self) -> Shown:
        """The book under which least may be used."""
        return min(self.under, key=lambda shown: shown.share)

    @property
    def is_certain(self) -> bool:
        """Whether the survey is fine enough for what every book gives there."""
        return not any(shown.option.must_measure_on_ground for shown in self.under)

    @property
    def reasons(self) -> tuple[str, ...]:
        """Why the place is good."""
        return reasons_of(self.least, self.standing)

    @property
    def watch(self) -> tuple[str, ...]:
        """What to watch there."""
        return tuple(dict.fromkeys(text for shown in self.under for text in watch_of(shown, self.standing)))


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacesFound:
    """Where a procedure can be shown.

    Attributes:
        course: The course.
        procedure: Name of the procedure's row, without its family.
        books: The books asked.
        places: The places, best first.
        why_none: Why there is none; empty where there are some.
        day: What of the course is of the day and not of the survey; None where no such file was given.
    """

    course: Course
    procedure: str
    books: tuple[Book, ...]
    places: tuple[ShownPlace, ...]
    why_none: str
    day: Day | None = None

    def along(self, place: ShownPlace) -> AlongHole | None:
        """A place along its line of play; None where that cannot be told."""
        return tell_along(self.course.hole(place.incident.hole), place.at)


def find_places(
    opened: OpenCourse,
    procedure: str,
    books: Sequence[Book],
    *,
    player: Player,
    count: int,
    situation: str = "",
    work: Work | None = None,
) -> PlacesFound:
    """Find places on a course.

    Args:
        opened: The course as it is today.
        procedure: Name of the procedure's row, with or without ``relief.`` before it.
        books: The books; the procedure must be an option under each.
        player: The player who would show it.
        count: How many places at most.
        situation: The situation that must open it; empty for any.
        work: Told how many spots are tried; it may be stopped.

    Raises:
        DataError: There is no such procedure, or a club cannot be of that length.
    """
    name = known_procedure(procedure, books[0].catalogue)
    check_club(player)
    if count < 1:
        raise DataError(f"{count} places cannot be looked for.", field=Field.COUNT, hint="Give 1 or more.")
    found = search_places(opened.course, name, books, player=player, count=count, situation=situation, work=work)
    return replace(found, day=opened.day)


def player_with(hand: Hand, club: Club, longest_club_in: float) -> Player:
    """The player who would show a procedure.

    Args:
        hand: Left or right.
        club: The club in hand.
        longest_club_in: The longest club other than a putter, inches.

    Raises:
        DataError: The longest club cannot be.
    """
    player = Player(hand=hand, longest_club_in=longest_club_in, club=club)
    check_club(player)
    return player


def check_club(player: Player) -> None:
    """See that a club is of a length that can be.

    Raises:
        DataError: It is not.
    """
    club_in = player.longest_club_in
    if club_in is not None and not SHORTEST_CLUB_IN <= club_in <= LONGEST_CLUB_IN:
        hint = f"Give inches from {SHORTEST_CLUB_IN:g} to {LONGEST_CLUB_IN:g}."
        raise DataError(f"A longest club of {club_in:g} in cannot be.", field=Field.LONGEST_CLUB_IN, hint=hint)


def search_places(
    course: Course,
    procedure: str,
    books: Sequence[Book],
    *,
    player: Player,
    count: int,
    situation: str = "",
    work: Work | None = None,
) -> PlacesFound:
    """Find places on a course for a procedure that exists."""
    books = know_each_other(books)
    openings = find_openings(course, books[0], procedure)
    meant = [opening for opening in openings if situation in {"", opening.case.incident.situation}]
    places, why_none = _places(course, procedure, books, player, count, meant, work or Work())
    return PlacesFound(course=course, procedure=procedure, books=tuple(books), places=places, why_none=why_none)


def known_procedure(asked: str, catalogue: Catalogue) -> str:
    """The name of a procedure's row, without its family.

    Raises:
        DataError: There is no such procedure; the error names the nearest.
    """
    every = catalogue.rows.values()
    rows = [row.id.removeprefix(_FAMILY) for row in every if row.id.startswith(_FAMILY) and "shape" in row.parts]
    name = asked.removeprefix(_FAMILY)
    if name in rows:
        return name
    near = ", ".join(get_close_matches(name, rows, n=3, cutoff=0.0))
    raise DataError(f"There is no procedure {name!r} in the rule data.", field=Field.PROCEDURE, hint=f"Nearest: {near}.")


def _places(
    course: Course, name: str, books: Sequence[Book], player: Player, count: int, openings: Sequence[Procedure], work: Work
) -> tuple[tuple[ShownPlace, ...], str]:
    closed = next((why for book in books if (why := _why_closed(book, name))), "")
    if closed:
        return (), closed
    if not any(hole.line is not None and hole.location is not None for hole in course.holes.values()):
        return (), f"No hole of {course.name} has both a line of play and a hole location, so no ball can be put on one."
    if not openings:
        return (), f"No situation opens {name}: it is carried out through others or by the players alone, and no ball is measured for it."
    ground, tally, tried, whole = see_ground(course), Tally(), list[ShownPlace](), 0
    for turn in openings_in_turn(openings):
        chosen = [] if tried else choose_candidates(turn, ground, books, player)
        whole = whole or len(chosen)
        tried += _tried(chosen, ground, books, tally, work, whole)
    # A coarse survey is certain of few places; where it is of none, the others are shown with that said.
    tried = [place for place in tried if place.is_certain] or tried
    places = tuple(_ruled_whole(place, course, books) for place in _spread(tried, count))
    return places, "" if places else why_no_place(course, openings, books, player, tally)


def _ruled_whole(place: ShownPlace, course: Course, books: Sequence[Book]) -> ShownPlace:
    """The place with everything that the books say there, now that it is one of few."""
    rulings = (rule_on(place.incident, course, book) for book in books)
    return replace(place, under=tuple(replace(shown, ruling=ruling) for shown, ruling in zip(place.under, rulings, strict=True)))


def _why_closed(book: Book, name: str) -> str:
    """Why a book gives a procedure nowhere; empty where it may."""
    row = f"{_FAMILY}{name}"
    if not book.has_row(row):
        return f"{book.name} has no such procedure: {book.why_absent(row)}"
    if not book.yes(f"{row}.allowed").value:
        return f"{book.name} does not allow it anywhere: {book.word(f'{row}.why_not').value}"
    if book.yes(f"{row}.by_local_rule").value and not book.yes(f"{row}.adopted").value:
        return f"{book.name} gives it only by a local rule that is not adopted here; name one: `list_local_rules()`."
    return ""


def _tried(
    chosen: Sequence[tuple[Candidate, Incident]], ground: ShowingGround, books: Sequence[Book], tally: Tally, work: Work, whole: int
) -> list[ShownPlace]:
    """The places at which candidates show the procedure under every book."""
    found: list[ShownPlace] = []
    for candidate, incident in chosen:
        work.tell("trying spots", min(len(found) + tally.spots, whole - 1), whole)
        try:
            place = _shown(candidate, incident, ground, books, tally)
        except (IncidentError, SurveyError) as problem:
            tally.add(problem.message)
            continue
        if place is not None:
            found.append(place)
    return found


def _shown(candidate: Candidate, incident: Incident, ground: ShowingGround, books: Sequence[Book], tally: Tally) -> ShownPlace | None:
    """The place with what every book gives there; None where one gives nothing certain."""
    under = _under(candidate, incident, books, tally)
    if under and under[0].option.line is not None and under[0].option.relief_area is None:
        incident, under = _with_choice(candidate, incident, under, books, tally)
    if not under:
        return None
    at = incident.ball or spot_of(under[0].option, None)
    look = spot_of(under[0].option, incident.ball)
    if at is None or look is None:
        tally.add("There is nothing to stand beside.")
        return None
    standing = ground.at(look)
    return ShownPlace(
        incident=incident,
        spot=candidate.spot,
        at=at,
        under=under,
        standing=standing,
        score=min(score_of(shown, standing) for shown in under),
    )


def _with_choice(
    candidate: Candidate, incident: Incident, under: tuple[Shown, ...], books: Sequence[Book], tally: Tally
) -> tuple[Incident, tuple[Shown, ...]]:
    """The incident with a place chosen on the line back at which the area is most nearly whole."""
    starts_m = [shown.option.line.intervals_m[0][0] for shown in under if shown.option.line is not None and shown.option.line.intervals_m]
    best, best_share = (incident, under), -1.0
    for back_m in (math.ceil(max(starts_m, default=0.0)) + step_m for step_m in BACK_M):
        chosen = replace(incident, choice=Choice(back_m=back_m))
        given = _under(candidate, chosen, books, tally)
        share = min((shown.share for shown in given if shown.option.line is not None and shown.option.line.holds(back_m)), default=-1.0)
        if share > best_share + 1e-9:
            best, best_share = (chosen, given), share
        if share > 0.999:
            break
    return best


def _under(candidate: Candidate, incident: Incident, books: Sequence[Book], tally: Tally) -> tuple[Shown, ...]:
    """What every book gives; empty where one gives nothing, or nothing certain."""
    found = []
    for book in books:
        names = frozenset(row.id for row in chain_of(candidate.opening))
        ruling = rule_on(incident, candidate.opening.case.course, book, only=names)
        option = _option_of(ruling, candidate.opening, names)
        if option is None:
            _count_why_not(ruling, names, incident, book, tally)
            return ()
        if option.relief_area is not None and option.relief_area.area_m2 == 0:
            tally.add("Nothing of the measured ground may be used.")
            return ()
        found.append(Shown(book=book.name, ruling=ruling, option=option))
    return tuple(found)


def _option_of(ruling: Ruling, opening: Procedure, names: frozenset[str]) -> Option | None:
    """The option that is measured by the opening's last row and told under one of its rows."""
    for option in ruling.options:
        if (option.carried_out_as or option.procedure) == opening.id and option.procedure in names:
            return option
    return None


def _count_why_not(ruling: Ruling, names: frozenset[str], incident: Incident, book: Book, tally: Tally) -> None:
    said = [entry.because for entry in ruling.not_available if entry.procedure in names]
    asked = [] if ruling.options else [entry.question for entry in ruling.facts_needed]
    if said or asked:
        tally.add((said + asked)[0])
    else:
        tally.add_otherwise(incident, book)


def _spread(found: Sequence[ShownPlace], count: int) -> tuple[ShownPlace, ...]:
    """The best places, apart from each other: one for each feature first, then a second, then more on a hole."""
    ranked = sorted(found, key=lambda place: (-round(place.score, 6), place.spot.feature, place.incident.hole, *place.at.xy))
    kept: list[ShownPlace] = []
    for per_feature, per_hole in ((1, PER_HOLE), (PER_FEATURE, PER_HOLE), (PER_FEATURE, count)):
        for place in ranked:
            features = Counter(other.spot.feature for other in kept)
            holes = Counter(other.incident.hole for other in kept)
            is_apart = all(other.at.distance_m(place.at) >= APART_M for other in kept)
            if len(kept) < count and features[place.spot.feature] < per_feature and holes[place.incident.hole] < per_hole and is_apart:
                kept.append(place)
    return tuple(sorted(kept, key=ranked.index))
