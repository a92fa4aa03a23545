"""Forecasts for tests: small trials, and the second reference course, on which a search limit has a known effect."""

from __future__ import annotations

from marram.office.forecasts.forecast_asked import ForecastAsked
from marram.office.workroom import Workroom
from marram.rulebook.book import Book
from marram.rulebook.overlays.overlay import Overlay, read_overlay

LOST_ONLY = {
    "searches_pct": 10,
    "findable_pct": 0,
    "provisional_pct": 100,
    "lateral_reliefs": 0,
    "small_reliefs": 0,
    "repairs_pct": 0,
    "overhanging_balls": 0,
    "group_spread_pct": 0,
    "flagstick_s": 0,
    "ready_stroke_s": 0,
}
"""The second reference course: one tee shot in ten on a par 4 or 5 is looked for in vain for the whole time, and nothing else happens."""


def book(name: str = "2023") -> Book:
    return Workroom().book(name)


def trial(key: str, was: str, now: str, on: str = "2023", besides: str = "") -> Overlay:
    """A trial of one change, its values written as in a file."""
    change = f'[[change]]\nkey = "{key}"\nwas = {was}\nnow = {now}\nbecause = "To see."\n{besides}\n'
    text = f'title = "A trial"\ndated = 2026-03-01\non = ["{on}"]\n{change}'
    return read_overlay(text, name="a-trial", catalogue=Workroom().catalogue)


def lost_ball_day(days: int, seed: int = 5, **besides: object) -> ForecastAsked:
    """54 groups of three every ten minutes, as the reference course has them."""
    return ForecastAsked(players=162, group_size=3, interval_min=10, days=days, seed=seed, stated=LOST_ONLY, **besides)  # type: ignore[arg-type]
