"""What stands on a drawing, read back from its SVG: words and badges as boxes, signs and lines as shapes, all in drawing units."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import affinity
from shapely.geometry import LineString, Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from marram.sheets.scene.type_widths import Face, words_width

SVG = "{http://www.w3.org/2000/svg}"
TYPE = {
    "lab": (Face.BOARD, 13.0),
    "ground": (Face.BOOK_ITALIC, 14.5),
    "book": (Face.BOARD_BOLD, 13.0),
    "coord": (Face.BOARD, 12.0),
    "small": (Face.BOARD, 12.0),
    "head": (Face.BOARD_BOLD, 12.0),
    "t1": (Face.BOOK, 28.0),
    "t2": (Face.BOOK_BOLD, 18.0),
    "t3": (Face.BOOK, 15.0),
    "t4": (Face.BOARD, 13.0),
}
"""Face and size of each class of words; the last class of an element counts, as in the style sheet."""
ON_PAPER = {
    Face.BOARD: Face.PAPER,
    Face.BOARD_BOLD: Face.PAPER_BOLD,
    Face.BOOK: Face.PAPER,
    Face.BOOK_ITALIC: Face.PAPER_ITALIC,
    Face.BOOK_BOLD: Face.PAPER_BOLD,
}
TRACKING = {"head": 0.06}
"""Space added after each letter, in sizes of the type."""
ABOVE, BELOW = 0.93, 0.24
"""How far letters reach above and below their line, in sizes of the type: ascent and descent of DejaVu Sans Condensed, the greater."""
LINES = frozenset(
    {
        "red",
        "yellow",
        "unmarked",
        "bound",
        "tick",
        "back",
        "relief",
        "other",
        "third",
        "estimate",
        "arc",
        "toward",
        "flight",
        "dim",
        "leader",
    }
)
SIGNS = frozenset(
    {"ball", "cup", "staff", "cloth", "st-ring", "st-cross", "touch", "not", "chosen", "plate", "stud-red", "stud-yellow", "foot"}
)
"""Names of classes: lines that no word covers, and signs of points and things."""
_NUMBER = re.compile(r"-?\d+(?:\.\d+)?(?:e-?\d+)?")
_STEP = re.compile(r"([MLHVZmlhvz])([^MLHVZmlhvz]*)")


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """A line of words, or a badge with its letter."""

    text: str
    kind: str
    outline: BaseGeometry
    is_on_map: bool
    class_names: frozenset[str]


@dataclass(slots=True, kw_only=True)
class Drawn:
    """A drawing read back."""

    page: Polygon
    words: list[Words] = field(default_factory=list)
    lines: list[tuple[str, BaseGeometry]] = field(default_factory=list)
    signs: list[tuple[str, BaseGeometry]] = field(default_factory=list)
    frames: list[BaseGeometry] = field(default_factory=list)
    clips: dict[str, Polygon] = field(default_factory=dict)
    seen_classes: set[str] = field(default_factory=set)
    explained: list[str] = field(default_factory=list)
    legend_words: list[str] = field(default_factory=list)
    """The last class of each of the legend's samples, as often as it is drawn there, and the legend's words."""

    def seen(self, shape: BaseGeometry, clip: str | None) -> BaseGeometry:
        """What of a shape is not clipped away."""
        return shape if clip is None else shape.intersection(self.clips[clip])


def read_drawing(svg: str) -> Drawn:
    """Read a drawing back, as the screen shows it or as paper does."""
    root = ET.fromstring(svg)
    left, top, width, height = map(float, root.attrib["viewBox"].split())
    drawn = Drawn(page=box(left, top, left + width, top + height))
    for each in root.iter(f"{SVG}clipPath"):
        drawn.clips[f"url(#{each.attrib['id']})"] = _rect(each[0])
    faces = ON_PAPER if root.attrib["width"].endswith("mm") else {}
    _walk(root, np.eye(3), drawn, faces, clip=None, is_badge=False)
    for legend in root.iter(f"{SVG}g"):
        if legend.attrib.get("class") == "legend":
            samples = [each.attrib.get("class", "").split() for each in legend.iter() if each.tag != f"{SVG}text"]
            drawn.explained += [names[-1] for names in samples if names]
            drawn.legend_words += ["".join(each.itertext()) for each in legend.iter(f"{SVG}text")]
    return drawn


def _walk(parent: ET.Element, at: NDArray[np.float64], drawn: Drawn, faces: dict[Face, Face], *, clip: str | None, is_badge: bool) -> None:
    for element in parent:
        if element.tag in {f"{SVG}defs", f"{SVG}clipPath", f"{SVG}style", f"{SVG}title", f"{SVG}desc"}:
            continue
        here = at @ _matrix(element.attrib.get("transform", ""))
        names = element.attrib.get("class", "").split()
        inner = element.attrib.get("clip-path", clip)
        if element.tag == f"{SVG}text":
            if not is_badge:
                drawn.words.append(_words(element, names, here, faces, is_on_map=clip is not None))
        elif is_badge and element.tag == f"{SVG}rect":
            letter = parent.findtext(f"{SVG}text") or ""
            outline = _moved(_rect(element), here)
            drawn.words.append(Words(text=letter, kind="badge", outline=outline, is_on_map=True, class_names=frozenset({"tag"})))
        else:
            _shape(element, names, here, drawn, inner)
        _walk(element, here, drawn, faces, clip=inner, is_badge=not {"tag", "disc"}.isdisjoint(names))


def _words(element: ET.Element, names: list[str], at: NDArray[np.float64], faces: dict[Face, Face], *, is_on_map: bool) -> Words:
    text = "".join(element.itertext())
    name = next(name for name in reversed(names) if name in TYPE)
    face, size = TYPE[name]
    width = words_width(text, faces.get(face, face), size) + TRACKING.get(name, 0.0) * size * len(text)
    x, y = float(element.attrib.get("x", 0)), float(element.attrib.get("y", 0))
    start = {"start": x, "middle": x - width / 2, "end": x - width}[element.attrib.get("text-anchor", "start")]
    outline = _moved(box(start, y - ABOVE * size, start + width, y + BELOW * size), at)
    return Words(text=text, kind=name, outline=outline, is_on_map=is_on_map, class_names=frozenset(names))


def _shape(element: ET.Element, names: list[str], at: NDArray[np.float64], drawn: Drawn, clip: str | None) -> None:
    kind = element.tag.removeprefix(SVG)
    if kind == "path":
        for shape in _paths(element.attrib["d"]):
            moved = drawn.seen(_moved(shape, at), clip)
            drawn.seen_classes |= set(names[-1:]) if clip is not None and not moved.is_empty else set()
            drawn.lines += [(name, moved) for name in names if name in LINES]
            drawn.signs += [(name, moved) for name in names if name in SIGNS]
    elif kind == "circle":
        disc = Point(float(element.attrib.get("cx", 0)), float(element.attrib.get("cy", 0))).buffer(float(element.attrib["r"]))
        moved = _moved(disc, at)
        drawn.seen_classes |= set(names[-1:]) if clip is not None and not drawn.seen(moved, clip).is_empty else set()
        drawn.signs += [(name, moved) for name in names if name in SIGNS or name == "st-case"]
    elif kind == "rect":
        outline = _moved(_rect(element), at)
        drawn.signs += [(name, outline) for name in names if name in SIGNS]
        drawn.frames += [outline] if "neat" in names else []


def _rect(element: ET.Element) -> Polygon:
    x, y, width, height = (float(element.attrib.get(name, 0)) for name in ("x", "y", "width", "height"))
    return box(x, y, x + width, y + height)


def _moved(shape: BaseGeometry, at: NDArray[np.float64]) -> BaseGeometry:
    return affinity.affine_transform(shape, [at[0, 0], at[0, 1], at[1, 0], at[1, 1], at[0, 2], at[1, 2]])


def _matrix(transform: str) -> NDArray[np.float64]:
    made = np.eye(3)
    for name, numbers in re.findall(r"(\w+)\(([^)]*)\)", transform):
        values = [float(number) for number in _NUMBER.findall(numbers)]
        step = np.eye(3)
        if name == "translate":
            step[:2, 2] = values if len(values) == 2 else [values[0], 0.0]
        elif name == "scale":
            step[:2, :2] *= values[0]
        elif name == "rotate":
            turn = np.radians(values[0])
            step[:2, :2] = [[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]]
        else:
            raise AssertionError(f"a transform that the reader does not know: {name}")
        made = made @ step
    return made


def _paths(data: str) -> Iterator[LineString]:
    """The chains of a path; curves, which only pattern tiles and the north arrow have, are left out."""
    if re.search("[cqsaCQSA]", data):
        return
    chain: list[tuple[float, float]] = []
    x = y = 0.0
    for step, rest in _STEP.findall(data):
        numbers = [float(number) for number in _NUMBER.findall(rest)]
        if step in "Mm" and chain:
            if len(chain) > 1:
                yield LineString(chain)
            chain = []
        if step in "MLml":
            for dx, dy in zip(numbers[::2], numbers[1::2], strict=True):
                x, y = (dx, dy) if step.isupper() else (x + dx, y + dy)
                chain.append((x, y))
        elif step in "HhVv":
            for number in numbers:
                x = number if step == "H" else x + number if step == "h" else x
                y = number if step == "V" else y + number if step == "v" else y
                chain.append((x, y))
        elif chain:
            chain.append(chain[0])
            x, y = chain[0]
    if len(chain) > 1:
        yield LineString(chain)


def overlaps(drawn: Drawn) -> Iterator[str]:
    """Words that overlap each other by more than a hair."""
    outlines = np.array([each.outline.buffer(-0.4, join_style="mitre") for each in drawn.words], dtype=object)
    tree = shapely.STRtree(outlines)
    one, other = tree.query(outlines, predicate="intersects")
    for first, second in zip(one.tolist(), other.tolist(), strict=True):
        if first < second:
            yield f"{drawn.words[first].text!r} overlaps {drawn.words[second].text!r}"


def cut_off(drawn: Drawn) -> Iterator[str]:
    """Words that leave the page, or the frame of the map on which they stand."""
    for each in drawn.words:
        frames = drawn.frames if each.is_on_map else [drawn.page]
        if not any(frame.buffer(0.01).covers(each.outline) for frame in frames):
            yield f"{each.text!r} is cut by the {'frame' if each.is_on_map else 'page'}"


def covered(drawn: Drawn) -> Iterator[str]:
    """Words of the map that stand over a line or a sign; the name of a book may break the line of its edge."""
    shapes = [*drawn.lines, *drawn.signs]
    tree = shapely.STRtree([shape for _, shape in shapes])
    for each in drawn.words:
        if not each.is_on_map:
            continue
        for found in tree.query(each.outline.buffer(-0.4, join_style="mitre"), predicate="intersects").tolist():
            name = shapes[found][0]
            if "book" in each.class_names and name in {"other", "third"}:
                continue
            yield f"{each.text!r} stands over {name}"
