"""The drawing of a ruling: one ball under one or several rule books, to scale, with a caption that carries every rule."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from html import escape
from textwrap import shorten

from marram.core.citations import MEMORY, Citation, rules_words
from marram.core.errors import SurveyError
from marram.core.terms import ADVICE, Mark
from marram.course.course import Course
from marram.course.frame import Position
from marram.relief.area.shapes import Crescent
from marram.rulebook.book import Book
from marram.rulebook.wording.explain import strokes_words
from marram.rulings.case.incident import Incident
from marram.rulings.case.ruling import Option, Ruling
from marram.sheets.drawn.ground_shapes import ground_items, ground_labels
from marram.sheets.drawn.relief_marks import LETTERS, how_far_back, main_option, other_book_marks, ruling_marks
from marram.sheets.scene.border import PROOF_MM, draw_frame, draw_north, draw_proof_bar, draw_title_block, north_box, title_block_box
from marram.sheets.scene.labels import Rectangle, wrap_words
from marram.sheets.scene.palette import DAY, PRINT, Palette
from marram.sheets.scene.scene import Role, Scene, Window
from marram.sheets.scene.style import page_of
from marram.sheets.scene.svg import UNIT_MM, View, draw_view

_WIDTH, _MAP_HEIGHT, _EDGE = 860.0, 520.0, 34.0
_PAPER_WIDTH, _PAPER_EDGE = 210 / UNIT_MM, 44.0
"""Paper has the wider edge: printers fail within some 5 mm of the side, and figures stand beside the map."""
_LETTER, _PAPER_LETTER = 7.0, 6.2
"""Width that is reckoned for a letter of the caption, drawing units: the type of paper is known and narrow, that of a screen is not."""
_SCALES = (20, 25, 40, 50, 75, 100, 150, 200, 250, 400, 500, 1000, 2000, 5000)
_MOST_LAID_OVER = 3
_SMALLEST_SIZE_PX = 70.0
_COLUMN = 180.0
_COLUMN_LETTERS = 20
_BLOCK_LETTERS = 22
_NO_BREAK = 100_000
"""Letters in a line that is never broken."""
Given = Sequence[tuple[Book, Ruling]]


def draw_rulings(incident: Incident, course: Course, given: Given, *, is_paper: bool, scale: int | None = None) -> str:
    """Draw an incident under its books.

    Args:
        incident: What happened.
        course: The course with the day's conditions.
        given: Books with their rulings; up to three are laid over each other, more stand side by side at one scale.
        is_paper: For black and white paper at a stated scale, else for the screen.
        scale: On paper 1 to so many; None for the largest of a fair series that holds the chosen area.

    Returns:
        An SVG file; equal input gives equal bytes.

    Raises:
        SurveyError: The hole has no location, or the chosen area does not fit at the scale asked.
    """
    palette = PRINT if is_paper else DAY
    hole = course.hole(incident.hole).location
    if hole is None:
        raise SurveyError("There is nothing to draw without the place of the hole.", where=course.name)
    width, edge = (_PAPER_WIDTH, _PAPER_EDGE) if is_paper else (_WIDTH, _EDGE)
    map_width = width - 2 * edge
    force = in_force(given)
    window, units_per_m, scale = _choose_window(force[1], incident, hole, map_width, is_paper=is_paper, asked=scale)
    view = View(window=window, x=edge, y=86.0, units_per_m=units_per_m, name="main")
    laid_over = [pair for pair in given if pair is not force] if len(given) <= _MOST_LAID_OVER else []
    block = title_block_box(view, _places_to_see(force[1], incident, hole, view.window))
    body = [*_heading(incident, course, view), *_main_map(incident, course, hole, view, force, laid_over, palette, block)]
    body += draw_title_block(view, _title_lines(course, incident, force[0], scale), block)
    y = view.box.y + view.box.height + 44
    if is_paper:
        body += draw_proof_bar(width - edge - PROOF_MM / UNIT_MM, y + 4)
        y += 24
    if len(given) > _MOST_LAID_OVER:
        others = [pair for pair in given if pair is not force]
        row, y = _row_of_views(incident, course, hole, view, others, palette, y, main_option(force[1]))
        body += row
    height = _attribution(body, course, view, _caption(body, given, force, laid_over, view, y, _PAPER_LETTER if is_paper else _LETTER)) + 12
    size = (
        f'width="{width * UNIT_MM:.2f}mm" height="{height * UNIT_MM:.2f}mm"' if is_paper else f'width="{width:.0f}" height="{height:.0f}"'
    )
    return page_of(body, palette, width, height, size=size, title=f"{course.name}, hole {incident.hole}", words=_told(given, scale))


def in_force(given: Given) -> tuple[Book, Ruling]:
    """The book that a drawing is about: the last published edition with nothing laid over it, else the first book."""
    published = [pair for pair in given if pair[0].is_in_force]
    return published[-1] if published else given[0]


def _choose_window(
    ruling: Ruling, incident: Incident, hole: Position, map_width: float, *, is_paper: bool, asked: int | None
) -> tuple[Window, float, int | None]:
    """A window that shows the chosen area large, and on paper a scale of a fair series."""
    points, size_m = _focus(ruling, incident, hole)
    xs, ys = [p.x_m for p in points], [p.y_m for p in points]
    middle = Position(x_m=(min(xs) + max(xs)) / 2, y_m=(min(ys) + max(ys)) / 2)
    span_m = max((max(xs) - min(xs)) * 1.35, (max(ys) - min(ys)) * 1.35 * map_width / _MAP_HEIGHT, 6.0)
    units_per_m = min(map_width / span_m, 2.2 * _SMALLEST_SIZE_PX / size_m)
    scale = None
    if is_paper:
        fitting = next((n for n in _SCALES if 1000 / n / UNIT_MM <= map_width / span_m), _SCALES[-1])
        if asked is not None and asked < fitting:
            raise SurveyError(
                f"At 1:{asked} the area does not fit the sheet.", where=f"hole {incident.hole}", hint=f"1:{fitting} would fit."
            )
        scale = asked or next((n for n in _SCALES if 1000 / n / UNIT_MM <= units_per_m), _SCALES[-1])
        units_per_m = 1000 / scale / UNIT_MM
    window = Window(middle=middle, width_m=map_width / units_per_m, height_m=_MAP_HEIGHT / units_per_m)
    return window, units_per_m, scale


def _focus(ruling: Ruling, incident: Incident, hole: Position) -> tuple[list[Position], float]:
    """The places that must be seen, and the size that must be large."""
    main = main_option(ruling)
    size_m = (main.size_m if main else None) or 2.0
    if main is None or not main.references:
        return [incident.ball or incident.crossed_at or hole], 6.0
    reference = main.references[0].position
    points = [reference, *(other.position for other in main.references[1:])]
    if main.relief_area is not None and isinstance(main.relief_area.shape, Crescent):
        x0, y0, x1, y1 = main.relief_area.shape.reach()
        points += [Position(x_m=x0, y_m=y0), Position(x_m=x1, y_m=y1)]
    near_m = 7 * size_m
    points += [p for p in (incident.ball, hole) if p is not None and p.distance_m(reference) <= near_m]
    return points, size_m


def _places_to_see(ruling: Ruling, incident: Incident, hole: Position, window: Window) -> list[Position]:
    """Every place that the drawing must not hide, and where the arrow to the hole will stand if it lies outside."""
    places = [hole, *(place for place in (incident.ball, incident.crossed_at) if place is not None)]
    for option in ruling.options:
        places += [reference.position for reference in option.references]
        if option.relief_area is not None and isinstance(option.relief_area.shape, Crescent):
            places.append(option.relief_area.shape.centre)
    least_x, least_y, most_x, most_y = window.bounds
    return [Position(x_m=min(max(place.x_m, least_x), most_x), y_m=min(max(place.y_m, least_y), most_y)) for place in places]


def _main_map(  # noqa: PLR0913, PLR0917
    incident: Incident,
    course: Course,
    hole: Position,
    view: View,
    force: tuple[Book, Ruling],
    laid_over: Given,
    palette: Palette,
    block: Rectangle,
) -> Iterator[str]:
    book, ruling = force
    marks = ruling_marks(ruling, incident, hole, view.window, lettered=True)
    items = [*ground_items(course, incident.hole, view.window), *marks.items]
    labels = [*marks.labels]
    for (other_book, other), role in zip(laid_over, (Role.OTHER_BOOK, Role.THIRD_BOOK), strict=False):
        other_items, other_labels = other_book_marks(other, other_book.sign, role, ruling, view.window)
        items += other_items
        labels += other_labels
    names = {mark: book.word(f"terms.penalty_area_{mark.value}").value for mark in Mark}
    labels += ground_labels(course, incident.hole, view.window, names)
    scene = Scene(
        items=tuple(items),
        spots=marks.spots,
        labels=tuple(labels),
        dimensions=marks.dimensions,
        away=marks.away,
    )
    yield from draw_view(scene, view, palette, [north_box(view), block])
    yield from draw_frame(view)
    yield draw_north(view)


def _row_of_views(
    incident: Incident,
    course: Course,
    hole: Position,
    main: View,
    others: Given,
    palette: Palette,
    y: float,
    about: Option | None,
) -> tuple[list[str], float]:
    """Small drawings in a row at the scale of the main one, and where the row ends."""
    body: list[str] = []
    gap = 14.0
    width = (main.box.width - gap * (len(others) - 1)) / len(others)
    height = min(width * 1.05, 200.0)
    shape = about.relief_area.shape if about and about.relief_area else None
    focus = shape.centre if isinstance(shape, Crescent) else main.window.middle
    for number, (book, ruling) in enumerate(others):
        window = Window(middle=focus, width_m=width / main.units_per_m, height_m=height / main.units_per_m)
        view = View(
            window=window,
            x=main.box.x + number * (width + gap),
            y=y + 22,
            units_per_m=main.units_per_m,
            name=f"small-{number + 1}",
        )
        marks = ruling_marks(ruling, incident, hole, window, lettered=False, like=about.procedure if about else "")
        items = (*ground_items(course, incident.hole, window), *marks.items)
        scene = Scene(items=items, spots=marks.spots, dimensions=marks.dimensions)
        body.append(f'<text class="t2" x="{view.x:.1f}" y="{y + 12:.1f}">{escape(_short_name(book))}</text>')
        body += draw_view(scene, view, palette, [])
        b = view.box
        body.append(f'<rect class="neat" x="{b.x:.1f}" y="{b.y:.1f}" width="{b.width:.1f}" height="{b.height:.1f}"/>')
    return body, y + 22 + height + 26


def _short_name(book: Book) -> str:
    """The book in a word or two."""
    return " + ".join([book.edition, *(overlay.name.replace("-", " ") for overlay in book.overlays)])


def _heading(incident: Incident, course: Course, view: View) -> Iterator[str]:
    left, right = view.box.x - 5, view.box.x + view.box.width + 5
    situation = incident.situation.replace("-", " ")
    yield f'<text class="t1" x="{left:.0f}" y="40">Hole {incident.hole}, {escape(situation)}</text>'
    form = incident.form.value.replace("-", " ")
    words = f"{course.name} · {form}"
    yield f'<text class="t4" text-anchor="end" x="{right:.0f}" y="40">{escape(words)}</text>'
    yield f'<path class="line3" d="M{left:.0f} 54H{right:.0f}"/>'
    yield f'<path class="line1" d="M{left:.0f} 59H{right:.0f}"/>'


def _title_lines(course: Course, incident: Incident, book: Book, scale: int | None) -> tuple[str, str, str]:
    accuracy = "accuracy unknown" if course.sigma_m is None else f"survey ±{2 * course.sigma_m:.2f} m"
    second = f"{accuracy}, scale 1:{scale}" if scale else accuracy
    return (
        f"{course.name} · hole {incident.hole}",
        f"book {shorten(_short_name(book), _BLOCK_LETTERS, placeholder=' …')} · {book.stamp}",
        second,
    )


def _attribution(body: list[str], course: Course, view: View, y: float) -> float:
    """Whose survey it is, where that must be said; returns where it ends."""
    if not course.attribution:
        return y
    body.append(f'<text class="t4" x="{view.box.x - 5:.0f}" y="{y + 18:.1f}">{escape(course.attribution)}</text>')
    return y + 18


def _caption(body: list[str], given: Given, force: tuple[Book, Ruling], laid_over: Given, view: View, y: float, letter: float) -> float:
    """What each book says, in its own words, with its rules; returns where it ends."""
    styles = {id(force): "solid"} | {id(pair): style for pair, style in zip(laid_over, ("dash", "dot"), strict=False)}
    left, right = view.box.x - 5, view.box.x + view.box.width + 5
    letters = max(40, int((right - left - _COLUMN) / letter))
    for pair in given:
        book, ruling = pair
        body.append(f'<path class="line1" d="M{left:.0f} {y:.1f}H{right:.0f}"/>')
        names = wrap_words(_short_name(book), _COLUMN_LETTERS)
        for number, name in enumerate(names):
            body.append(f'<text class="t2" x="{left:.0f}" y="{y + 21 + 20 * number:.1f}">{escape(name)}</text>')
        start = y + 20 * (len(names) - 1)
        body.append(f'<text class="t4" x="{left:.0f}" y="{start + 39:.1f}">stamp {book.stamp}</text>')
        body += _line_sample(styles.get(id(pair), ""), left, start + 50)
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
        width = 2.5 if style == "solid" else 2.2
        yield f'<path class="{names[style]}" stroke-width="{width}" d="M{x:.0f} {y:.1f}h90"/>'


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


def _told(given: Given, scale: int | None) -> str:
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
