"""How what an act leads to reads in a form of play."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from marram.core.citations import Citation, merged
from marram.core.terms import Form
from marram.rulebook.book import Book
from marram.rulebook.consequence_words import OUT_OF_MATCH_PLAY, OUT_OF_STROKE_PLAY, HoleIs, Out
from marram.rulebook.consequences import Cases, Consequence
from marram.rulebook.form_of_play_words import OFF_THE_SCORE, NotHoledOut, TakesAfter
from marram.rulebook.vocabulary import BearsPenalty
from marram.rulings.acts.form_of_play import FAMILY, SAYS, said_of, spared_said
from marram.rulings.acts.partners import NOTHING_SAID, SIDE_SHARE, PartnerBears, PartnerShare, partner_share
from marram.rulings.acts.turns import Turn, turns_of, what_is_left

_NO_SCORE = "no-score"
_ACT = "act."
_NEXT_HOLES = frozenset({HoleIs.NOTHING, HoleIs.FIRST_LOST, HoleIs.NEXT_LOST})
"""What becomes of a hole while the one that is played goes on."""
_CHARGES = "form-charges"


@dataclass(frozen=True, slots=True, kw_only=True)
class FormReading:
    """How what an act leads to reads in a form of play.

    Attributes:
        form: The form.
        is_match: Whether it takes after match play.
        happens: Whether the act can happen in it at all, in the case read.
        strokes: Penalty strokes.
        hole: What becomes of the hole: empty, or a word such as ``lost``, ``no-points``, ``maximum``.
        is_out: Whether it disqualifies.
        bears: Who bears it.
        partner: What the partner bears of it, in a word of ``PartnerBears``; empty where there is no partner or nothing to bear.
        says: The same in words; where the act cannot happen in the form, in which one it does, and what to look at instead.
        see_instead: The act to look at in this form, where the one asked about happens in the other only; empty where there is none.
        citations: The rules on the form.
    """

    form: Form
    is_match: bool
    happens: bool
    strokes: int
    hole: str
    is_out: bool
    bears: str
    partner: str
    says: str
    see_instead: str
    citations: tuple[Citation, ...]

    @property
    def is_over(self) -> bool:
        """Whether nothing is left to do after it: the player is out, or the hole is over."""
        return self.is_out or self.hole not in _NEXT_HOLES


def read_in_form(book: Book, form: Form, act: str, case: Consequence, played: Form = Form.STROKE_PLAY) -> FormReading | None:
    """How what an act leads to reads in a form of play; None where the book has no such form.

    Args:
        book: The book.
        form: The form.
        act: Name of the act, without its family.
        case: What the act leads to.
        played: For partners, the form in which the sides play: stroke play or match play.
    """
    row = f"{FAMILY}.{form.value}"
    if not book.has_row(row):
        return None
    is_match = takes_after_match_play(book, form, played)
    is_out = case.out in (OUT_OF_MATCH_PLAY if is_match else OUT_OF_STROKE_PLAY | {Out.NET_EVENT})
    in_form = case.in_match_play if is_match else case.in_stroke_play
    spared, spared_as, spared_by = _instead(book, row, act) if is_out else ("", "", ())
    is_charged = in_form is not None and not is_out and bool(case.strokes or case.match_strokes or case.hole)
    charged, charged_by = _charged(book, row, act) if is_charged else ("", ())
    hole = spared or (case.hole if is_match else "")
    is_counted = in_form is not None and not (hole or is_out or charged)
    strokes = (case.match_strokes if is_match else case.strokes) if is_counted else 0
    bears = book.word(f"{row}.bears_penalty").value
    share = _share(book, act, case, bears=bears, is_match=is_match, is_out=is_out and not spared)
    has_no_score = share.bears is PartnerBears.NO_SCORE_FOR_HOLE
    see_instead = "" if in_form is not None else act_in_other_form(book, act)
    return FormReading(
        form=form,
        is_match=is_match,
        happens=in_form is not None,
        strokes=strokes,
        hole=_NO_SCORE if has_no_score else hole,
        is_out=is_out and not spared and not has_no_score,
        bears=bears,
        partner=share.bears.value if share.bears else "",
        says=_elsewhere(case, form, see_instead)
        if in_form is None
        else charged or spared_as or _reading_words(book, case, share, is_match=is_match, bears=bears),
        see_instead=see_instead,
        citations=charged_by or merged(book.citations(row), spared_by, share.citations),
    )


def takes_after_match_play(book: Book, form: Form, played: Form) -> bool:
    """Whether a form of play takes after match play; for partners, whether the sides play a match."""
    after = book.word(f"{FAMILY}.{form.value}.takes_after").value
    return Form(played if after == TakesAfter.FORM_THAT_IS_PLAYED else after) is Form.MATCH_PLAY


def act_in_other_form(book: Book, act: str) -> str:
    """The act to look at in the other form of play, where one happens in a single form; empty where there is none."""
    named = book.words(f"{_ACT}{act}.in_other_form").value if book.has(f"{_ACT}{act}.in_other_form") else ()
    return named[0] if named else ""


def turns_in_form(
    book: Book, form: Form, act: str, cases: Cases, held: Consequence, stated: Mapping[str, bool], played: Form = Form.STROKE_PLAY
) -> tuple[Turn, ...]:
    """What the reading of an act in a form of play turns on; nothing where the book has no such form.

    Args:
        book: The book.
        form: The form.
        act: Name of the act, without its family.
        cases: Its cases.
        held: The case that holds by what is stated.
        stated: Named facts that are known, true or false.
        played: For partners, the form in which the sides play.
    """

    def reading(case: Consequence) -> object:
        read = read_in_form(book, form, act, case, played)
        if read is None or not read.happens:
            return None
        return read.says, read.hole, read.is_out, case.capped, None if read.is_over else what_is_left(case, is_match=read.is_match)

    return turns_of(book, cases, held, stated, (reading,))


def _elsewhere(case: Consequence, form: Form, see_instead: str) -> str:
    """What to say of an act that happens in the other form of play only."""
    only, asked = case.only_in.replace("-", " "), form.value.replace("-", " ")
    return f"It happens in {only} only" + (f"; in {asked} see act {see_instead}." if see_instead else ".")


def _share(book: Book, act: str, case: Consequence, *, bears: str, is_match: bool, is_out: bool) -> PartnerShare:
    """What the partner bears, by who bears a penalty in the form."""
    if bears == BearsPenalty.SIDE:
        return SIDE_SHARE
    return partner_share(book, act, case, is_match=is_match, is_out=is_out) if bears == BearsPenalty.PARTNER_WHO_DID else NOTHING_SAID


def _charged(book: Book, row: str, act: str) -> tuple[str, tuple[Citation, ...]]:
    """How a form charges an act in points or holes of its own, with the rule; empty where it adds the strokes as usual."""
    for name in ("clubs", "late", "delay"):
        part = f"{name}_as"
        if act in book.words(f"{_CHARGES}.{name}").value and book.has(f"{row}.{part}"):
            found = book.word(f"{row}.{part}")
            return (said_of(book, row, part, found.value), found.citations) if found.value in OFF_THE_SCORE else ("", ())
    return "", ()


def _instead(book: Book, row: str, act: str) -> tuple[str, str, tuple[Citation, ...]]:
    """What becomes of the hole in place of disqualification, in a word and a sentence, with the rule; empty where nothing does."""
    if not book.has(f"{row}.not_holed_out"):
        return "", "", ()
    hole = book.word(f"{row}.not_holed_out")
    spared = spared_said(book, row)
    if spared and book.has(f"{row}.spares") and act in (spares := book.words(f"{row}.spares")).value:
        return hole.value, f"{spared}.", spares.citations
    if act in book.words(f"{_CHARGES}.unfinished").value and hole.value != NotHoledOut.DISQUALIFIED_UNLESS_PUT_RIGHT:
        return hole.value, said_of(book, row, "not_holed_out", hole.value), hole.citations
    return "", "", ()


def _reading_words(book: Book, case: Consequence, share: PartnerShare, *, is_match: bool, bears: str) -> str:
    words = case.match_play_words if is_match else case.stroke_play_words
    if share.bears is PartnerBears.NO_SCORE_FOR_HOLE:
        return share.says
    usual = "" if bears == BearsPenalty.PLAYER else book.word(f"{SAYS}.bears_penalty-{bears}").value
    told = usual if bears == BearsPenalty.SIDE or not share.says else share.says
    return f"{words[0].upper()}{words[1:]}. {told}".rstrip()
