"""The guide set for paper: A4 sheets, and a pocket leaflet folded from one."""

from __future__ import annotations

from collections.abc import Mapping
from importlib import resources
from typing import Literal

import msgspec

from marram.sheets.guide.content import ADVICE, Guide, GuideDrawing, GuidePage
from marram.sheets.guide.frames import Picture, draw_in, needed, paper_frame
from marram.sheets.guide.leaflet import leaflet_steps
from marram.sheets.scene.typesetting import measure_rooms, set_pdf

Form = Literal["a4", "pocket"]
_COMMON = "common.typ"
_COVER, _PLACES = "cover", "places"
_LEAST_MM, _USUAL_MM, _MOST_MM = 34.0, 56.0, 112.0
"""How high the frame of a drawing is at least, before the room is measured, and at most."""
_WIDTH_MM = {"a4": 88.0, "pocket": 89.0}
_LEAST_PLAN_MM = 50.0
_PLAN_MM = (182.0, 60.0, 236.0)
"""Width of the plan, and how high it is before the room is measured and at most."""


def drawings_of(page: GuidePage) -> list[GuideDrawing]:
    """Every drawing of a page, in the order in which it is seen."""
    sides = [side.drawing for side in (page.before, page.now) if side is not None and side.drawing is not None]
    return [*sides, *(step.drawing for step in page.steps)]


def set_guide(guide: Guide, form: Form) -> bytes:
    """Set a guide as a PDF whose drawings fill what the words leave of each page.

    Args:
        guide: The guide.
        form: ``a4``, two pages for a procedure; or ``pocket``, one A4 sheet for a procedure, to be folded twice.
    """
    source = template(f"guide-{form}.typ")
    content = _content(guide, form)
    rooms = measure_rooms(source, _files(content, _pictures(guide, form, {})))
    return set_pdf(source, _files(content, _pictures(guide, form, rooms)))


def _content(guide: Guide, form: Form) -> bytes:
    """What the template reads: the guide without its drawings, whose names alone it needs."""
    told = msgspec.to_builtins(guide, enc_hook=lambda _: None)
    for page, read in zip(told["pages"], guide.pages, strict=True):
        page["compared"] = read.compared
        if form == "pocket":
            page["steps"] = msgspec.to_builtins(leaflet_steps(read), enc_hook=lambda _: None)
    return msgspec.json.encode({**told, "advice": ADVICE})


def _files(content: bytes, pictures: Mapping[str, Picture]) -> dict[str, bytes]:
    drawn = {f"{name}.svg": picture.svg.encode() for name, picture in pictures.items()}
    return {**drawn, "guide.json": content, _COMMON: template(_COMMON).encode()}


def _pictures(guide: Guide, form: Form, rooms: Mapping[str, float]) -> dict[str, Picture]:
    """Every drawing of a form by its name.

    Args:
        guide: The guide.
        form: The form.
        rooms: How much higher the drawings of each part of a page may be, millimetres; empty before it is measured.
    """
    drawn: dict[str, Picture] = {}
    for number, page in enumerate(guide.pages):
        for part, drawings in _parts(page, form).items():
            height_mm = min(max(_USUAL_MM + rooms.get(f"{number}-{part}", 0.0), _LEAST_MM), _MOST_MM)
            drawn |= {drawing.name: draw_in(drawing, paper_frame(_WIDTH_MM[form], height_mm)) for drawing in drawings}
    if guide.plan is not None:
        width_mm, usual_mm, most_mm = _PLAN_MM
        (wide_m, high_m), _ = needed(guide.plan.places, guide.plan.room)
        free_mm = usual_mm + rooms.get(_COVER, 0.0)
        if free_mm < _LEAST_PLAN_MM:  # the changes fill their page: the plan has one of its own
            free_mm = usual_mm + rooms.get(_PLACES, 0.0)
        height_mm = min(free_mm, most_mm, width_mm * high_m / wide_m)
        drawn[guide.plan.name] = draw_in(guide.plan, paper_frame(width_mm, height_mm))
    return drawn


def _parts(page: GuidePage, form: Form) -> dict[str, list[GuideDrawing]]:
    """The drawings of each part of a page, which stand at one height."""
    sides = [side.drawing for side in (page.before, page.now) if side is not None and side.drawing is not None]
    if form == "a4":
        return {"front": sides, "back": [step.drawing for step in page.steps]}
    steps = [step.drawing for step in leaflet_steps(page)]
    front = [page.now.drawing] if page.now.drawing is not None else []
    return {"front": front, "left": steps[:2], "right": steps[2:]}


def template(name: str) -> str:
    """A template that is packaged with the sheets."""
    return resources.files("marram.sheets").joinpath("templates", name).read_text(encoding="utf-8")
