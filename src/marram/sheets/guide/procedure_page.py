"""One procedure at one place, written and drawn: before, now, what stays forbidden, and the steps frame by frame."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from marram.core.citations import INFERRED, MEMORY, Citation
from marram.core.clubs import LONGEST_CLUBS, USUAL_CLUBS, told_in_clubs
from marram.core.units import INCH_M, LengthUnit, Size
from marram.course.course import Course
from marram.course.frame import Position
from marram.course.joining import ACCURACY_SIGMAS
from marram.rulebook.book import Book
from marram.rulebook.wording.explain import strokes_words, word_said
from marram.rulings.case.case import Case
from marram.rulings.case.incident import Incident
from marram.rulings.case.ruling import Option, Ruling
from marram.sheets.drawn.option_places import STATION_WORDS
from marram.sheets.guide.content import ROOM, GuideDrawing, GuidePage, RuleTold, Side, Step, Told
from marram.sheets.guide.frames import (
    Shot,
    frame_area,
    frame_drops,
    frame_measure,
    frame_point,
    frame_whole,
    only_option,
    paper_scale,
    places_about,
    places_of,
)
from marram.sheets.scene.scene import Scene, Window
from marram.showing.drop_examples import drop_examples
from marram.showing.forbidden import Carried, Forbidden, forbidden_by

_CHOSEN = "The point chosen"
_POINT = "point"


@dataclass(frozen=True, slots=True, kw_only=True)
class Under:
    """What one book gives at the place.

    Attributes:
        book: The book.
        ruling: Its ruling.
        option: The option that is shown; None where it gives nothing there.
    """

    book: Book
    ruling: Ruling
    option: Option | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Showing:
    """Everything that one page is made from.

    Attributes:
        name: Short name, unique within the guide.
        course: The course with what was met there.
        incident: The ball.
        place: Where that is, in words.
        before: The book before; None where only one is shown.
        now: The book that the steps follow; it has an option.
        lead: What is changed, a sentence for each change.
        because: Why.
        asks: What players are asked about it afterwards.
    """

    name: str
    course: Course
    incident: Incident
    place: str
    before: Under | None
    now: Under
    lead: tuple[str, ...] = ()
    because: tuple[str, ...] = ()
    asks: tuple[str, ...] = ()


def make_page(showing: Showing) -> GuidePage:
    """Write and draw a page.

    Raises:
        ValueError: The book that the steps follow has no option at the place.
    """
    now = _shot(showing, showing.now)
    if now is None:
        raise ValueError("a page needs an option to show")
    before = None if showing.before is None else _shot(showing, showing.before)
    shots = [shot for shot in (before, now) if shot is not None]
    close = [place for shot in shots for place in places_of(shot)]
    draw = _Drawer(name=showing.name, close=tuple(close), wide=tuple(places_about(now, close)))
    stays, newly, no_longer = _compared(now, before)
    size = _size(now)
    return GuidePage(
        title=_title(now.option.title, showing.incident.situation.replace("-", " ")),
        lead=showing.lead,
        because=showing.because,
        asks=showing.asks,
        hole=showing.incident.hole,
        place=showing.place,
        scale=paper_scale(close, ROOM),
        before=None if showing.before is None else _side("Before", showing.before, before, draw),
        now=_side("Now" if showing.before else "", showing.now, now, draw),
        stays=stays,
        newly=newly,
        no_longer=no_longer,
        steps=tuple(_steps(now, draw)),
        lengths=tuple(lengths_of(now)),
        length_title="" if size is None else f"{size.words[:1].upper()}{size.words[1:]}",
        trust=tuple(_trust(showing, now)),
        seen_words=tuple(_seen_words(showing, now)),
        sources=_sources(now, before),
        cautions=tuple(caution.text for caution in showing.now.ruling.cautions),
    )


def _title(option: str, situation: str) -> str:
    return option if situation in option.lower() else f"{option}, {situation}"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Drawer:
    """Draws the scenes of one page: close by, or with the ball that is some way off."""

    name: str
    close: tuple[Position, ...]
    wide: tuple[Position, ...]

    def draw(self, make: Callable[[Window], Scene], what: str, alt: str, *, is_wide: bool = False) -> GuideDrawing:
        return GuideDrawing(name=f"{self.name}-{what}", alt=alt, scene_in=make, places=self.wide if is_wide else self.close)


def _shot(showing: Showing, under: Under) -> Shot | None:
    if under.option is None:
        return None
    carried = Carried(case=Case(incident=showing.incident, course=showing.course, book=under.book), option=under.option)
    return Shot(carried=carried, ruling=only_option(under.ruling, under.option), drops=drop_examples(carried))


# Before and now ------------------------------------------------------------------------------------------------------


def _side(heading: str, under: Under, shot: Shot | None, draw: _Drawer) -> Side:
    book = under.book
    name = heading.lower() or "whole"
    drawing = None
    if shot is not None:
        alt = f"{heading or book.name}: {shot.option.title}, {_summary(shot.option)}"
        drawing = draw.draw(partial(frame_whole, shot), name, alt)
    return Side(
        heading=heading or book.name,
        title=book.title,
        stamp=book.stamp,
        rows=() if shot is None else tuple(rows_of(shot)),
        drawing=drawing,
        why_none="" if shot is not None else _why_none(under),
        rules=() if shot is None else rules_told(shot.option.citations),
    )


def _why_none(under: Under) -> str:
    said = [f"{entry.title}: {entry.because}" for entry in under.ruling.not_available]
    return said[0] if said else f"{under.book.name} gives no such relief there."


def _summary(option: Option) -> str:
    area = "no area" if option.relief_area is None else f"area {option.relief_area.area_m2:.2f} m²"
    return f"{strokes_words(option.penalty_strokes).lower()}, {area}"


def rows_of(shot: Shot) -> Iterator[tuple[str, str]]:
    """What one book says of the procedure: pairs of a label and what holds."""
    option, book = shot.option, shot.carried.case.book
    yield "Penalty", strokes_words(option.penalty_strokes).lower()
    if option.references:
        yield "Measured from", STATION_WORDS[option.references[0].kind]
    if option.size_words and option.size_m is not None:
        is_metric = option.size_words.endswith(("metre", "metres"))
        yield "Length", option.size_words if is_metric else f"{option.size_words} ({option.size_m:.2f} m here)"
    if option.relief_area is not None:
        yield "Ground here", f"{option.relief_area.area_m2:.2f} m²"
    elif option.line is not None:
        yield "Ground here", "the line alone"
    row = f"relief.{option.procedure}"
    yield "Ball", f"{word_said(book, f'{row}.which', option.which)}, {word_said(book, f'{row}.put', option.put)}"


def rules_told(citations: Sequence[Citation]) -> tuple[RuleTold, ...]:
    """Each rule once, with where it was seen."""
    told = (
        RuleTold(
            reference=citation.reference,
            provenance=citation.provenance,
            is_seen=citation.provenance.startswith(("seen in", "set by")),
        )
        for citation in citations
    )
    return tuple(dict.fromkeys(told))


def _compared(now: Shot, before: Shot | None) -> tuple[tuple[Told, ...], tuple[Told, ...], tuple[Told, ...]]:
    """What stays forbidden, what newly is, and what no longer is."""
    lines = forbidden_by(now.carried, now.ruling)
    if before is None:
        return tuple(map(_told, lines)), (), ()
    earlier = forbidden_by(before.carried, before.ruling)
    was, is_now = {line.about for line in earlier}, {line.about for line in lines}
    return (
        tuple(_told(line) for line in lines if line.about in was),
        tuple(_told(line) for line in lines if line.about not in was),
        tuple(_told(line) for line in earlier if line.about not in is_now),
    )


def _sources(*shots: Shot | None) -> tuple[RuleTold, ...]:
    """Every rule that the page names."""
    cited: list[Citation] = []
    for shot in shots:
        if shot is not None:
            cited += [*shot.option.citations, *(c for line in forbidden_by(shot.carried, shot.ruling) for c in line.citations)]
    return rules_told(cited)


def _told(line: Forbidden) -> Told:
    return Told(text=line.text, rules=rules_told(line.citations))


# The frames ----------------------------------------------------------------------------------------------------------


def _steps(shot: Shot, draw: _Drawer) -> Iterator[Step]:
    for number, (title, words, make, what) in enumerate(_frames(shot), start=1):
        alt = f"Step {number}, {title.lower()}. {' '.join(words)}"
        drawing = draw.draw(make, what, alt, is_wide=what == _POINT)
        yield Step(number=number, title=title, words=words, drawing=drawing)


def frame_words(shot: Shot) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Title and words of each frame, without its drawing."""
    yield from ((title, words) for title, words, _, _ in _frames(shot))


def _frames(shot: Shot) -> Iterator[tuple[str, tuple[str, ...], Callable[[Window], Scene], str]]:
    """Title, words, scene and short name of each frame."""
    option, said = shot.option, list(shot.option.steps)
    if option.references:
        find = [said.pop(0)] if said else []
        yield "Find the point", tuple(find), partial(frame_point, shot), _POINT
    if option.size_m is not None and len(said) > 1:
        measure = [said.pop(0)]
        if measure[0].startswith(_CHOSEN) and len(said) > 1:
            measure.append(said.pop(0))
        title = "Measure" if option.line is None else "Go back on the line"
        yield title, tuple(measure), partial(frame_measure, shot), "measure"
    yield _ground_title(option), tuple(said), partial(frame_area, shot), "area"
    good = tuple(drop for drop in shot.drops if drop.counts)
    bad = tuple(drop for drop in shot.drops if not drop.counts)
    if good:
        words = tuple(_sentence(drop.because) for drop in good)
        yield "A drop that counts", words, partial(frame_drops, shot, drops=good), "counts"
    if bad:
        words = tuple(_sentence(drop.because) for drop in bad)
        yield "Drops that do not", words, partial(frame_drops, shot, drops=bad), "not"


def _ground_title(option: Option) -> str:
    if option.relief_area is None and option.line is None:
        return "Put the ball there"
    return "The ground to drop in" if option.put == "drop" else "The ground"


def _sentence(words: str) -> str:
    return f"The ball {words}."


# Lengths and trust ---------------------------------------------------------------------------------------------------


def _size(shot: Shot) -> Size | None:
    return None if shot.option.size_m is None else shot.carried.procedure.size()[0].value


def lengths_of(shot: Shot) -> Iterator[tuple[str, str]]:
    """The length of a page told in clubs; nothing where none is measured."""
    size = _size(shot)
    if size is not None:
        yield from _lengths(size, shot.carried.case.book)


def _lengths(size: Size, book: Book) -> Iterator[tuple[str, str]]:
    """A fixed length laid down with usual clubs; a length in clubs, worked out for the clubs that may measure it."""
    if size.unit is not LengthUnit.CLUB_LENGTHS:
        for name, club_in in USUAL_CLUBS:
            yield f"{name}, {club_in:g} in", told_in_clubs(size.in_metres(1.0), club_in)
        return
    is_longest = book.word("club-length.basis").value == "longest-but-putter"
    for name, club_in in LONGEST_CLUBS if is_longest else USUAL_CLUBS:
        yield f"{name}, {club_in:g} in", f"{size.amount * club_in:g} in ({size.in_metres(club_in * INCH_M):.2f} m)"


def _trust(showing: Showing, shot: Shot) -> Iterator[str]:
    yield _survey_words(showing.course, shot.option)
    if shot.drops:
        yield "The drops are examples on the plan: slope and wind are not surveyed."
    if shot.option.size_m is not None:
        yield "Lengths of clubs are common practice; measure with the club in hand."


def _seen_words(showing: Showing, shot: Shot) -> Iterator[str]:
    """What of the page was not seen in print, for officials."""
    cited = [*shot.option.citations, *(c for line in forbidden_by(shot.carried, shot.ruling) for c in line.citations)]
    memory = dict.fromkeys(citation.reference for citation in cited if citation.seen == MEMORY)
    if memory:
        yield f"From memory, not seen in print: {'; '.join(memory)}."
    inferred = dict.fromkeys(citation.reference for citation in cited if citation.seen == INFERRED or citation.is_number_inferred)
    if inferred:
        yield f"Inferred from another edition: {'; '.join(inferred)}."
    for line in showing.now.ruling.lines:
        if all(citation.rule == "no rule" for citation in line.citations):
            yield line.text


def _survey_words(course: Course, option: Option) -> str:
    if option.must_measure_on_ground:
        if option.accuracy_m is None:
            return "Survey accuracy unknown: look at the place and measure on the ground before anything hangs on these drawings."
        return f"The survey (±{option.accuracy_m:.2f} m) is too coarse to be certain here: measure on the ground."
    if course.sigma_m is None:
        return "Survey accuracy of the course as a whole unknown."
    margin = "" if option.margin_m is None else f"; what is drawn holds by {option.margin_m:.2f} m"
    return f"Survey ±{ACCURACY_SIGMAS * course.sigma_m:.2f} m{margin}."
