"""What a ruling says: options, what is not available and why, questions, lines, cautions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from shapely.geometry import MultiPolygon, Polygon

from marram.core.citations import Citation, merged
from marram.core.errors import RuleDataError
from marram.core.kept import OnRequest
from marram.core.terms import Area
from marram.course.frame import Position
from marram.relief.area.area import ReliefArea
from marram.relief.area.lines import LineBack
from marram.rulebook.vocabulary import MeasuredFrom
from marram.rulebook.wording.explain import interval_words, strokes_words
from marram.rulebook.wording.value_words import listed
from marram.rulings.case.met import Interference


class LineStatus(StrEnum):
    """What became of a line of a ruling."""

    APPLIED = "applied"
    BEATEN = "beaten"
    NOT_APPLICABLE = "not applicable"
    WAITING = "waiting for a fact"


@dataclass(frozen=True, slots=True, kw_only=True)
class RulingLine:
    """One sentence of a ruling with the rule behind it.

    Attributes:
        text: The sentence, in the edition's own terms.
        status: What became of it.
        citations: The rules; at least one.
        sums_up: Whether it says again in short what an option, a closed procedure or a question says at length.
    """

    text: str
    status: LineStatus
    citations: tuple[Citation, ...]
    sums_up: bool = False

    @property
    def is_applied(self) -> bool:
        """Whether the sentence holds."""
        return self.status is LineStatus.APPLIED

    @property
    def is_waiting(self) -> bool:
        """Whether the sentence waits for a fact."""
        return self.status is LineStatus.WAITING

    def __post_init__(self) -> None:
        if not self.citations:
            raise RuleDataError("A line of a ruling needs a rule behind it.", where=self.text)


class FoundPoint(StrEnum):
    """A point that no relief names as what it measures from; it is found where a relief cannot be had, or has a second point."""

    MAXIMUM_AVAILABLE_RELIEF = "point-of-maximum-available-relief"
    FAIRWAY = "fairway-point"


@dataclass(frozen=True, slots=True, kw_only=True)
class Reference:
    """A reference point.

    Attributes:
        position: The place.
        kind: What it is.
        distance_m: Its distance from the ball's spot; None where the ball has none.
        clearance_m: Gap between player and condition there; None where no condition is involved.
        other_clubs: Finds on request how far the point moves with the other clubs' stances.
    """

    position: Position
    kind: MeasuredFrom | FoundPoint
    distance_m: float | None = None
    clearance_m: float | None = None
    other_clubs: OnRequest[float | None] | None = field(default=None, compare=False, repr=False)

    @property
    def range_m(self) -> float | None:
        """How far the point moves with the other clubs' stances; None where the stance plays no part."""
        return None if self.other_clubs is None else self.other_clubs.found


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubt:
    """How sure a crossing point is, and what that does.

    Attributes:
        sigma_m: Survey accuracy of the edge that was crossed; None where unknown.
        other_reference: The reference point by somebody else's estimate; None where there is none.
        other_area: The relief area by that estimate.
        overlap_m2: Ground that both areas have in common; None where there are not two areas.
        overlap: Its outline, for drawing.
        fan_m: Along a line back: how far back, and how far to either side the true line may run (two standard deviations).
        fan: The outline of that, for drawing; None where there is no line or its accuracy is unknown.
    """

    sigma_m: float | None
    other_reference: Position | None
    other_area: ReliefArea | None
    overlap_m2: float | None
    overlap: Polygon | MultiPolygon | None
    fan_m: tuple[tuple[float, float], ...]
    fan: Polygon | MultiPolygon | None


@dataclass(frozen=True, slots=True, kw_only=True)
class RightPlace:
    """Whether the ball was played from a right place of an option.

    Attributes:
        is_right: Yes, no, or None where what was stated does not settle it.
        distance_m: Distance to the nearest place that may be right; zero there; None where no place is.
        margin_m: Distance to where the answer would change; None where it is not settled.
        accuracy_m: Survey accuracy that the margin is held against; None where unknown.
        because: Why, in words that follow *yes*, *no* or *cannot be told*.
        asks: Name of what would settle it; empty where it is settled.
        question: The question to ask; empty where it is settled.
        citations: The rules.
    """

    is_right: bool | None
    distance_m: float | None
    margin_m: float | None
    accuracy_m: float | None
    because: str
    asks: str
    question: str
    citations: tuple[Citation, ...]

    @property
    def must_measure_on_ground(self) -> bool:
        """Whether the survey is too coarse to decide: the margin is within its accuracy, or the accuracy is unknown."""
        return self.margin_m is not None and (self.accuracy_m is None or self.margin_m < self.accuracy_m)


@dataclass(frozen=True, slots=True, kw_only=True)
class Further:
    """Another condition that is in the way once relief from one has been taken.

    Attributes:
        situation: The situation that gives relief from it.
        noun: What to call it.
        features: Names of the things within 5 m of the point.
        interference: How it interferes with a ball at the point; None where it only lies under part of the relief area.
        on_area_m2: How much of the relief area lies on such things, m²; None where no area is measured.
        points: The next points of relief, from it, for a ball at the point; empty where there is none.
        is_back: Whether the condition that relief was taken from interferes again at that next point.
        citations: The rules.
    """

    situation: str
    noun: str
    features: tuple[str, ...]
    interference: Interference | None
    on_area_m2: float | None
    points: tuple[Reference, ...]
    is_back: bool
    citations: tuple[Citation, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """One way that the rules allow.

    Attributes:
        procedure: Name of the procedure's row.
        carried_out_as: Name of the row that it follows; empty where it is measured by its own.
        rows: Names of all rows that it is carried out by, the outermost first.
        title: What the edition calls it.
        penalty_strokes: Penalty strokes in stroke play.
        put: How the ball is put in play.
        which: Which ball may be used.
        references: The reference points, all that are equally near; the chosen one first.
        relief_area: Where the ball is dropped; None where no area is measured or none is chosen yet.
        no_nearer_m: The ball may not be nearer to the hole than this; None where nothing is measured.
        size_m: Size of the area on the ground; None where none is measured.
        size_words: The size as the rule states it.
        line: The line back; None where there is none.
        roll_m: How far a dropped ball may roll, where the edition limits that instead of giving an area.
        steps: What to do, in order.
        margin_m: Least distance by which what was decided holds; None where nothing was measured.
        accuracy_m: Survey accuracy that it is held against; None where unknown.
        met: The condition in the way, where the option is about one.
        further: Other conditions in the way at the first reference point, or under part of the area.
        is_mandatory: Whether the ball may not be played as it lies.
        doubt: How sure the reference point is; None where nothing is in doubt, or nothing is known of it.
        crossing_moved_m: How far the crossing point stated lay off the edge that it was taken to; None where none was stated.
        waiting_for: Names of facts that could still take the option away.
        right_place: Whether the ball was then played from a right place; None where nobody said where, or no place is measured.
        citations: The rules.
    """

    procedure: str
    carried_out_as: str
    rows: tuple[str, ...]
    title: str
    penalty_strokes: int
    put: str
    which: str
    references: tuple[Reference, ...]
    relief_area: ReliefArea | None
    no_nearer_m: float | None
    size_m: float | None
    size_words: str
    line: LineBack | None
    roll_m: float | None
    steps: tuple[str, ...]
    margin_m: float | None
    accuracy_m: float | None
    met: Interference | None
    further: tuple[Further, ...]
    is_mandatory: bool
    doubt: Doubt | None
    crossing_moved_m: float | None
    waiting_for: tuple[str, ...]
    right_place: RightPlace | None
    citations: tuple[Citation, ...]

    @property
    def name(self) -> str:
        """Its procedure, and the row that it follows: what a choice between the options of a ruling is told by."""
        return f"{self.procedure}.{self.carried_out_as}" if self.carried_out_as else self.procedure

    @property
    def penalty_words(self) -> str:
        """Its penalty strokes in words."""
        return strokes_words(self.penalty_strokes)

    @property
    def usable_words(self) -> str:
        """The stretches of its line that may be used, in words; empty where it has no line."""
        return "" if self.line is None else interval_words(self.line.intervals_m)

    @property
    def must_measure_on_ground(self) -> bool:
        """Whether the survey is too coarse to decide: the margin is within its accuracy, or the accuracy is unknown."""
        if self.margin_m is None:
            return False
        return self.accuracy_m is None or self.margin_m < self.accuracy_m


@dataclass(frozen=True, slots=True, kw_only=True)
class NotAvailable:
    """A procedure that is not open, and why."""

    procedure: str
    title: str
    because: str
    citations: tuple[Citation, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """A fact that the ruling waits for.

    Attributes:
        fact: Its name.
        question: The question that settles it.
        opens: Procedures that the answer could open, in the order in which the situation names them; none where it can only close one.
        titles: What the edition calls them.
        citations: The rules.
        answers: The words of which one is the answer; empty where it is yes or no, a place, a length or a side.
    """

    fact: str
    question: str
    opens: tuple[str, ...]
    titles: tuple[str, ...]
    citations: tuple[Citation, ...]
    answers: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        """The question, after what its answer would open."""
        opened = [title[:1].lower() + title[1:] for title in self.titles]
        return f"To find {listed(opened, 'or')}: {self.question[:1].lower()}{self.question[1:]}" if opened else self.question


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """A caution, with where it comes from."""

    text: str
    citations: tuple[Citation, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ruling:
    """The answer of one rule book to one incident.

    Attributes:
        book: Name of the book.
        title: Its documents.
        stamp: Its stamp.
        options: What the player may do, in the rules' order.
        not_available: What is not open, and why.
        facts_needed: What is still to be asked.
        cautions: What comes before any ruling.
        area_words: What the edition calls each area of the course.
        reasons: Tells on request why, line by line.
    """

    book: str
    title: str
    stamp: str
    options: tuple[Option, ...]
    not_available: tuple[NotAvailable, ...]
    facts_needed: tuple[Question, ...]
    cautions: tuple[Caution, ...]
    area_words: Mapping[Area, str]
    reasons: OnRequest[tuple[RulingLine, ...]] = field(compare=False, repr=False)

    @property
    def lines(self) -> tuple[RulingLine, ...]:
        """The reasons."""
        return self.reasons.found

    @property
    def citations(self) -> tuple[Citation, ...]:
        """Every rule behind the ruling, each once, those of its options first."""
        options = (option.citations for option in self.options)
        closed = (entry.citations for entry in self.not_available)
        lines = (line.citations for line in self.lines)
        return merged(*options, *closed, *lines, *(caution.citations for caution in self.cautions))
