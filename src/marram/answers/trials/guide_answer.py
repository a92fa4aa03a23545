"""A guide for players, as outsiders read it: what its sheets say; its drawings stand in its files."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Literal

from marram.answers.shape import Answer, Shape

if TYPE_CHECKING:
    from marram.sheets.guide import content


class GuideDrawingShape(Shape, frozen=True, kw_only=True):
    """A drawing of the guide.

    Attributes:
        name: Its name within the guide.
        alt: What it shows, in a sentence.
    """

    name: str
    alt: str


class GuideRuleShape(Shape, frozen=True, kw_only=True):
    """A rule behind a sentence.

    Attributes:
        reference: Its number, as an official says it.
        provenance: Where it was seen, or that it is from memory, in words.
        is_seen: Whether it was seen in print or set by the trial.
    """

    reference: str
    provenance: str
    is_seen: bool


class GuideToldShape(Shape, frozen=True, kw_only=True):
    """A sentence with the rules behind it.

    Attributes:
        text: The sentence.
        rules: The rules.
    """

    text: str
    rules: tuple[GuideRuleShape, ...]


class GuideStepShape(Shape, frozen=True, kw_only=True):
    """One frame of the steps.

    Attributes:
        number: From 1.
        title: What is done.
        words: How, in the book's own terms.
        drawing: The frame.
    """

    number: int
    title: str
    words: tuple[str, ...]
    drawing: GuideDrawingShape


class GuideSideShape(Shape, frozen=True, kw_only=True):
    """What one book says of the procedure.

    Attributes:
        heading: Before, now, or the book's short name.
        title: The book.
        stamp: Its stamp.
        rows: Pairs of a label and what holds.
        drawing: The place under this book; null where the book gives nothing there.
        why_none: Why it gives nothing; empty where it does.
        rules: The rules behind it.
    """

    heading: str
    title: str
    stamp: str
    rows: tuple[tuple[str, str], ...]
    drawing: GuideDrawingShape | None
    why_none: str
    rules: tuple[GuideRuleShape, ...]


class GuidePageShape(Shape, frozen=True, kw_only=True):
    """One procedure at one place.

    Attributes:
        title: What the procedure is called now.
        lead: What is changed, in a sentence for each change; empty where nothing is.
        because: Why, for each change.
        asks: What players are asked about these changes afterwards.
        place: Where on the course it is shown, in words.
        scale: Scale of the drawings on paper, 1 to so many.
        before: The book before; null where only one book is shown.
        now: The book that the steps follow.
        stays: What stays forbidden.
        newly: What is newly forbidden.
        no_longer: What is no longer forbidden.
        steps: The frames.
        lengths: A length of the book told in clubs: pairs of a club and words.
        length_title: Which length that is; empty where none is measured.
        trust: How far to trust the sheet.
        sources: Every rule of the page, once, with where it was seen.
        cautions: Cautions of the place.
    """

    title: str
    lead: tuple[str, ...]
    because: tuple[str, ...]
    asks: tuple[str, ...]
    place: str
    scale: int
    before: GuideSideShape | None
    now: GuideSideShape
    stays: tuple[GuideToldShape, ...]
    newly: tuple[GuideToldShape, ...]
    no_longer: tuple[GuideToldShape, ...]
    steps: tuple[GuideStepShape, ...]
    lengths: tuple[tuple[str, str], ...]
    length_title: str
    trust: tuple[str, ...]
    sources: tuple[GuideRuleShape, ...]
    cautions: tuple[str, ...]


class GuideChangeShape(Shape, frozen=True, kw_only=True):
    """One change of the trial.

    Attributes:
        number: Its number.
        key: Its key.
        heading: What changes, as an official says it.
        about: What it is about.
        means: What the key means.
        before: The value before.
        now: The value now.
        because: Why.
        standing: Allowed as a local rule, or unofficial only.
        standing_told: The same in a sentence that players understand.
        asks: What players are asked.
        procedures: Titles of the procedures that it alters.
        touches: Which kinds of relief that is, in a sentence; empty where it alters none.
        sheets: Numbers of the pages on which it is shown.
        not_shown: Why it is shown on none; empty where it is.
        rules: The rules that it changes, as they stood before.
    """

    number: int
    key: str
    heading: str
    about: str
    means: str
    before: str
    now: str
    because: str
    standing: str
    standing_told: str
    asks: tuple[str, ...]
    procedures: tuple[str, ...]
    touches: str
    sheets: tuple[int, ...]
    not_shown: str
    rules: tuple[GuideRuleShape, ...]


class GuideShape(Shape, frozen=True, kw_only=True):
    """What a guide says.

    Attributes:
        title: The trial, or what the guide is about.
        course: The course.
        accuracy: Its survey accuracy in words.
        attribution: Whose survey it is, where that must be said; empty else.
        book: Name of the book.
        book_title: Its document with what lies on it.
        stamp: Its stamp.
        changes: The changes of the trial; empty where the guide is of no trial.
        pages: The procedures.
        not_shown: What could not be shown on this course, and why.
    """

    title: str
    course: str
    accuracy: str
    attribution: str
    book: str
    book_title: str
    stamp: str
    changes: tuple[GuideChangeShape, ...]
    pages: tuple[GuidePageShape, ...]
    not_shown: tuple[str, ...]


class GuideAnswer(Answer, frozen=True, kw_only=True):
    """A guide for players, or sheets of single procedures.

    Attributes:
        schema: Name and version of this shape.
        guide: What it says.
        files: The files that were written.
    """

    schema: Literal["marram.guide/1"] = "marram.guide/1"
    guide: GuideShape
    files: tuple[str, ...]


def guide_answer(guide: content.Guide, files: Sequence[str], told: Callable[[str], str] = str) -> GuideAnswer:
    """A guide.

    Args:
        guide: What it says.
        files: The files that were written.
        told: How fields and jobs are named to whoever asked, in his own terms.
    """
    return GuideAnswer(
        guide=GuideShape(
            title=guide.title,
            course=guide.course,
            accuracy=guide.accuracy,
            attribution=guide.attribution,
            book=guide.book,
            book_title=guide.book_title,
            stamp=guide.stamp,
            changes=tuple(_change(change, told) for change in guide.changes),
            pages=tuple(map(_page, guide.pages)),
            not_shown=tuple(map(told, guide.not_shown)),
        ),
        files=tuple(files),
    )


def _change(change: content.ChangeTold, told: Callable[[str], str]) -> GuideChangeShape:
    return GuideChangeShape(
        number=change.number,
        key=change.key,
        heading=change.heading,
        about=change.about,
        means=change.means,
        before=change.before,
        now=change.now,
        because=change.because,
        standing=change.standing,
        standing_told=change.standing_told,
        asks=change.asks,
        procedures=change.procedures,
        touches=change.touches,
        sheets=change.sheets,
        not_shown=told(change.not_shown),
        rules=_rules(change.rules),
    )


def _page(page: content.GuidePage) -> GuidePageShape:
    return GuidePageShape(
        title=page.title,
        lead=page.lead,
        because=page.because,
        place=page.place,
        scale=page.scale,
        before=None if page.before is None else _side(page.before),
        now=_side(page.now),
        stays=tuple(map(_told, page.stays)),
        newly=tuple(map(_told, page.newly)),
        no_longer=tuple(map(_told, page.no_longer)),
        steps=tuple(map(_step, page.steps)),
        lengths=page.lengths,
        length_title=page.length_title,
        trust=(*page.trust, *page.seen_words),
        asks=page.asks,
        sources=_rules(page.sources),
        cautions=page.cautions,
    )


def _side(side: content.Side) -> GuideSideShape:
    return GuideSideShape(
        heading=side.heading,
        title=side.title,
        stamp=side.stamp,
        rows=side.rows,
        drawing=None if side.drawing is None else _drawing(side.drawing),
        why_none=side.why_none,
        rules=_rules(side.rules),
    )


def _step(step: content.Step) -> GuideStepShape:
    return GuideStepShape(number=step.number, title=step.title, words=step.words, drawing=_drawing(step.drawing))


def _drawing(drawing: content.GuideDrawing) -> GuideDrawingShape:
    return GuideDrawingShape(name=drawing.name, alt=drawing.alt)


def _told(told: content.Told) -> GuideToldShape:
    return GuideToldShape(text=told.text, rules=_rules(told.rules))


def _rules(rules: Sequence[content.RuleTold]) -> tuple[GuideRuleShape, ...]:
    return tuple(GuideRuleShape(reference=rule.reference, provenance=rule.provenance, is_seen=rule.is_seen) for rule in rules)
