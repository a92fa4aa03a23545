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
from marram.sheets.drawn.option_places import LETTERS
from marram.sheets.drawn.relief_marks import how_far_back
from marram.sheets.scene.type_widths import Face, fit_words, wrap_words

_COLUMN, _NAME_WIDTH = 180.0, 164.0
_SOURCES = 3
"""So many sources are named on a sheet, the best kinds first."""
_MOST_SIGN = 130.0
"""Width of the words that stand on the edge of a book, drawing units."""
Given = Sequence[tuple[Book, Ruling]]


def edge_words(book: Book) -> str:
    """What stands on the edge of a book's areas."""
    return fit_words(book.sign, _MOST_SIGN, Face.BOARD_BOLD, 13.0)


def draw_attribution(body: list[str], course: Course, sides: tuple[float, float], y: float, *, is_paper: bool) -> float:
    """Whose survey it is, where that must be said; returns where it ends."""
    for line in broken(course.attribution or "", "t4", sides[1] - sides[0], is_paper=is_paper):
        y += 18
        body.append(f'<text class="t4" x="{sides[0]:.0f}" y="{y:.1f}">{escape(line)}</text>')
    return y


def draw_caption(body: list[str], given: Given, sides: tuple[float, float], y: float, *, is_paper: bool) -> float:
    """Letter what each book says beneath the map.

    Args:
        body: The marks, to which the caption is added.
        given: Books with their rulings.
        sides: Its left and right side.
        y: Where the caption begins.
        is_paper: Whether it is set in the face of paper.

    Returns:
        Where it ends.
    """
    left, right = sides
    name_face = Face.PAPER_BOLD if is_paper else Face.BOOK_BOLD
    for book, ruling in given:
        body.append(f'<path class="line1" d="M{left:.0f} {y:.1f}H{right:.0f}"/>')
        names = wrap_words(book.short_title, _NAME_WIDTH, name_face, 18.0)
        for number, name in enumerate(names):
            body.append(f'<text class="t2" x="{left:.0f}" y="{y + 21 + 22 * number:.1f}">{escape(name)}</text>')
        start = y + 22 * (len(names) - 1)
        body.append(f'<text class="t4" x="{left:.0f}" y="{start + 39:.1f}">stamp {book.stamp}</text>')
        for words, style in _caption_lines(book, ruling, right - left - _COLUMN, is_paper=is_paper):
            y += 18
            body.append(f'<text class="{style}" x="{left + _COLUMN:.0f}" y="{y:.1f}">{escape(words)}</text>')
        y = max(y, start + 39) + 14
    return draw_closing(body, given, sides, y, is_paper=is_paper)


def draw_closing(body: list[str], given: Given, sides: tuple[float, float], y: float, *, is_paper: bool) -> float:
    """Letter the cautions and what every drawing ends with; returns where it ends."""
    left, right = sides
    body.append(f'<path class="line3" d="M{left:.0f} {y:.1f}H{right:.0f}"/>')
    for caution in dict.fromkeys(caution.text for _, ruling in given for caution in ruling.cautions):
        for line in broken(f"Caution. {caution}", "t3", right - left, is_paper=is_paper):
            y += 18
            body.append(f'<text class="t3" x="{left:.0f}" y="{y + 2:.1f}">{escape(line)}</text>')
    body.append(f'<text class="t3" x="{left:.0f}" y="{y + 22:.1f}">{ADVICE}</text>')
    return y + 26


def broken(words: str, style: str, width: float, *, is_paper: bool) -> list[str]:
    """Words in lines of a width, in the face that a class has on paper or on the screen."""
    face, size = (Face.BOOK, 15.0) if style == "t3" else (Face.BOARD, 13.0)
    return wrap_words(words, width, Face.PAPER if is_paper else face, size)


def _caption_lines(book: Book, ruling: Ruling, width: float, *, is_paper: bool) -> Iterator[tuple[str, str]]:
    for words, style in _caption_words(book, ruling):
        yield from ((line, style) for line in broken(words, style, width, is_paper=is_paper))


def _caption_words(book: Book, ruling: Ruling) -> Iterator[tuple[str, str]]:
    yield from ((words, style) for style, words in (*option_words(ruling), *reason_words(book, ruling)))


def option_words(ruling: Ruling) -> Iterator[tuple[str, str]]:
    """What the player may do, with its rules: class and words of each line."""
    for letter, option in zip(LETTERS, ruling.options, strict=False):
        yield "t3", f"{letter}\u2003{_option_words(option)}"
        yield "t4", rules_words(option.citations)


def reason_words(book: Book, ruling: Ruling) -> Iterator[tuple[str, str]]:
    """Reasons that nobody saw in print, what does not apply, what is asked, and sources: class and words of each line."""
    for line in ruling.lines:
        # What was not seen is said on the sheet too, not only on the screen; what only sums up is told by the option itself.
        if not line.sums_up and (mark := _mark(line.citations)):
            yield "t3", f"{line.text}{'' if f'from {MEMORY}' in line.text else mark}"
    for entry in ruling.not_available:
        yield "t3", f"Not: {entry.title.lower()}. {entry.because}{_mark(entry.citations)}"
    for question in ruling.facts_needed:
        yield "t3", f"To be asked: {question.words}"
    yield "t4", book.catalogue.sources.in_short(ruling.citations, _SOURCES, "")


def told(given: Given, scale: int | None) -> str:
    """The captions in one text, for those who cannot see the drawing."""
    told = ["Plan, north up."] + ([f"Scale 1:{scale}."] if scale else [])
    for book, ruling in given:
        lines = " ".join(words for words, _ in _caption_words(book, ruling) if words)
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
