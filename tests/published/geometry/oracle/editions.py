"""What each procedure is in each edition, as plain numbers and words.

Sources: Rules of Golf 2016, Rules 20-5, 24-2, 25-1, 25-2, 26-1, 26-2, 27-1, 28, 20-2c, and Decisions 20/1, 26-1/14; draft new rules
(March 2017), explanation papers 7, 8, 12, 24 and the sample of Rule 16; Rules of Golf (January 2019) and (January 2023), Rules 14.3,
14.6, 16.1, 16.3, 17.1d, 17.2, 18.2, 19.2, 19.3, Definitions *Club-Length*, *Nearest Point of Complete Relief*, *Relief Area*.
"""

from __future__ import annotations

from dataclasses import dataclass

INCH_M = 0.0254


@dataclass(frozen=True, kw_only=True)
class Edition:
    """What the oracle needs to know of one edition.

    Attributes:
        small_in: The smaller size in inches where it is fixed; None where it is one club-length.
        large_in: The larger size; None where it is two club-lengths.
        line: What a drop back on a line is: ``line`` (on the line itself), ``strip`` (within the smaller size of it), ``behind`` (a
            disc about the chosen point, not nearer than that point) or ``around`` (a disc about it, not nearer than where the line
            starts).
        lateral_marks: Marks of penalty areas with lateral relief.
        has_opposite: Whether the opposite edge gives relief without a local rule.
        previous_has_area: Whether stroke and distance measures an area; else as near as possible to the spot.
        bunker_line_strokes: Penalty for an unplayable ball taken out of a bunker back on the line; None where that is not allowed.
        off_all_greens: Whether the nearest point may be on no putting green at all.
        embedded: ``spot`` (as near as possible, on ground cut to fairway height) or ``disc`` (right behind the ball).
        most_relief_obstruction: Whether a fixed object in a bunker has a point of most relief where none is clear.
        most_relief_area: Whether that point has an area; else the ball goes as near as possible to it.
    """

    small_in: float | None
    large_in: float | None
    line: str
    lateral_marks: frozenset[str]
    has_opposite: bool
    previous_has_area: bool
    bunker_line_strokes: int | None
    off_all_greens: bool
    embedded: str
    most_relief_obstruction: bool
    most_relief_area: bool

    def small_m(self, club_in: float) -> float:
        """The smaller size in metres."""
        return INCH_M * (club_in if self.small_in is None else self.small_in)

    def large_m(self, club_in: float) -> float:
        """The larger size in metres."""
        return INCH_M * (2 * club_in if self.large_in is None else self.large_in)


_RED = frozenset({"red"})
_LATER = {"off_all_greens": False, "embedded": "disc", "most_relief_obstruction": True, "most_relief_area": True}
_MODERN = {"small_in": None, "large_in": None, "lateral_marks": _RED | {"unmarked"}, "has_opposite": False, "previous_has_area": True}

EDITIONS = {
    "2016": Edition(
        small_in=None,
        large_in=None,
        line="line",
        lateral_marks=_RED,
        has_opposite=True,
        previous_has_area=False,
        bunker_line_strokes=None,
        off_all_greens=True,
        embedded="spot",
        most_relief_obstruction=False,
        most_relief_area=False,
    ),
    "draft-2017": Edition(
        small_in=20,
        large_in=80,
        line="strip",
        lateral_marks=_RED,
        has_opposite=False,
        previous_has_area=True,
        bunker_line_strokes=2,
        **_LATER,  # type: ignore[arg-type]
    ),
    "2019": Edition(line="behind", bunker_line_strokes=2, **_MODERN, **_LATER),  # type: ignore[arg-type]
    "2023": Edition(line="around", bunker_line_strokes=2, **_MODERN, **_LATER),  # type: ignore[arg-type]
}
