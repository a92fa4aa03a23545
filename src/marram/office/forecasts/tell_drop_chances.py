"""Tell how often a dropped ball must be dropped again or placed, under each book, from a model of its bounce and roll."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from marram.core.citations import Citation, merged
from marram.core.errors import StudyError
from marram.core.field_names import Field
from marram.records.measured_drops import MeasuredDrop
from marram.rulebook.book import Book
from marram.simulation.assumed.assumptions import STATED, usual_assumptions
from marram.simulation.dropped_ball.drop_chances import DropChances, DropRules, drop_chances
from marram.simulation.dropped_ball.ground_fitted import FittedGround, fit_ground
from marram.simulation.dropped_ball.ground_met import GroundMet, ground_named
from marram.simulation.settings.played_settings import (
    DROP_HEIGHT,
    DROPS,
    LATERAL_SIZE,
    RESTS_INSIDE,
    ROLL_LIMIT,
    settings_of,
    size_parts,
)

UNTRIED = (
    "From a model of bounce and roll that was tried on no turf: read shares as more and less. On flat ground it looks short of experience, "
    "until 50 drops of each ground are measured."
)
FITTED = "From a model of bounce and roll that was fitted to drops of the field: on other ground it says more and less, no more."
NO_NUMBER = " (the book gives no number: one that does not stay is taken to make it plain)"
_DISC = "disc"
_NAMED = {"knee": "knee_m", "shoulder": "shoulder_m"}
_GONE_M = 15.0
"""A ball that is told so far away never came to rest."""
FEWEST_RELIEFS, MOST_RELIEFS = 100, 200_000


@dataclass(frozen=True, slots=True, kw_only=True)
class DropsAsked:
    """Drops that are asked about.

    Attributes:
        height: `knee`, `shoulder` or a height such as `1.2m`; empty for that of each book.
        slope_deg: Slope of the ground.
        ground: Kind of the ground.
        procedure: The relief that is dropped for; empty for the large relief area.
        reliefs: How many reliefs are played through.
        seed: Seed of all chance.
    """

    height: str = ""
    slope_deg: float = 5.0
    ground: str = "fairway"
    procedure: str = ""
    reliefs: int = 10_000
    seed: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class DropChancesTold:
    """What becomes of drops under a book.

    Attributes:
        book: Name of the book.
        stamp: Its stamp.
        rules: What it says of the drop, in plain numbers.
        height_from: Where the height comes from.
        drops_are_stated: Whether the book says how many drops are made before the ball is placed.
        ground: The ground.
        fitted: How well it fits drops of the field; None where none were given.
        slope_deg: Its slope.
        chances: What becomes of the drops.
        citations: The rules.
    """

    book: str
    stamp: str
    rules: DropRules
    height_from: str
    drops_are_stated: bool
    ground: GroundMet
    fitted: FittedGround | None
    slope_deg: float
    chances: DropChances
    citations: tuple[Citation, ...]


def tell_drop_chances(books: Sequence[Book], asked: DropsAsked, measured: Sequence[MeasuredDrop] = ()) -> tuple[DropChancesTold, ...]:
    """Tell how often a dropped ball must be dropped again or placed, under each book; books share their chance.

    Args:
        books: The books.
        asked: The drops.
        measured: Drops of the field that the ground is fitted to; none for that of the table.

    Raises:
        RuleDataError: A book has no such relief, or no size for it.
        StudyError: A number or name cannot be meant.
    """
    if not FEWEST_RELIEFS <= asked.reliefs <= MOST_RELIEFS:
        message = f"{asked.reliefs} reliefs cannot be played through."
        raise StudyError(message, field=Field.COUNT, hint=f"Give {FEWEST_RELIEFS} to {MOST_RELIEFS}.")
    met = ground_named(asked.ground)
    fitted = fit_ground(met, measured) if measured else None
    return tuple(_under(book, asked, met if fitted is None else fitted.ground, fitted) for book in books)


def _under(book: Book, asked: DropsAsked, ground: GroundMet, fitted: FittedGround | None) -> DropChancesTold:
    settings, assumed = settings_of(book), usual_assumptions()
    size_key = _size_key(book, asked.procedure) if asked.procedure else LATERAL_SIZE
    settings = replace(settings, lateral_size=size_parts(book, size_key))
    height_from = f"{assumed.by_name[settings.drop_height].means}; {assumed.by_name[settings.drop_height].provenance}"
    rules = settings.drop_rules(assumed, is_large=True)
    if asked.height:
        rules, height_from = replace(rules, height_m=_height_m(asked.height)), STATED
    keys = [key for key in (DROP_HEIGHT, DROPS, RESTS_INSIDE, ROLL_LIMIT, size_key) if book.has(key)]
    return DropChancesTold(
        book=book.name,
        stamp=book.stamp,
        rules=rules,
        height_from=height_from,
        drops_are_stated=book.has(DROPS),
        ground=ground,
        fitted=fitted,
        slope_deg=asked.slope_deg,
        chances=drop_chances(rules, asked.slope_deg, ground, reliefs=asked.reliefs, seed=asked.seed),
        citations=merged(*(book.cited(key).citations for key in keys)),
    )


def _size_key(book: Book, procedure: str) -> str:
    """Key of the size of a relief that is dropped for in a disc."""
    shape = book.word(f"relief.{procedure}.shape").value
    if shape != _DISC:
        message = f"Under {book.name} the ball is not dropped in a disc round a point there, but in a {shape}."
        raise StudyError(message, field=Field.PROCEDURE, hint="Drops in a disc alone are played, as in lateral relief.")
    return f"relief.{procedure}.size"


def _height_m(height: str) -> float:
    """A height as it is stated: of a body, or in metres."""
    if height in _NAMED:
        return usual_assumptions().value(_NAMED[height])
    try:
        return float(height.strip().removesuffix("m").strip())
    except ValueError:
        hint = "Give `height=knee`, `height=shoulder` or a number of metres such as `height=1.2m`."
        raise StudyError(f"{height[:40]!r} is no height.", field=Field.HEIGHT, hint=hint) from None


def chance_lines(told: DropChancesTold) -> tuple[str, ...]:
    """What becomes of drops, in sentences."""
    rules, chances = told.rules, told.chances
    limit = "" if rules.roll_limit_m is None else f"; no farther than {rules.roll_limit_m:.2f} m from its first touch"
    stays = "must rest in the relief area" if rules.must_rest_in_area else "may rest outside the relief area, no nearer the hole"
    drops = ("one drop" if rules.drops == 1 else f"{rules.drops} drops") + ("" if told.drops_are_stated else NO_NUMBER)
    return (
        f"From {rules.height_m:.2f} m on {told.ground.words} sloping {told.slope_deg:g} degrees, in an area of {rules.radius_m:.2f} m; "
        f"the ball {stays}{limit}; {drops} before it is placed.",
        f"Of a hundred drops {_pct(chances.outside, chances)} do not stay; of a hundred reliefs {_pct(chances.dropped_again, chances)} are "
        f"dropped again, and {_pct(chances.placed, chances)} end in placing.",
        f"A drop rests {chances.rest_median_m:.2f} m from its first touch in the middle of all, and 95 of 100 within "
        f"{chances.rest_most_m:.2f} m."
        if chances.rest_most_m < _GONE_M
        else "A drop on ground so steep for it does not come to rest.",
        f"Height: {told.height_from}. Ground: {told.ground.provenance}{_fit_words(told.fitted)}.",
    )


def _fit_words(fitted: FittedGround | None) -> str:
    if fitted is None:
        return ""
    return f" (quantiles of the roll lie {fitted.misfit_pct:.0f} % from the field, before {fitted.misfit_before_pct:.0f} %)"


def remark_of(told: Sequence[DropChancesTold]) -> str:
    """How far the model may be trusted."""
    return FITTED if told and all(one.fitted is not None for one in told) else UNTRIED


def _pct(share: float, chances: DropChances) -> str:
    return f"{share * 100:.1f} (chance ± {196 * chances.error_of(share):.1f})"
