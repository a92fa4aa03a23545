"""What a drawing shows, read back from its SVG: the letters, words and marks of each of its views."""

from __future__ import annotations

import re
from dataclasses import dataclass
from xml.etree import ElementTree

_SVG = "{http://www.w3.org/2000/svg}"


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnView:
    """One view of a drawing.

    Attributes:
        letters: Letters of options in their squares.
        words: Every other word.
        classes: Classes of what is drawn.
        titles: What shapes are called.
    """

    letters: tuple[str, ...]
    words: tuple[str, ...]
    classes: frozenset[str]
    titles: frozenset[str]

    @property
    def arrows(self) -> dict[str, int]:
        """What arrows at the frame point to, with the distance, metres."""
        found = (re.fullmatch(r"(.*), (\d+) m", word) for word in self.words)
        return {match[1]: int(match[2]) for match in found if match is not None}


def drawn_views(svg: str) -> dict[str, DrawnView]:
    """The views of a drawing by their names: main, plan, small-1 and so on."""
    root = ElementTree.fromstring(svg)
    groups = [group for group in root.iter(f"{_SVG}g") if "clip-" in group.get("clip-path", "")]
    return {_name(group): _view(group) for group in groups}


def other_words(svg: str) -> str:
    """The words of a drawing outside its views: heading, caption, figures of the frame."""
    root = ElementTree.fromstring(svg)
    inside = {id(text) for group in root.iter(f"{_SVG}g") if "clip-" in group.get("clip-path", "") for text in group.iter(f"{_SVG}text")}
    return " ".join("".join(text.itertext()) for text in root.iter(f"{_SVG}text") if id(text) not in inside)


def _name(group: ElementTree.Element) -> str:
    found = re.search(r"clip-([a-z0-9-]+)\)", group.get("clip-path", ""))
    assert found is not None
    return found[1]


def _view(group: ElementTree.Element) -> DrawnView:
    tags = [tag for tag in group.iter(f"{_SVG}g") if tag.get("class") == "tag"]
    letters = ["".join(text.itertext()) for tag in tags for text in tag.iter(f"{_SVG}text")]
    in_tags = {id(text) for tag in tags for text in tag.iter(f"{_SVG}text")}
    words = ["".join(text.itertext()) for text in group.iter(f"{_SVG}text") if id(text) not in in_tags]
    classes = frozenset(name for element in group.iter() for name in element.get("class", "").split())
    titles = frozenset("".join(title.itertext()) for title in group.iter(f"{_SVG}title"))
    return DrawnView(letters=tuple(letters), words=tuple(words), classes=classes, titles=titles)
