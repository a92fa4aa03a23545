"""How the map of a ruling and the plan of the whole hole share the room of a drawing."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from marram.core.errors import SurveyError
from marram.sheets.ruled.hole_plan import HolePlan, plan_of, plan_view
from marram.sheets.ruled.ruled_place import RuledPlace
from marram.sheets.ruled.ruling_window import USUAL_MARGIN, Sheet, Spoken, choose_window, framed, refuse_scale, spoken_of, union
from marram.sheets.scene.map_layout import MapLayout, layout_of, narrow_window
from marram.sheets.scene.rendering import TOP_ALONE, Bounds, Rendering, window_of
from marram.sheets.scene.scene import Window
from marram.sheets.scene.svg import UNIT_MM, View

TOP = 86.0
MAP_HEIGHT = 520.0
_SIDE, _BENEATH = 190.0, 122.0
"""Width of a plan beside the map, and height of one beneath it."""
_GAP, _HEAD, _FOOT = 26.0, 18.0, 30.0
"""Between map and plan, over the plan for its heading, and under it for its scale bar."""
_BAR = 8.0
"""What the scale bar of a plan beneath takes more than the figures of a map."""
_LEAST_MARGIN = 22.0
"""Ground about what a lowered map shows, drawing units."""
_COORDINATES = 26.0
"""Under the map for its figures, where the plan lies beneath."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """What a drawing stands on.

    Attributes:
        width: Its width, drawing units.
        edge: Left and right of the map.
        is_paper: Whether it is paper, with a stated scale.
        narrow: The room of a map that is drawn anew for a phone; None where it is not.
    """

    width: float
    edge: float
    is_paper: bool
    narrow: MapLayout | None = None

    @property
    def inner(self) -> float:
        """What is left between the edges."""
        return self.width - 2 * self.edge

    @property
    def sides(self) -> tuple[float, float]:
        """Left and right side of the frame's outer line, on which headings and captions stand."""
        return self.edge - 5, self.width - self.edge + 5


SCREEN = Page(width=860.0, edge=34.0, is_paper=False)
PAPER = Page(width=210 / UNIT_MM, edge=44.0, is_paper=True)
"""Paper has the wider edge: printers fail within some 5 mm of the side, and figures stand beside the map."""


def page_for(rendering: Rendering, *, is_paper: bool) -> Page:
    """What a drawing stands on: paper, a screen, or the narrow one of a phone.

    Args:
        rendering: How the drawing is given.
        is_paper: Whether it is for paper.
    """
    if is_paper:
        return PAPER
    layout = layout_of(rendering)
    return Page(width=layout.width, edge=layout.edge, is_paper=False, narrow=layout) if layout.is_narrow else SCREEN


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """Map and plan with their places.

    Attributes:
        map: The map.
        scale: On paper 1 to so many.
        plan: What the plan shows, with where it stands; None where the map shows all.
        bottom: Where both end.
    """

    map: View
    scale: int | None
    plan: tuple[HolePlan, View] | None
    bottom: float

    @property
    def whole(self) -> View:
        """The map with the plan beside it as one view, for what stands beneath both."""
        view = self.map if self.plan is None else self.plan[1]
        width_m = (view.box.x + view.box.width - self.map.x) / self.map.units_per_m
        return replace(self.map, window=replace(self.map.window, width_m=width_m))


def lay_out(place: RuledPlace, page: Page, scale: int | None, rendering: Rendering, height: float = MAP_HEIGHT) -> Laid:
    """Give map and plan their places.

    Args:
        place: The incident with its rulings.
        page: What the drawing stands on.
        scale: On paper 1 to so many; None for the largest that fits.
        rendering: How the drawing is given; a window that is asked, and a map that stands alone, have the whole width and no plan.
        height: Height of map and plan together; a lower map shows the same ground, smaller.

    Raises:
        SurveyError: What must be seen does not fit at the scale asked.
    """
    height = page.narrow.height if page.narrow else height
    share = 1.0 if page.narrow else height / MAP_HEIGHT
    margin = max(_LEAST_MARGIN, USUAL_MARGIN * share)
    whole = Sheet(width=page.inner, height=height, is_paper=page.is_paper, asked=scale, share=share, margin=margin)
    if rendering.window is not None:
        return _laid(_asked(rendering.window, whole, _where(place)), page, None, rendering)
    spoken = _spoken(place)
    if page.narrow:
        shown = narrow_window(union([spoken.points, *spoken.areas]), spoken.wanted, page.narrow)
        return _laid((shown, page.inner / shown.width_m, None), page, None, rendering)
    chosen = choose_window(spoken, whole, _where(place))
    plan = None if rendering.is_map_alone else _plan(place, chosen[0])
    if plan is None:
        return _laid(chosen, page, None, rendering)
    plan = replace(plan, is_wide=_lies_beneath(plan.bounds, page, height))
    try:
        chosen = choose_window(spoken, _beside(whole, plan), _where(place))
    except SurveyError:  # the scale asked leaves no room for a plan
        return _laid(chosen, page, None, rendering)
    return _laid(chosen, page, replace(_plan(place, chosen[0]) or plan, is_wide=plan.is_wide), rendering)


def window_without_words(place: RuledPlace) -> Window:
    """The window of a drawing without words, which has the whole width and no plan."""
    return choose_window(_spoken(place), Sheet(width=SCREEN.inner, height=MAP_HEIGHT, is_paper=False), _where(place))[0]


def _lies_beneath(bounds: Bounds, page: Page, height: float) -> bool:
    """Whether ground is larger in the room beneath the map than in that beside it; beneath a lowered map there is none."""
    width_m, height_m = bounds[2] - bounds[0], bounds[3] - bounds[1]
    if height < MAP_HEIGHT:
        return False
    beside = min(_SIDE / width_m, (height - _HEAD - _FOOT) / height_m)
    return min(page.inner / width_m, _BENEATH / height_m) > beside


def _where(place: RuledPlace) -> str:
    return f"hole {place.incident.hole}"


def _spoken(place: RuledPlace) -> Spoken:
    return spoken_of(place)


def _plan(place: RuledPlace, window: Window) -> HolePlan | None:
    return plan_of(place.force[1], place.incident, place.course, window)


def _asked(bounds: Bounds, sheet: Sheet, where: str) -> tuple[Window, float, int | None]:
    """The window that whoever shows the drawing asks for, filled to the map."""
    seen = window_of(bounds)
    units = min(sheet.width / seen.width_m, sheet.height / seen.height_m)
    refuse_scale(sheet, units, where)
    return framed(seen.middle, sheet, units)


def _beside(whole: Sheet, plan: HolePlan) -> Sheet:
    """What a plan leaves of the room."""
    width = whole.width if plan.is_wide else whole.width - _SIDE - _GAP
    height = whole.height - _BENEATH - _HEAD - _COORDINATES - _BAR if plan.is_wide else whole.height
    return replace(whole, width=width, height=height)


def main_view(window: Window, units_per_m: float, page: Page, rendering: Rendering) -> View:
    """Where the map stands: under the heading, or alone at the top of a drawing whose page has the heading."""
    return View(
        window=window,
        x=page.edge,
        y=TOP_ALONE if rendering.is_map_alone else TOP,
        units_per_m=units_per_m,
        name="main",
        prefix=rendering.prefix,
        is_in_layers=rendering.is_map_alone,
        lengths=rendering.lengths,
    )


def _laid(chosen: tuple[Window, float, int | None], page: Page, plan: HolePlan | None, rendering: Rendering) -> Laid:
    window, units_per_m, scale = chosen
    view = main_view(window, units_per_m, page, rendering)
    if plan is None:
        return Laid(map=view, scale=scale, plan=None, bottom=view.box.y + view.box.height)
    below = view.box.y + view.box.height
    if plan.is_wide:
        top = below + _COORDINATES + _HEAD
        seen = plan_view(plan, page.edge, top, page.inner, _BENEATH, rendering)
        return Laid(map=view, scale=scale, plan=(plan, seen), bottom=top + _BENEATH + _BAR)
    left = math.floor(view.box.x + view.box.width + _GAP)
    seen = plan_view(plan, left, TOP + _HEAD, page.width - page.edge - left, view.box.height - _HEAD - _FOOT, rendering)
    return Laid(map=view, scale=scale, plan=(plan, seen), bottom=below)
