"""Inputs of handicap examples as the code takes them: exact numbers, plus handicaps, holes of a course, the books by what they say."""

from collections.abc import Mapping, Sequence
from fractions import Fraction

from marram.handicaps.adjusted_score import HoleCard
from marram.handicaps.rounding import Figure, as_written
from marram.handicaps.tees import Tee
from marram.handicaps.written_handicaps import read_handicap, tell_handicap
from marram.interchange.books.book_files import read_handicap_book
from tests.published.adapter import Unfit, to_list, to_number

Inputs = Mapping[str, object]
Values = Mapping[str, object]

BOOK = read_handicap_book("2024")
BOOK_OF_TWO_NINES = read_handicap_book("2020")
BOOK_WITHOUT_PAR = read_handicap_book("2020+rating-less-par-left-out")
BOOK_OF_TEN_HOLES = read_handicap_book("2020+ten-holes-make-eighteen")
BOOK_OF_ROUNDED_HALF = read_handicap_book("2024+half-index-to-a-tenth")


def exact(value: object, name: str = "value") -> Fraction:
    """A number as it is written."""
    return as_written(to_number(value, name))


def handicap(value: object, name: str = "handicap") -> Fraction:
    """A handicap: text with its plus, or a number that is below zero for a plus handicap."""
    return read_handicap(value) if isinstance(value, str) else exact(value, name)


def whole_handicap(value: object, name: str = "handicap") -> int:
    """A whole handicap."""
    found = handicap(value, name)
    if found.denominator != 1:
        raise Unfit(f"the input {name} is {value!r}; expected a whole number")
    return int(found)


def whole_number(value: object, name: str = "value") -> int:
    """A whole number."""
    return whole_handicap(to_number(value, name), name)


def handicaps(value: object, name: str) -> list[Fraction]:
    """A list of handicaps."""
    return [handicap(entry, name) for entry in to_list(value, name)]


def wholes(value: object, name: str) -> list[int]:
    """A list of whole numbers."""
    return [whole_number(entry, name) for entry in to_list(value, name)]


def as_text_if_plus(value: int) -> int | str:
    """A handicap as examples have it: text for a plus handicap, else a number."""
    return tell_handicap(value) if value < 0 else value


def mapping(value: object, name: str) -> Mapping[str, object]:
    """An input that has members."""
    if not isinstance(value, Mapping):
        raise Unfit(f"the input {name} is {value!r}; expected members by name")
    return value


def tee_of(inputs: Inputs, ending: str = "") -> Tee:
    """The tees of an example; rating and par may be missing."""
    rating, par = inputs.get(f"course_rating{ending}"), inputs.get(f"par{ending}")
    return Tee(
        slope=whole_number(inputs[f"slope{ending}"], "slope"),
        course_rating=None if rating is None else exact(rating, "course_rating"),
        par=None if par is None else whole_number(par, "par"),
    )


def unrounded(value: Fraction) -> Figure:
    """A Course Handicap of which only the unrounded figure is given."""
    return Figure(value=value, unrounded=value)


def course_of(inputs: Inputs) -> Mapping[str, object]:
    """The course of an example, which the runner has put in place of its name."""
    return mapping(inputs["course"], "course")


def holes_of(entries: object) -> list[HoleCard]:
    """Holes given one by one with par and stroke index."""
    holes = [mapping(entry, "holes") for entry in to_list(entries, "holes")]
    return [HoleCard(par=whole_number(hole["par"]), stroke_index=whole_number(hole["stroke_index"])) for hole in holes]


def holes_of_course(inputs: Inputs) -> dict[int, HoleCard]:
    """Holes of the course by number."""
    course = course_of(inputs)
    pars, indexes = wholes(course["par"], "par"), wholes(course["stroke_index"], "stroke_index")
    cards = [HoleCard(par=par, stroke_index=index) for par, index in zip(pars, indexes, strict=True)]
    return dict(zip(wholes(course["holes"], "holes"), cards, strict=True))


def indexes_of(holes: Sequence[HoleCard]) -> list[int]:
    """Stroke indexes of some holes."""
    return [hole.stroke_index for hole in holes]
