"""A procedure's row in a book, read for one case; with the rows that it carries out above it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from marram.core.citations import Citation, Cited, merged
from marram.core.units import Size
from marram.rulebook.vocabulary import FollowFrom, ToldAs
from marram.rulebook.wording.explain import note_told, told_text
from marram.rulings.case.case import Case
from marram.rulings.case.known import known


@dataclass(frozen=True, kw_only=True)
class Procedure:
    """A procedure's row in a book.

    Attributes:
        case: The incident that it is read for.
        id: Name of the row, without its family.
        led_by: The procedure that this one carries out, whose penalty and limits prevail; None where it stands alone.
    """

    case: Case
    id: str
    led_by: Procedure | None = None

    @property
    def row_id(self) -> str:
        """Name of the row."""
        return f"relief.{self.id}"

    @property
    def told_as(self) -> Procedure:
        """The procedure under whose name the option is told."""
        for leader in self._chain():
            if leader is not self and leader.word("told_as") == ToldAs.THIS_ROW:
                return leader
        return self

    def _chain(self) -> Iterator[Procedure]:
        """The procedures from the outermost leader down to this one."""
        if self.led_by is not None:
            yield from self.led_by._chain()
        yield self

    def rows(self) -> tuple[str, ...]:
        """Names of the rows that it is carried out by, the outermost first."""
        return tuple(step.row_id for step in self._chain())

    def follows(self, case: Case, row: str) -> Procedure:
        """A procedure by which this one is carried out."""
        return Procedure(case=case, id=row, led_by=self)

    def alone(self) -> Procedure:
        """The same row without leaders."""
        return replace(self, led_by=None)

    def has(self, part: str) -> bool:
        """Whether the row states a part."""
        return self.case.book.has(f"{self.row_id}.{part}")

    def word(self, part: str) -> str:
        """A word of the row."""
        return self.case.book.word(f"{self.row_id}.{part}").value

    def words(self, part: str) -> tuple[str, ...]:
        """A list of words of the row."""
        return self.case.book.words(f"{self.row_id}.{part}").value

    def says(self, part: str) -> bool:
        """A yes or no of the row."""
        return self.case.book.yes(f"{self.row_id}.{part}").value

    def count(self, part: str) -> int:
        """A whole number of the row."""
        return int(self.case.book.number(f"{self.row_id}.{part}").value)

    def limit(self, part: str, *, none: str) -> str:
        """A limit: the outermost that states one prevails."""
        return next((leader.word(part) for leader in self._chain() if leader.word(part) != none), none)

    def is_mandatory(self) -> bool:
        """Whether the ball may not be played as it lies: by the row, or by a fact of the situation."""
        by_situation = f"situation.{self.case.incident.situation}.mandatory_if"
        note_told(by_situation)
        facts = self.case.book.words(by_situation).value
        return any(leader.says("mandatory") for leader in self._chain()) or any(known(self.case, fact) for fact in facts)

    def penalty_strokes(self) -> int:
        """The outermost penalty that is stated; a dropping zone takes that of the situation."""
        for leader in self._chain():
            if leader.has("penalty_strokes"):
                return leader.count("penalty_strokes")
        of_the_zone = f"situation.{self.case.incident.situation}.zone_strokes"
        note_told(of_the_zone)
        return int(self.case.book.number(of_the_zone).value)

    def ball_in(self) -> tuple[str, ...]:
        """Where the ball must be: a leader that speaks of one area alone speaks for what it carries out there."""
        if self.led_by is not None and self.led_by.word("follow_from") == FollowFrom.BALL_SPOT:
            areas = self.led_by.ball_in()
            if len(areas) == 1:
                return areas
        return self.words("ball_in")

    def size(self) -> tuple[Cited[Size], float]:
        """The size as stated, and on the ground."""
        stated = self.case.book.size(f"{self.row_id}.size")
        return stated, self.case.metres(stated.value)

    def advice(self) -> tuple[str, ...]:
        """What to tell besides the steps."""
        rows = [leader.row_id for leader in self._chain() if leader.word("advice") != "-"]
        return tuple(told_text(self.case.book, f"{row}.advice") for row in rows)

    def citations(self) -> tuple[Citation, ...]:
        """The rules of the row and of what it carries out."""
        return merged(*(step.case.book.citations(step.row_id) for step in reversed(list(self._chain()))))
