"""The law of a form of play: what a book says of counting, of holes without a score and of its own charges, read once."""

from __future__ import annotations

from dataclasses import dataclass

from marram.core.citations import Citation, merged
from marram.core.errors import CardError
from marram.core.terms import Form
from marram.rulebook.book import Book
from marram.rulebook.form_of_play_words import ClubsAs, Counts, DelayAs, LateAs, NotHoledOut

FAMILY, POINTS, CHARGES = "form.", "stableford-points", "form-charges"
_UNDER = ("level", "one_under", "two_under", "three_under", "four_under")


@dataclass(frozen=True, slots=True, kw_only=True)
class Points:
    """The table of points.

    Attributes:
        over: Points of a hole more than one over its target, and one over.
        under: Points of a hole level with its target, and one, two, three and four under.
        citations: The rule.
    """

    over: tuple[int, int]
    under: tuple[int, ...]
    citations: tuple[Citation, ...]

    def of_difference(self, over_target: int) -> int:
        """Points for a score; beyond the table each stroke under is worth one point more.

        Args:
            over_target: The score less the target.
        """
        if over_target > 0:
            return self.over[1] if over_target == 1 else self.over[0]
        beyond = max(0, -over_target - (len(self.under) - 1))
        return self.under[min(-over_target, len(self.under) - 1)] + beyond

    @property
    def none(self) -> int:
        """Points of a hole without a score."""
        return self.over[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnCharge:
    """How a form charges one kind of breach in its own way.

    Attributes:
        way: The word of the rule data; empty where the book states none, so that the act itself says what it costs.
        first: How much the first time, or for each hole.
        second: How much the second time; None where the form does not say.
        most: The most in a round; None where there is no cap.
        citations: The rule.
    """

    way: str = ""
    first: int | None = None
    second: int | None = None
    most: int | None = None
    citations: tuple[Citation, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class FormLaw:
    """What a book says of a form of play.

    Attributes:
        form: The form.
        counts: What is counted.
        not_holed_out: What a hole without a score is.
        spares: Acts that cost the hole alone and do not disqualify.
        clubs: How too many clubs are charged.
        late: How a late or early start is charged.
        delay: How delay is charged.
        clubs_acts: Acts that are charged as too many clubs.
        late_acts: Acts that are charged as a late start.
        delay_acts: Acts that are charged as delay.
        must_report: Whether the player must report such facts, or is disqualified.
        low_score_is_free: Whether a score too low that changes the result of no hole costs nothing.
        low_score_by: Where that is said.
        points: The table of points; None where the form counts none.
        citations: The rule on what is counted and who wins.
        unfinished_by: The rule on holes without a score.
    """

    form: Form
    counts: Counts
    not_holed_out: NotHoledOut
    spares: frozenset[str]
    clubs: OwnCharge
    late: OwnCharge
    delay: OwnCharge
    clubs_acts: frozenset[str]
    late_acts: frozenset[str]
    delay_acts: frozenset[str]
    must_report: bool
    low_score_is_free: bool
    low_score_by: tuple[Citation, ...]
    points: Points | None
    citations: tuple[Citation, ...]
    unfinished_by: tuple[Citation, ...]

    @property
    def is_more_better(self) -> bool:
        """Whether the higher total wins."""
        return self.counts is not Counts.STROKES


def read_form(book: Book, form: Form) -> FormLaw:
    """Read what a book says of a form of play.

    Raises:
        CardError: The book has no such form, or does not say how it counts.
    """
    row = f"{FAMILY}{form.value}"
    if not book.has_row(row):
        raise CardError(f"{book.name} has no form of play {form.value}: {book.why_absent(row)}.", where="terms, form")
    if not book.has(f"{row}.counts") or not book.has(f"{row}.not_holed_out"):
        raise CardError(f"{book.name} does not say how {form.value} counts by itself.", where="terms, form")
    counts, unfinished = book.word(f"{row}.counts"), book.word(f"{row}.not_holed_out")
    wins = book.word(f"{row}.wins").citations if book.has(f"{row}.wins") else ()
    return FormLaw(
        form=form,
        counts=Counts(counts.value),
        not_holed_out=NotHoledOut(unfinished.value),
        spares=_words(book, f"{row}.spares"),
        clubs=_own(book, row, "clubs", [way.value for way in ClubsAs], ("clubs_each", None, "clubs_most")),
        late=_own(book, row, "late", [way.value for way in LateAs], ("late_amount", None, None)),
        delay=_own(book, row, "delay", [way.value for way in DelayAs], ("delay_first", "delay_second", None)),
        clubs_acts=_words(book, f"{CHARGES}.clubs"),
        late_acts=_words(book, f"{CHARGES}.late"),
        delay_acts=_words(book, f"{CHARGES}.delay"),
        must_report=_is(book, f"{row}.must_report"),
        low_score_is_free=_is(book, low_score := f"{row}.low_score_without_effect_is_free"),
        low_score_by=book.yes(low_score).citations if book.has(low_score) else (),
        points=read_points(book) if counts.value == Counts.POINTS else None,
        citations=merged(counts.citations, wins),
        unfinished_by=unfinished.citations,
    )


def read_points(book: Book) -> Points:
    """The table of points of a book.

    Raises:
        CardError: The book has none.
    """
    if not book.has_row(POINTS):
        raise CardError(f"{book.name} has no table of points: {book.why_absent(POINTS)}.", where="terms, form")
    over = (int(book.number(f"{POINTS}.two_over_or_none").value), int(book.number(f"{POINTS}.one_over").value))
    under = tuple(int(book.number(f"{POINTS}.{part}").value) for part in _UNDER)
    return Points(over=over, under=under, citations=book.citations(POINTS))


def _own(book: Book, row: str, kind: str, ways: list[str], parts: tuple[str, str | None, str | None]) -> OwnCharge:
    key = f"{row}.{kind}_as"
    if not book.has(key) or book.word(key).value not in ways:
        return OwnCharge()
    amounts = [_amount(book, row, part) for part in parts]
    cited = [book.cited(f"{row}.{part}").citations for part in parts if part is not None and book.has(f"{row}.{part}")]
    way = book.word(key)
    return OwnCharge(way=way.value, first=amounts[0], second=amounts[1], most=amounts[2], citations=merged(way.citations, *cited))


def _amount(book: Book, row: str, part: str | None) -> int | None:
    return int(book.number(f"{row}.{part}").value) if part is not None and book.has(f"{row}.{part}") else None


def _words(book: Book, key: str) -> frozenset[str]:
    return frozenset(book.words(key).value) if book.has(key) else frozenset()


def _is(book: Book, key: str) -> bool:
    return book.has(key) and book.yes(key).value
