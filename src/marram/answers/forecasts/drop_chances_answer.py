"""What becomes of dropped balls, as outsiders read it: from a model, tried on no turf."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Literal

from marram.answers.citation_answer import CitationShape, citation_shapes
from marram.answers.shape import Answer, Shape

if TYPE_CHECKING:
    from marram.office.forecasts.tell_drop_chances import DropChancesTold


class GroundMetShape(Shape, frozen=True, kw_only=True):
    """The ground that balls are dropped on.

    Attributes:
        name: Its name.
        slope_deg: Its slope.
        mu: Friction at the impact.
        rho: Rolling resistance, as a share of the weight.
        rebound: How much of the rebound on a green is left.
        tilt_rad: Standard deviation of the small unevenness that each impact meets.
        provenance: Where these figures come from.
        misfit_pct: How far quantiles of the roll lie from those of the field; null where no drops were given.
        misfit_before_pct: The same before the ground was fitted.
    """

    name: str
    slope_deg: float
    mu: float
    rho: float
    rebound: float
    tilt_rad: float
    provenance: str
    misfit_pct: float | None
    misfit_before_pct: float | None


class DropChancesShape(Shape, frozen=True, kw_only=True):
    """What becomes of drops under a book.

    Attributes:
        book: The book.
        stamp: Its stamp.
        height_m: From which height the ball falls.
        height_from: Where the height comes from.
        radius_m: How far the relief area reaches.
        drops: Drops before the ball is placed.
        drops_are_stated: Whether the book says so; else one that does not stay is taken to make it plain.
        must_rest_in_area: Whether the ball has to rest in the relief area.
        roll_limit_m: Farthest rest from its first touch; null where the book sets none.
        ground: The ground.
        reliefs: How many reliefs were played through.
        outside: Share of single drops that do not stay where they must.
        dropped_again: Share of reliefs in which the ball is dropped more than once.
        placed: Share of reliefs in which it is placed in the end.
        monte_carlo_errors: How far `outside`, `dropped_again` and `placed` may be off because they were drawn, as standard deviations.
        rest_median_m: Median distance of a drop from its first touch to its rest.
        rest_95_m: What 95 of 100 drops stay within.
        citations: The rules.
    """

    book: str
    stamp: str
    height_m: float
    height_from: str
    radius_m: float
    drops: int
    drops_are_stated: bool
    must_rest_in_area: bool
    roll_limit_m: float | None
    ground: GroundMetShape
    reliefs: int
    outside: float
    dropped_again: float
    placed: float
    monte_carlo_errors: tuple[float, float, float]
    rest_median_m: float
    rest_95_m: float
    citations: tuple[CitationShape, ...]


class DropChancesAnswer(Answer, frozen=True, kw_only=True):
    """What becomes of drops, under each book.

    Attributes:
        schema: Name and version of this shape.
        is_simulated: True: no share here was counted in the field.
        remark: How far the model may be trusted.
        books: One entry for each book asked.
    """

    schema: Literal["marram.drop-chances/1"] = "marram.drop-chances/1"
    is_simulated: bool = True
    remark: str
    books: tuple[DropChancesShape, ...]


def drop_chances_answer(told: Iterable[DropChancesTold], remark: str) -> DropChancesAnswer:
    """What becomes of drops, under each book."""
    return DropChancesAnswer(remark=remark, books=tuple(map(_under, told)))


def _under(one: DropChancesTold) -> DropChancesShape:
    rules, chances, ground = one.rules, one.chances, one.ground
    shares = (chances.outside, chances.dropped_again, chances.placed)
    return DropChancesShape(
        book=one.book,
        stamp=one.stamp,
        height_m=rules.height_m,
        height_from=one.height_from,
        radius_m=rules.radius_m,
        drops=rules.drops,
        drops_are_stated=one.drops_are_stated,
        must_rest_in_area=rules.must_rest_in_area,
        roll_limit_m=rules.roll_limit_m,
        ground=GroundMetShape(
            name=ground.name,
            slope_deg=one.slope_deg,
            mu=ground.mu,
            rho=ground.rho,
            rebound=ground.rebound,
            tilt_rad=ground.tilt_rad,
            provenance=ground.provenance,
            misfit_pct=None if one.fitted is None else round(one.fitted.misfit_pct, 2),
            misfit_before_pct=None if one.fitted is None else round(one.fitted.misfit_before_pct, 2),
        ),
        reliefs=chances.reliefs,
        outside=chances.outside,
        dropped_again=chances.dropped_again,
        placed=chances.placed,
        monte_carlo_errors=(
            round(chances.error_of(shares[0]), 6),
            round(chances.error_of(shares[1]), 6),
            round(chances.error_of(shares[2]), 6),
        ),
        rest_median_m=round(chances.rest_median_m, 4),
        rest_95_m=round(chances.rest_most_m, 4),
        citations=citation_shapes(one.citations),
    )
