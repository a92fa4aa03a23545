"""How breaches stand to each other: of which kind each is, and whether the penalty of one takes in that of another."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from marram.core.citations import Citation
from marram.rulebook.book import Book

_KIND, _PAIR = "breach-kind.", "breach-pair."


class Stand(StrEnum):
    """How two breaches stand to each other where nothing lies between them."""

    TAKES_IN = "first-takes-in-second"
    RELATED = "related"
    ASKED = "asked"
    APART = "apart"


class Counted(StrEnum):
    """How several breaches of one kind in a round are counted."""

    AS_USUAL = "as-usual"
    HIGHEST = "highest"
    TO_THE_CAP = "to-the-cap"
    EACH_MORE = "each-more"
    MORE_AFTER_EVENT = "more-after-an-event"


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """A kind of breach.

    Attributes:
        row_id: Its row.
        acts: The acts of this kind.
        is_apart: Whether its acts stand apart from every other act.
        different_acts: How two different acts of this kind stand to each other.
        counted: How several breaches of this kind in a round are counted.
        is_of_one_ball: Whether a penalty for it may come from playing one ball alone.
    """

    row_id: str
    acts: frozenset[str]
    is_apart: bool
    different_acts: Stand
    counted: Counted
    is_of_one_ball: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class _Pair:
    row_id: str
    first: frozenset[str]
    second: frozenset[str]
    stand: Stand

    def holds(self, one: str, other: str) -> bool:
        return (one in self.first and other in self.second) or (other in self.first and one in self.second)


class Relations:
    """What a book says of how breaches stand to each other."""

    def __init__(self, book: Book) -> None:
        self._book = book
        rows = [row_id for row_id in book.catalogue.rows if book.has_row(row_id)]
        self._kinds = [self._read_kind(row_id) for row_id in rows if row_id.startswith(_KIND)]
        self._pairs = [self._read_pair(row_id) for row_id in rows if row_id.startswith(_PAIR)]

    def _read_kind(self, row_id: str) -> Kind:
        return Kind(
            row_id=row_id,
            acts=frozenset(self._book.words(f"{row_id}.acts").value),
            is_apart=self._word(row_id, "stands") == Stand.APART,
            different_acts=Stand(self._word(row_id, "different_acts")),
            counted=Counted(self._word(row_id, "counts")),
            is_of_one_ball=self._book.yes(f"{row_id}.of_one_ball").value,
        )

    def _read_pair(self, row_id: str) -> _Pair:
        return _Pair(
            row_id=row_id,
            first=frozenset(self._book.words(f"{row_id}.first").value),
            second=frozenset(self._book.words(f"{row_id}.second").value),
            stand=Stand(self._word(row_id, "stand")),
        )

    def _word(self, row_id: str, part: str) -> str:
        return self._book.word(f"{row_id}.{part}").value

    def kind_of(self, act: str) -> Kind | None:
        """The kind of an act; None where no kind lists it."""
        return next((kind for kind in self._kinds if act in kind.acts), None)

    def counted(self, act: str) -> Counted:
        """How several breaches of the kind of an act are counted."""
        kind = self.kind_of(act)
        return kind.counted if kind else Counted.AS_USUAL

    def may_fall_with_a_ball(self, act: str) -> bool:
        """Whether a penalty for the act may come from playing one ball alone."""
        kind = self.kind_of(act)
        return kind is None or kind.is_of_one_ball

    def takes_in(self, one: str, other: str) -> bool:
        """Whether the penalty for one act takes in that for another."""
        return any(pair.stand is Stand.TAKES_IN and one in pair.first and other in pair.second for pair in self._pairs)

    def stand(self, one: str, other: str) -> Stand:
        """How two acts stand to each other; the same act twice is related, and what no kind lists is asked about."""
        kinds = self.kind_of(one), self.kind_of(other)
        if any(kind is not None and (kind.is_apart or kind.counted is Counted.EACH_MORE) for kind in kinds):
            return Stand.APART
        if one == other:
            return Stand.RELATED
        pair = next((pair for pair in self._pairs if pair.holds(one, other)), None)
        if pair is not None:
            return pair.stand
        if kinds[0] is None or kinds[1] is None:
            return Stand.ASKED
        return kinds[0].different_acts if kinds[0] is kinds[1] else Stand.APART

    def citations(self, acts: Iterable[str]) -> tuple[Citation, ...]:
        """The rules by which the penalty for one of some acts takes in that for another."""
        named = tuple(acts)
        rows = (
            pair.row_id for pair in self._pairs if pair.stand is Stand.TAKES_IN and pair.first & set(named) and pair.second & set(named)
        )
        return tuple(citation for row_id in rows for citation in self._book.citations(row_id))
