"""The caption of a ruling's drawing: what each book says, in its own words, with its rules."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from html import escape

from marram.core.citations import MEMORY, Citation, rules_words
from marram.core.terms import ADVICE
from marram.course.course import Course
from marram.rulebook.book import Book
from marram.rulebook.wording.explain import strokes_words
from marram.rulings.case.ruling import Option, Ruling
from marram.sheets.drawn.relief_marks import LETTERS, how_far_back
from marram.sheets.scene.labels import wrap_words
from marram.sheets.scene.svg import View

_COLUMN = 180.0
_COLUMN_LETTERS = 20
_NO_BREAK = 100_000
"""Letters in a line that is never broken."""
Given = Sequence[tuple[Book, Ruling]]


def short_name(book: Book) -> str:
    """The book in a word or two."""
    return " + ".join([book.edition, *(overlay.name.replace("-", " ") for overlay in book.overlays)])


def draw_attribution(body: list[str], course: Course, view: View, y: float) -> float:
    """Whose survey it is, where that must be said; returns where it ends."""
    if not course.attribution:
        return y
    body.append(f'<text class="t4" x="{view.box.x - 5:.0f}" y="{y + 18:.1f}">{escape(course.attribution)}</text>')
    return y + 18


def draw_caption(body: list[str], given: Given, styles: Sequence[str], view: View, y: float, letter: float) -> float:
    """Letter what each book says beneath the map.

    Args:
        body: The marks, to which the caption is added.
        given: Books with their rulings.
        styles: The line style of each on the map: ``solid``, ``dash``, ``dot``, or nothing where it is not drawn there.
        view: The map.
        y: Where the caption begins.
        letter: Width that is reckoned for a letter.

    Returns:
        Where it ends.
    """
    left, right = view.box.x - 5, view.box.x + view.box.width + 5
    letters = max(40, int((right - left - _COLUMN) / letter))
    for (book, ruling), style_of_book in zip(given, styles, strict=True):
        body.append(f'<path class="line1" d="M{left:.0f} {y:.1f}H{right:.0f}"/>')
        names = wrap_words(short_name(book), _COLUMN_LETTERS)
        for number, name in enumerate(names):
            body.append(f'<text class="t2" x="{left:.0f}" y="{y + 21 + 20 * number:.1f}">{escape(name)}</text>')
        start = y + 20 * (len(names) - 1)
        body.append(f'<text class="t4" x="{left:.0f}" y="{start + 39:.1f}">stamp {book.stamp}</text>')
        body += _line_sample(style_of_book, left, start + 50)
        for words, style in _caption_lines(book, ruling, letters):
            y += 18
            body.append(f'<text class="{style}" x="{left + _COLUMN:.0f}" y="{y:.1f}">{escape(words)}</text>')
        y = max(y, start + 50) + 14
    body.append(f'<path class="line3" d="M{left:.0f} {y:.1f}H{right:.0f}"/>')
    for caution in dict.fromkeys(caution.text for _, ruling in given for caution in ruling.cautions):
        for line in wrap_words(f"Caution. {caution}", letters + int(_COLUMN / letter)):
            y += 18
            body.append(f'<text class="t3" x="{left:.0f}" y="{y + 2:.1f}">{escape(line)}</text>')
    body.append(f'<text class="t3" x="{left:.0f}" y="{y + 22:.1f}">{ADVICE}</text>')
    return y + 26


def _line_sample(style: str, x: float, y: float) -> Iterator[str]:
    """The line style of a book, or nothing where the book is not drawn in the main map."""
    names = {"solid": "back", "dash": "other", "dot": "third"}
    if style:
        yield f'<path class="{names[style]}" d="M{x:.0f} {y:.1f}h90"/>'


_SOURCES = 3
"""So many sources are named on a sheet, the best kinds first."""


def _caption_lines(book: Book, ruling: Ruling, letters: int) -> Iterator[tuple[str, str]]:
    for letter, option in zip(LETTERS, ruling.options, strict=False):
        yield from ((line, "t3") for line in wrap_words(f"{letter}\u2003{_option_words(option)}", letters))
        yield from ((line, "t4") for line in wrap_words(rules_words(option.citations), int(1.1 * letters)))
    for line in ruling.lines:
        # What was not seen is said on the sheet too, not only on the screen; what only sums up is told by the option itself.
        if not line.sums_up and (mark := _mark(line.citations)):
            source = "" if f"from {MEMORY}" in line.text else mark
            yield from ((words, "t3") for words in wrap_words(f"{line.text}{source}", letters))
    for entry in ruling.not_available:
        words = f"Not: {entry.title.lower()}. {entry.because}{_mark(entry.citations)}"
        yield from ((line, "t3") for line in wrap_words(words, letters))
    for question in ruling.facts_needed:
        yield from ((line, "t3") for line in wrap_words(f"To be asked: {question.words}", letters))
    sources = book.catalogue.sources.in_short(ruling.citations, _SOURCES, "")
    yield from ((line, "t4") for line in wrap_words(sources, int(1.1 * letters)) if sources)


def told(given: Given, scale: int | None) -> str:
    """The captions in one text, for those who cannot see the drawing."""
    told = ["Plan, north up."] + ([f"Scale 1:{scale}."] if scale else [])
    for book, ruling in given:
        lines = " ".join(words for words, _ in _caption_lines(book, ruling, _NO_BREAK))
        told.append(f"Under {book.title}: {lines}")
    return " ".join([*told, ADVICE])


def _mark(citations: tuple[Citation, ...]) -> str:
    """What is said of a sentence of which nothing was seen in print; empty where something was."""
    if any(citation.is_seen for citation in citations):
        return ""
    marks = "; ".join(dict.fromkeys(citation.mark for citation in citations))
    return f" ({marks[:1].upper()}{marks[1:]}.)"


def _option_words(option: Option) -> str:
    words = [f"{option.title}: {strokes_words(option.penalty_strokes).lower()}"]
    if option.size_words and option.size_m is not None:
        is_metric = option.size_words.endswith(("metre", "metres"))
        words.append(option.size_words if is_metric else f"{option.size_words} ({option.size_m:.2f} m)")
    if option.relief_area is not None:
        words.append(f"area {option.relief_area.area_m2:.2f} m²")
    elif option.line is not None and option.roll_m is not None:
        words.append(f"on the line, may roll {option.roll_m:.2f} m")
    elif option.line is not None:
        words.append(how_far_back(option.line))
    if option.must_measure_on_ground:
        words.append("measure on the ground")
    return ", ".join(words) + "."
