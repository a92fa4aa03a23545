"""The guide for players: what a sheet says and shows, before it is set for paper or screen."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from marram.course.frame import Position
from marram.sheets.scene.scene import Scene, Window

ROOM = 1.30
"""How much wider a window is than what it must hold."""
ADVICE = "Advice to the official and to players; the published Rules and the Committee decide."


@dataclass(frozen=True, slots=True, kw_only=True)
class GuideDrawing:
    """One drawing before anybody says how large it is: it is drawn anew for the frame of each form, never shrunk.

    Attributes:
        name: Unique name within the guide, a file name without ending.
        alt: What the drawing shows, in a sentence, for those who cannot see it.
        scene_in: What is seen in a window.
        places: What the window must hold; drawings of the same places stand at one scale in frames of one size.
        room: How much wider the window is than these places lie apart.
    """

    name: str
    alt: str
    scene_in: Callable[[Window], Scene]
    places: tuple[Position, ...]
    room: float = ROOM


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleTold:
    """A rule behind a sentence.

    Attributes:
        reference: Its number, as an official says it.
        provenance: Where it was seen, or that it is from memory, in words.
        is_seen: Whether it was seen in print or set by the trial; else the provenance stands beside every sentence.
    """

    reference: str
    provenance: str
    is_seen: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """A sentence with the rules behind it."""

    text: str
    rules: tuple[RuleTold, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
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
    drawing: GuideDrawing


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """What one book says of the procedure.

    Attributes:
        heading: ``Before``, ``Now``, or the book's short name.
        title: The book.
        stamp: Its stamp.
        rows: Pairs of a label and what holds.
        drawing: The place under this book; None where the book gives nothing there.
        why_none: Why it gives nothing; empty where it does.
        rules: The rules behind it.
    """

    heading: str
    title: str
    stamp: str
    rows: tuple[tuple[str, str], ...]
    drawing: GuideDrawing | None
    why_none: str
    rules: tuple[RuleTold, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class GuidePage:
    """One procedure at one place.

    Attributes:
        title: What the procedure is called now.
        lead: What is changed, in a sentence for each change; empty where nothing is.
        because: Why, for each change.
        asks: What players are asked about these changes afterwards.
        hole: The hole on which it is shown.
        place: Where on the course it is shown, in words.
        scale: Scale of the drawings on A4, 1 to so many, where the sheet has no room to make them larger.
        before: The book before; None where only one book is shown.
        now: The book that the steps follow.
        stays: What stays forbidden.
        newly: What is newly forbidden.
        no_longer: What is no longer forbidden.
        steps: The frames.
        lengths: A length of the book told in clubs: pairs of a club and words.
        length_title: Which length that is; empty where none is measured.
        trust: How far to trust the sheet.
        seen_words: What of it was not seen in print, for officials: no sheet for players says it.
        sources: Every rule of the page, once, with where it was seen.
        cautions: Cautions of the place.
    """

    title: str
    lead: tuple[str, ...]
    because: tuple[str, ...]
    asks: tuple[str, ...]
    hole: int
    place: str
    scale: int
    before: Side | None
    now: Side
    stays: tuple[Told, ...]
    newly: tuple[Told, ...]
    no_longer: tuple[Told, ...]
    steps: tuple[Step, ...]
    lengths: tuple[tuple[str, str], ...]
    length_title: str
    trust: tuple[str, ...]
    seen_words: tuple[str, ...]
    sources: tuple[RuleTold, ...]
    cautions: tuple[str, ...]

    @property
    def compared(self) -> tuple[tuple[str, str, str], ...]:
        """Label, what held before and what holds now, for everything that either book says of the procedure."""
        before, now = dict(self.before.rows if self.before is not None else ()), dict(self.now.rows)
        return tuple((label, before.get(label, "–"), now.get(label, "–")) for label in {**now, **before})


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeTold:
    """One change of the trial, for the sheet of the whole trial.

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
    rules: tuple[RuleTold, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Guide:
    """A whole guide.

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
        plan: The course with the places numbered as the pages are; None where there is nothing to number.
        not_shown: What could not be shown on this course, and why.
    """

    title: str
    course: str
    accuracy: str
    attribution: str
    book: str
    book_title: str
    stamp: str
    changes: tuple[ChangeTold, ...]
    pages: tuple[GuidePage, ...]
    plan: GuideDrawing | None
    not_shown: tuple[str, ...]
