"""What breaches cost together once everything is known or supposed: which count, which are taken in, and up to which cap."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from marram.core.citations import Citation, merged
from marram.rulebook.book import Book
from marram.rulebook.consequence_words import HOLE_IS_LOST, HOLE_WORDS, OUT_OF_MATCH_PLAY, OUT_OF_STROKE_PLAY, BorneBy, HoleIs, OnlyIn, Out
from marram.rulebook.vocabulary import Several
from marram.rulings.acts.breach_relations import Counted, Relations, Stand
from marram.rulings.acts.breaches import Breach

_ROW, _CAP, _UNCOUNTED = "several-breaches", "club-excess-penalty-cap", "strokes-that-do-not-count"


class Between(StrEnum):
    """What lies between two breaches."""

    ONE_ACT = "one-act"
    RELATED = "related"
    UNRELATED = "unrelated"
    NO_EVENT = "no-event"
    EVENT = "event"
    STROKE = "stroke"


_PARTS = {
    Between.ONE_ACT: "one_act",
    Between.RELATED: "related",
    Between.UNRELATED: "apart_without_event",
    Between.NO_EVENT: "apart_without_event",
    Between.EVENT: "apart_after_event",
    Between.STROKE: "apart_after_event",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Supposed:
    """What is known or supposed about some breaches.

    Attributes:
        between: What lies between them.
        are_related: Whether acts of which the book does not say it are related.
        is_with_uncounted: Whether a breach of which nobody has said it was done with the ball whose strokes do not count.
        holes: Over how many holes a breach went on that is counted for each hole.
    """

    between: Between
    are_related: bool
    is_with_uncounted: bool
    holes: int

    @property
    def counted_up(self) -> tuple[Counted, ...]:
        """Of which kinds a further act is a second or third breach: of none where one act did it all."""
        if self.between is Between.ONE_ACT:
            return ()
        is_later = self.between in {Between.EVENT, Between.STROKE}
        return (Counted.EACH_MORE, Counted.MORE_AFTER_EVENT) if is_later else (Counted.EACH_MORE,)


@dataclass(frozen=True, slots=True, kw_only=True)
class MatchCost:
    """What one side of a match bears.

    Attributes:
        strokes: Penalty strokes.
        holes_lost: Which holes are lost: ``lost`` the hole being played, ``first-lost``, ``next-lost``.
        over_holes: Over how many holes the hole is lost, where a breach is counted for each hole.
        holes_deducted: Holes deducted, for what is counted for each hole.
        is_out: Whether the player is disqualified.
    """

    strokes: int = 0
    holes_lost: tuple[HoleIs, ...] = ()
    over_holes: int = 1
    holes_deducted: int = 0
    is_out: bool = False

    @property
    def words(self) -> str:
        """The cost as an official reads it out; who is disqualified has nothing else to bear."""
        if self.is_out:
            return "disqualified"
        over = f", for each of {self.over_holes} holes" if self.over_holes > 1 else ""
        told = [HOLE_WORDS[hole] + (over if hole is HoleIs.LOST else "") for hole in self.holes_lost]
        told += [stroke_words(self.strokes)] if self.strokes else []
        told += [f"{self.holes_deducted} hole{'s' * (self.holes_deducted != 1)} deducted"] if self.holes_deducted else []
        return ", ".join(told) or "no penalty"


@dataclass(frozen=True, slots=True, kw_only=True)
class Together:
    """What several acts cost together.

    Attributes:
        strokes: Penalty strokes in stroke play.
        is_out: Whether the player is disqualified in stroke play.
        is_out_of_net: Whether the player is disqualified from a net event.
        committee_may: Whether the Committee may disqualify.
        other_strokes: Penalty strokes in stroke play that another player bears.
        match: What the player bears in a match.
        opponent: What the opponent bears in a match.
        counts: ``highest`` or ``each``, as the book says of what lies between.
        citations: The rules.
    """

    strokes: int
    is_out: bool
    is_out_of_net: bool
    committee_may: bool
    other_strokes: int
    match: MatchCost
    opponent: MatchCost
    counts: str
    citations: tuple[Citation, ...]

    @property
    def stroke_play_words(self) -> str:
        """The cost in stroke play as an official reads it out."""
        if self.is_out:
            return "disqualified"
        told = [stroke_words(self.strokes) if self.strokes else "no penalty"]
        told += ["disqualified from a net event"] if self.is_out_of_net else []
        told += ["the Committee may disqualify"] if self.committee_may else []
        other = f"; the other player: {stroke_words(self.other_strokes)}" if self.other_strokes else ""
        return ", ".join(told) + other

    @property
    def match_play_words(self) -> str:
        """The cost in match play as an official reads it out, the opponent's after the player's."""
        opponent = self.opponent.words
        may = ", the Committee may disqualify" if self.committee_may and not self.match.is_out else ""
        return self.match.words + may + ("" if opponent == "no penalty" else f"; opponent: {opponent}")

    @property
    def amounts(self) -> tuple[object, ...]:
        """Everything that two totals may differ in."""
        return self.strokes, self.is_out, self.is_out_of_net, self.committee_may, self.other_strokes, self.match, self.opponent


def stroke_words(strokes: int) -> str:
    """Penalty strokes in words."""
    return "one penalty stroke" if strokes == 1 else f"{strokes} penalty strokes"


def add_up(book: Book, relations: Relations, breaches: Sequence[Breach], supposed: Supposed) -> Together:
    """Add breaches up.

    Args:
        book: The book.
        relations: How its breaches stand to each other.
        breaches: The breaches.
        supposed: What is known or supposed about them.
    """
    adder = _Adder(book, relations, supposed)
    stroke, match = adder.counted(breaches, is_match=False), adder.counted(breaches, is_match=True)
    own, others = _borne_by(stroke, BorneBy.PLAYER), _borne_by(stroke, BorneBy.OPPONENT)
    return Together(
        strokes=adder.strokes(own),
        is_out=any(breach.case.out in OUT_OF_STROKE_PLAY for breach in own),
        is_out_of_net=any(breach.case.out is Out.NET_EVENT for breach in own),
        committee_may=any(breach.case.out is Out.COMMITTEE_MAY for breach in own),
        other_strokes=adder.strokes(others),
        match=adder.match_cost(_borne_by(match, BorneBy.PLAYER)),
        opponent=adder.match_cost(_borne_by(match, BorneBy.OPPONENT)),
        counts=book.word(f"{_ROW}.{_PARTS[supposed.between]}").value,
        citations=adder.citations(breaches),
    )


def _borne_by(breaches: Iterable[Breach], who: str) -> list[Breach]:
    return [breach for breach in breaches if breach.case.who == who]


class _Adder:
    """Adds breaches up under one book and one thing supposed."""

    def __init__(self, book: Book, relations: Relations, supposed: Supposed) -> None:
        self.book = book
        self.relations = relations
        self.supposed = supposed

    def counted(self, breaches: Sequence[Breach], *, is_match: bool) -> list[Breach]:
        """The breaches that count in a form of play: not what fell with an uncounted ball, and not what another takes in."""
        apart = OnlyIn.STROKE_PLAY if is_match else OnlyIn.MATCH_PLAY
        played = [breach for breach in breaches if breach.case.only_in != apart]
        live = self._with_a_ball_that_counts(played, is_match=is_match)
        return [breach for breach in live if not any(self._takes_in(other, breach) for other in live)]

    def _with_a_ball_that_counts(self, breaches: Sequence[Breach], *, is_match: bool) -> list[Breach]:
        """What is left where strokes do not count; in a match only where they are cancelled without a penalty."""
        cancelling = [b for b in breaches if b.is_cancelling and not (is_match and (b.case.strokes or b.case.hole))]
        if not cancelling or not self.book.yes(f"{_UNCOUNTED}.penalties_fall_too").value:
            return list(breaches)
        kept = max(cancelling, key=lambda breach: (breach.is_with_uncounted is not True, breach.case.strokes, breach.act))
        return [breach for breach in breaches if breach is kept or not self._falls(breach)]

    def _falls(self, breach: Breach) -> bool:
        if not self.relations.may_fall_with_a_ball(breach.act):
            return False
        return self.supposed.is_with_uncounted if breach.is_with_uncounted is None else breach.is_with_uncounted

    def _takes_in(self, one: Breach, other: Breach) -> bool:
        is_one_occasion = one.group == other.group and self.supposed.between is not Between.STROKE
        return one is not other and is_one_occasion and self.relations.takes_in(one.act, other.act)

    def strokes(self, breaches: Sequence[Breach]) -> int:
        """Penalty strokes in stroke play."""
        capped, others = self._split(breaches)
        by_hole = sum(self._up_to(max(breach.case.strokes for breach in of_kind), "max_strokes") for of_kind in self._kinds(capped))
        return by_hole + sum(max(self._by_hole(breach, breach.case.strokes) for breach in cluster) for cluster in self._clusters(others))

    def _up_to(self, each: int, cap: str) -> int:
        return min(each * self.supposed.holes, int(self.book.number(f"{_CAP}.{cap}").value))

    def _kinds(self, breaches: Sequence[Breach]) -> list[list[Breach]]:
        """Breaches that are counted up to one cap together: those of a kind that says so, and each other act by itself."""
        found: dict[object, list[Breach]] = {}
        for breach in breaches:
            is_together = self.relations.counted(breach.act) is Counted.TO_THE_CAP
            found.setdefault(self.relations.kind_of(breach.act) if is_together else breach.act, []).append(breach)
        return list(found.values())

    def _by_hole(self, breach: Breach, strokes: int) -> int:
        return strokes * (self.supposed.holes if breach.case.per_hole else 1)

    def match_cost(self, breaches: Sequence[Breach]) -> MatchCost:
        """What breaches cost in a match; a lost hole leaves no strokes to be counted on it."""
        by_hole, _ = self._split(breaches)
        capped = [breach for breach in by_hole if not breach.case.hole and not breach.case.match_strokes]
        others = [breach for breach in breaches if breach not in capped]
        clusters = self._clusters(others)
        lost = sorted({breach.case.hole for breach in others if breach.case.hole in HOLE_IS_LOST}, key=_in_order)
        strokes = 0
        for cluster in clusters:
            is_lost = any(breach.case.hole for breach in cluster)
            is_elsewhere = any(self.relations.counted(breach.act) is Counted.EACH_MORE for breach in cluster)
            is_moot = is_lost or (HoleIs.LOST in lost and not is_elsewhere)
            strokes += 0 if is_moot else max(self._by_hole(breach, breach.case.match_strokes) for breach in cluster)
        return MatchCost(
            strokes=strokes,
            holes_lost=tuple(lost),
            over_holes=self.supposed.holes if any(breach.case.per_hole and breach.case.hole for breach in others) else 1,
            holes_deducted=self._deducted(capped),
            is_out=any(breach.case.out in OUT_OF_MATCH_PLAY for breach in breaches),
        )

    def _deducted(self, capped: Sequence[Breach]) -> int:
        each = int(self.book.number(f"{_CAP}.holes_per_hole").value)
        costly = [of_kind for of_kind in self._kinds(capped) if any(breach.case.strokes for breach in of_kind)]
        return sum(self._up_to(each, "max_holes") for _ in costly)

    @staticmethod
    def _split(breaches: Sequence[Breach]) -> tuple[list[Breach], list[Breach]]:
        """What is counted for each hole up to the cap, and the rest."""
        capped = [breach for breach in breaches if breach.case.per_hole and breach.case.capped]
        return capped, [breach for breach in breaches if breach not in capped]

    def _clusters(self, breaches: Sequence[Breach]) -> list[list[Breach]]:
        """Breaches of which only the highest penalty counts, together."""
        clusters: list[list[Breach]] = []
        for breach in breaches:
            joined = [cluster for cluster in clusters if any(self._is_one(breach, other) for other in cluster)]
            clusters = [cluster for cluster in clusters if cluster not in joined]
            clusters.append([breach, *(other for cluster in joined for other in cluster)])
        return clusters

    def _is_one(self, one: Breach, other: Breach) -> bool:
        """Whether only the higher penalty of two breaches counts."""
        counted = self.relations.counted(one.act), self.relations.counted(other.act)
        kinds = self.relations.kind_of(one.act), self.relations.kind_of(other.act)
        if kinds[0] is kinds[1] and counted[0] is Counted.HIGHEST:
            return True
        is_by_itself = any(kind is not None and kind.is_apart for kind in kinds) or (
            kinds[0] is kinds[1] and counted[0] is Counted.EACH_MORE
        )
        if one.group != other.group or (is_by_itself and self.supposed.between is not Between.ONE_ACT):
            return False
        return self.book.word(f"{_ROW}.{self._part(one, other)}").value == Several.HIGHEST

    def _part(self, one: Breach, other: Breach) -> str:
        """Which part of the rule on several breaches speaks of two of them."""
        if self.supposed.between is not Between.NO_EVENT:
            return _PARTS[self.supposed.between]
        stand = self.relations.stand(one.act, other.act)
        is_related = stand in {Stand.RELATED, Stand.TAKES_IN} or (stand is Stand.ASKED and self.supposed.are_related)
        return _PARTS[Between.RELATED if is_related else Between.UNRELATED]

    def citations(self, breaches: Sequence[Breach]) -> tuple[Citation, ...]:
        """The rules by which they are added up."""
        by_hole, _ = self._split(breaches)
        falls = any(breach.is_cancelling for breach in breaches) and len(breaches) > 1
        return merged(
            self.book.citations(_ROW) if len(breaches) > 1 else (),
            self.relations.citations(breach.act for breach in breaches),
            self.book.citations(_UNCOUNTED) if falls else (),
            self.book.citations(_CAP) if by_hole else (),
        )


def _in_order(hole: HoleIs) -> int:
    return (HoleIs.FIRST_LOST, HoleIs.LOST, HoleIs.NEXT_LOST).index(hole)
