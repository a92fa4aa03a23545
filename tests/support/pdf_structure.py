"""What a screen reader meets in a PDF: its structure, element by element, with what hangs below each."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass

from pypdf import PdfReader
from pypdf.generic import ArrayObject, BooleanObject, DictionaryObject


@dataclass(frozen=True, slots=True)
class Element:
    """An element of the structure.

    Attributes:
        kind: What it is, such as *H1*, *Table*, *Figure*.
        alt: What it shows, for those who cannot see it; empty where nothing is said.
        below: What hangs below it.
    """

    kind: str
    alt: str
    below: tuple[Element, ...]

    def all(self) -> Iterator[Element]:
        """It and everything below it, in reading order."""
        yield self
        for each in self.below:
            yield from each.all()


def structure(pdf: bytes) -> Element:
    """The whole structure of a document; empty where it has none."""
    root = PdfReader(io.BytesIO(pdf)).root_object.get("/StructTreeRoot")
    return Element("Root", "", tuple(_children(root.get_object()))) if root is not None else Element("Root", "", ())


def structure_faults(pdf: bytes) -> list[str]:
    """What a reader who listens would miss.

    Source: ISO 14289-1:2014, 7.1 (title shown, language), 7.3 (figures), 7.4.2 (headings), 7.5 (tables).
    """
    reader = PdfReader(io.BytesIO(pdf))
    root = reader.root_object
    faults = []
    if not _is_true(_below(root, "/MarkInfo", "/Marked")):
        faults.append("not tagged")
    if root.get("/Lang") not in {"en", "en-GB"}:
        faults.append(f"language {root.get('/Lang')}")
    if not _is_true(_below(root, "/ViewerPreferences", "/DisplayDocTitle")) or reader.metadata is None or not reader.metadata.title:
        faults.append("no title shown")
    return [*faults, *_element_faults(list(structure(pdf).all()))]


def _below(root: DictionaryObject, name: str, word: str) -> object:
    found = root.get(name)
    return found.get(word) if isinstance(found, DictionaryObject) else None


def _is_true(word: object) -> bool:
    return isinstance(word, BooleanObject) and word.value is True


def _element_faults(elements: list[Element]) -> Iterator[str]:
    yield from ("a figure without words" for each in elements if each.kind == "Figure" and not each.alt.strip())
    levels = [int(each.kind[1:]) for each in elements if each.kind[0] == "H" and each.kind[1:].isdigit()]
    yield from (f"a heading {after} after {before}" for before, after in zip([0, *levels], levels, strict=False) if after > before + 1)
    for table in (each for each in elements if each.kind == "Table"):
        kinds = [each.kind for each in table.all()]
        if "TD" in kinds and "TH" not in kinds:
            yield f"a table of {kinds.count('TD')} cells without a head"
    if len(elements) < 2:
        yield "no structure"


def _children(element: DictionaryObject) -> Iterator[Element]:
    below = element.get("/K", ArrayObject())
    for each in below if isinstance(below, list) else [below]:
        found = each.get_object()
        if isinstance(found, DictionaryObject) and "/S" in found:
            yield Element(str(found["/S"])[1:], str(found.get("/Alt", "")), tuple(_children(found)))
