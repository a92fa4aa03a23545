"""What penalties cost on a card: in strokes on a hole, off the total, as the hole itself, or the competition; each with its rule."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from marram.core.citations import Citation, merged
from marram.core.errors import CardError
from marram.core.terms import Form
from marram.core.words import as_told, counted
from marram.rulebook.book import Book
from marram.rulebook.consequence_words import BorneBy, HoleIs
from marram.rulebook.consequences import Consequence
from marram.rulebook.form_of_play_words import ClubsAs, DelayAs, LateAs
from marram.rulebook.named_facts import NamedFact
from marram.rulings.acts.act_in_form import FormReading, read_in_form
from marram.rulings.acts.acts import FAMILY, facts_read, rule_on_act
from marram.rulings.acts.breach_relations import Counted, Relations
from marram.rulings.acts.partners import PartnerBears
from marram.scoring.cards.card import Card, Penalty
from marram.scoring.forms.charge_words import breach_words, cap_said, cost_words, nth_breach, strokes_said
from marram.scoring.forms.form_law import FormLaw, OwnCharge

_CAP = "club-excess-penalty-cap"
HELPED_PARTNER, NOT_REPORTED = "helped_partner", "not_reported"
"""Facts of a penalty beside those that its act reads."""
_PARTNER_IF_HELPED = frozenset({PartnerBears.IF_IT_HELPED, PartnerBears.IF_IT_HELPED_OR_HURT})
_PARTNER_TOO = frozenset({PartnerBears.SIDE, PartnerBears.SAME, PartnerBears.SIDE_IS_OUT})


class Charged(StrEnum):
    """Where a charge falls."""

    ON_HOLE = "on-hole"
    OFF_TOTAL = "off-total"
    HOLE_ITSELF = "hole-itself"
    DISQUALIFIED = "disqualified"
    NOTHING = "nothing"


class Unit(StrEnum):
    """What a charge is counted in."""

    STROKES = "strokes"
    POINTS = "points"
    HOLES = "holes"


_UNITS: Mapping[str, Unit] = {
    ClubsAs.POINTS_OFF_ROUND: Unit.POINTS,
    ClubsAs.HOLES_OFF_RESULT: Unit.HOLES,
    ClubsAs.HOLES_OFF_MATCH: Unit.HOLES,
}
"""Ways of charging that take points or holes off the total; late starts and delay use the same words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Charge:
    """A penalty as it was charged.

    Attributes:
        charged: Where it falls.
        amount: How much.
        unit: Of what.
        hole: The hole; None for the round.
        act: The act; empty where strokes alone were stated.
        ruling: Id of the ruling; empty where there is none.
        player: Whose card it stands on: the player, or the side that plays one ball.
        round: Number of the round.
        is_in_score: Whether the score of the hole held it already.
        bears_partner: Whether the partner bears the same.
        says: The same in words.
        citations: The rules.
    """

    charged: Charged
    amount: int = 0
    unit: Unit = Unit.STROKES
    hole: int | None = None
    act: str = ""
    ruling: str = ""
    player: str = ""
    round: int = 1
    is_in_score: bool = False
    bears_partner: bool = False
    says: str
    citations: tuple[Citation, ...]

    @property
    def strokes_on_hole(self) -> int:
        """Strokes that are to be added to the score of the hole."""
        return self.amount if self.charged is Charged.ON_HOLE and not self.is_in_score else 0


def charges_on(book: Book, law: FormLaw, card: Card, partners: Form | None = None) -> tuple[Charge, ...]:
    """What the penalties of a card cost.

    Args:
        book: The book.
        law: What it says of the form of play.
        card: The card.
        partners: The form of partners that the player plays in; None for a player alone.

    Raises:
        CardError: A penalty names an act that the book does not have, or needs a hole.
    """
    charger = _Charger(book, law, card, partners)
    return tuple(charger.charge(penalty) for penalty in sorted(card.penalties, key=charger.in_order))


class _Charger:
    """Charges the penalties of one card one after the other, since caps and second breaches look back."""

    def __init__(self, book: Book, law: FormLaw, card: Card, partners: Form | None) -> None:
        self.book = book
        self.partners = partners
        self.law = law
        self.card = card
        self.relations = Relations(book) if card.penalties else None
        self.spent: dict[str, int] = {}
        self.delays = 0

    def in_order(self, penalty: Penalty) -> int:
        """The place of a hole in the order in which the player played."""
        holes = len(self.card.entries)
        hole = penalty.hole or self.card.start
        return (hole - self.card.start) % holes if hole <= holes else hole

    def charge(self, penalty: Penalty) -> Charge:
        """What one penalty costs."""
        if not penalty.act:
            return self._made(penalty, Charged.ON_HOLE, penalty.strokes or 0, says=strokes_said(penalty.strokes or 0), citations=())
        row = f"{FAMILY}{penalty.act}"
        if row not in self.book.catalogue.rows or not self.book.has_row(row):
            raise self._fault(penalty, f"{self.book.name} has no act {penalty.act!r}.")
        self._refuse_unread(penalty)
        if self.law.must_report and NOT_REPORTED in penalty.facts and self._is_own(penalty.act):
            says = f"{breach_words(self.book, penalty.act)}, and not reported to the Committee before the card went in: disqualified"
            return self._made(penalty, Charged.DISQUALIFIED, says=says, citations=self.law.clubs.citations)
        if penalty.act in self.law.clubs_acts:
            return self._clubs(penalty)
        if penalty.act in self.law.late_acts and self.law.late.first is not None and not self._is_excused(penalty):
            return self._own(penalty, self.law.late, self.law.late.first, hole=self.card.start)
        if penalty.act in self.law.delay_acts:
            return self._delay(penalty)
        return self._as_act_says(penalty, penalty.facts)

    def _refuse_unread(self, penalty: Penalty) -> None:
        """Refuse a fact that the book does not read of the act: it would be lost without a word."""
        read = {*facts_read([self.book], penalty.act), HELPED_PARTNER, NOT_REPORTED}
        unread = sorted(as_told(fact) for fact in penalty.facts - read)
        if unread:
            told = ", ".join(sorted(map(as_told, read)))
            raise self._fault(penalty, f"{self.book.name} does not read {', '.join(unread)} of it; it reads {told}.")

    def _is_own(self, act: str) -> bool:
        return act in self.law.clubs_acts | self.law.late_acts | self.law.delay_acts

    def _is_excused(self, penalty: Penalty) -> bool:
        """Whether the facts make it a case that costs nothing or disqualifies, which the act says and not the form."""
        case = rule_on_act(self.book, penalty.act, dict.fromkeys(penalty.facts, True)).case
        return case is None or not case.strokes

    def _clubs(self, penalty: Penalty) -> Charge:
        own = self.law.clubs
        if not own.way or own.first is None:
            own = self._club_scale()
        kind = self._kind(penalty.act)
        left = (own.first or 0) if own.most is None else max(0, min(own.first or 0, own.most - self.spent.get(kind, 0)))
        self.spent[kind] = self.spent.get(kind, 0) + left
        return self._own(penalty, own, left, hole=penalty.hole)

    def _club_scale(self) -> OwnCharge:
        """The scale of stroke play, where the form states no charge of its own."""
        return OwnCharge(
            way=ClubsAs.STROKES_ON_HOLES,
            first=int(self.book.number(f"{_CAP}.strokes_per_hole").value),
            most=int(self.book.number(f"{_CAP}.max_strokes").value),
            citations=self.book.citations(_CAP),
        )

    def _kind(self, act: str) -> str:
        """What is counted up to one cap: acts of a kind that says so together, any other act by itself."""
        kind = self.relations.kind_of(act) if self.relations is not None else None
        return kind.row_id if kind is not None and kind.counted is Counted.TO_THE_CAP else act

    def _delay(self, penalty: Penalty) -> Charge:
        self.delays += 1
        own = self.law.delay
        amount = {1: own.first, 2: own.second}.get(self.delays)
        counted_up = {2: NamedFact.SECOND_BREACH, 3: NamedFact.THIRD_BREACH}.get(min(self.delays, 3))
        facts = penalty.facts | ({counted_up.value} if counted_up else frozenset())
        if amount is None and self.delays == 1 and own.way in _UNITS:
            raise self._fault(penalty, f"{self.book.name} does not say how much delay costs in {self.law.form.value}.")
        if amount is None or own.way in {"", DelayAs.AS_THE_ACT_SAYS}:
            return self._as_act_says(penalty, facts, number=self.delays)
        return self._own(penalty, own, amount, hole=penalty.hole, number=self.delays)

    def _breach(self, penalty: Penalty, number: int | None) -> str:
        """The breach in words, with its number where breaches of the round are counted."""
        breach = breach_words(self.book, penalty.act)
        return breach if number is None else nth_breach(breach, number)

    def _own(self, penalty: Penalty, own: OwnCharge, amount: int, *, hole: int | None, number: int | None = None) -> Charge:
        """A charge in the form's own way."""
        unit = _UNITS.get(own.way)
        how = self._breach(penalty, number)
        nothing = cap_said(own.most or 0, unit or Unit.STROKES)
        by = merged(own.citations, self.book.citations(f"{FAMILY}{penalty.act}"))
        both = self._bears_partner(penalty, self._reading(penalty.act, rule_on_act(self.book, penalty.act, {}).case))
        if unit is not None:
            whole = "match" if own.way == ClubsAs.HOLES_OFF_MATCH else "total"
            says = cost_words(how, f"{counted(amount, unit.value[:-1])} off the {whole}" if amount else nothing)
            return self._made(penalty, Charged.OFF_TOTAL, amount, unit=unit, says=says, citations=by)
        if own.way == LateAs.LOSS_OF_FIRST_HOLE:
            says = cost_words(how, f"hole {hole} is lost")
            return self._made(penalty, Charged.HOLE_ITSELF, hole=hole, bears_partner=both, says=says, citations=by)
        if hole is None:
            raise self._fault(penalty, "It is charged on a hole, and no hole is stated.")
        says = cost_words(how, f"{strokes_said(amount)} on hole {hole}" if amount else nothing)
        return self._made(penalty, Charged.ON_HOLE, amount, hole=hole, bears_partner=both, says=says, citations=by)

    def _as_act_says(self, penalty: Penalty, facts: frozenset[str], *, number: int | None = None) -> Charge:
        answer = rule_on_act(self.book, penalty.act, dict.fromkeys(facts, True))
        reading = self._reading(penalty.act, answer.case)
        if answer.case is None or reading is None or not reading.happens:
            why = answer.why_none or (reading.says if reading is not None else "")
            raise self._fault(penalty, f"{self.book.name} cannot charge {penalty.act!r}: {why}")
        cited = merged(answer.citations, reading.citations)
        if answer.case.who is BorneBy.OPPONENT and reading.is_match:
            raise self._fault(penalty, "the opponent bears it; write it with the opponent's card")
        both = self._bears_partner(penalty, reading)
        says = cost_words(self._breach(penalty, number), reading.says)
        if reading.is_out:
            return self._made(penalty, Charged.DISQUALIFIED, bears_partner=both, says=says, citations=cited)
        if reading.hole:
            hole = self._hole_lost(penalty, reading.hole)
            return self._made(penalty, Charged.HOLE_ITSELF, hole=hole, bears_partner=both, says=says, citations=cited)
        strokes = reading.strokes if penalty.strokes is None else penalty.strokes
        charged = Charged.ON_HOLE if strokes else Charged.NOTHING
        if charged is Charged.ON_HOLE and penalty.hole is None:
            raise self._fault(penalty, "It is charged on a hole, and no hole is stated.")
        return self._made(penalty, charged, strokes, bears_partner=both, says=says, citations=cited)

    def _bears_partner(self, penalty: Penalty, reading: FormReading | None) -> bool:
        """Whether the partner bears the same: always, or because it helped him."""
        if self.partners is None or reading is None:
            return False
        return reading.partner in _PARTNER_TOO or (reading.partner in _PARTNER_IF_HELPED and HELPED_PARTNER in penalty.facts)

    def _reading(self, act: str, case: Consequence | None) -> FormReading | None:
        """How the act reads in the form, or in the form of partners as that is played here."""
        if case is None:
            return None
        if self.partners is None or not self.book.has_row(f"form.{self.partners.value}"):
            return read_in_form(self.book, self.law.form, act, case)
        own = read_in_form(self.book, self.law.form, act, case)
        played = Form.MATCH_PLAY if self.law.form is Form.MATCH_PLAY else Form.STROKE_PLAY
        read = read_in_form(self.book, self.partners, act, case, played)
        if own is None or read is None:
            return own
        if own.is_out and read.hole:
            return read  # no score for the hole, and nobody is disqualified
        return replace(own, partner=read.partner, citations=merged(own.citations, read.citations))

    def _hole_lost(self, penalty: Penalty, word: str) -> int | None:
        """The hole that is lost: the one named, the first, or the next."""
        if word == HoleIs.FIRST_LOST:
            return self.card.start
        return penalty.hole + 1 if word == HoleIs.NEXT_LOST and penalty.hole is not None else penalty.hole

    def _made(
        self,
        penalty: Penalty,
        charged: Charged,
        amount: int = 0,
        *,
        unit: Unit = Unit.STROKES,
        hole: int | None = None,
        bears_partner: bool = False,
        says: str,
        citations: Sequence[Citation],
    ) -> Charge:
        return Charge(
            charged=charged,
            amount=amount,
            unit=unit,
            hole=hole if hole is not None else penalty.hole,
            act=penalty.act,
            ruling=penalty.ruling,
            player=self.card.player,
            round=self.card.round,
            is_in_score=penalty.is_in_score and charged is Charged.ON_HOLE,
            bears_partner=bears_partner,
            says=says,
            citations=tuple(citations),
        )

    def _fault(self, penalty: Penalty, message: str) -> CardError:
        row = f"row {self.card.row}, " if self.card.row else ""
        named = penalty.act or "strokes"
        hole = f"hole {penalty.hole}, " if penalty.hole else ""
        return CardError(f"{named}: {message}", where=f"{row}{self.card.player}, {hole}penalties".replace(", ,", ","))
