"""Steps and reasons in the edition's own words."""

from __future__ import annotations

from marram.core.terms import Area, Mark
from marram.core.units import LengthUnit, Size
from marram.rulebook.book import Book

_AREA_TERMS = {
    Area.GENERAL_AREA: "general_area",
    Area.TEEING_AREA: "teeing_area",
    Area.PUTTING_GREEN: "putting_green",
    Area.BUNKER: "bunker",
    Area.OUT_OF_BOUNDS: "out_of_bounds",
    Area.PENALTY_AREA: "penalty_area",
}


def term(book: Book, name: str) -> str:
    """A term as the edition says it."""
    return book.word(f"terms.{name}").value


def area_words(book: Book, area: Area, mark: Mark | None = None) -> str:
    """An area of the course as the edition calls it."""
    if area is Area.PENALTY_AREA and mark is not None:
        return term(book, f"penalty_area_{mark.value}")
    return term(book, _AREA_TERMS[area])


def in_area_words(book: Book, area: Area, mark: Mark | None = None) -> str:
    """Where a ball lies, as a phrase that follows *the ball lies*."""
    words = area_words(book, area, mark)
    if area is Area.OUT_OF_BOUNDS or words.startswith("through "):
        return words
    article = "a" if area in {Area.BUNKER, Area.PENALTY_AREA} else "the"
    article = "an" if article == "a" and words[0] in "aeiou" else article
    preposition = "on" if area in {Area.PUTTING_GREEN, Area.TEEING_AREA} else "in"
    return f"{preposition} {article} {words}"


def fill(book: Book, sentence: str, fills: dict[str, str]) -> str:
    """A sentence with the edition's terms and the measured numbers filled in."""
    terms = {name: term(book, name) for name in book.catalogue.rows["terms"].parts if book.has(f"terms.{name}")}
    return sentence.format_map(terms | fills)


def say(book: Book, name: str, fills: dict[str, str]) -> str:
    """A step, filled in."""
    return fill(book, book.word(f"say.{name}").value, fills)


def ask(book: Book, fact: str, fills: dict[str, str]) -> str:
    """The question that settles a fact, as the edition asks it; what nothing fills is told by its own name."""
    return fill(book, book.catalogue.facts[fact].asked_in(book.edition), {"condition": "condition"} | fills)


def strokes_words(count: int) -> str:
    """Penalty strokes in words."""
    return {0: "No penalty", 1: "One penalty stroke", 2: "Two penalty strokes"}.get(count, f"{count} penalty strokes")


def size_with_metres(size: Size, size_m: float) -> str:
    """A size as stated, with metres beside it where it is told in other units."""
    return size.words if size.unit is LengthUnit.METRES else f"{size.words} ({size_m:.2f} m)"


def interval_words(intervals_m: tuple[tuple[float, float], ...]) -> str:
    """Stretches of a line in words."""
    stretches = [f"{near_m:.2f} m to {far_m:.2f} m" for near_m, far_m in intervals_m]
    return "none" if not stretches else " and ".join(stretches)
