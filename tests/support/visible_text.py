"""What a reader sees of a page: its words outside what is typed, its links, its pictures."""

from __future__ import annotations

from html.parser import HTMLParser

_TYPED = frozenset({"code", "pre"})
_UNSEEN = frozenset({"style", "script", "title"})
_EMPTY = frozenset({"meta", "link", "img", "source", "br", "hr", "input", "path", "circle", "line", "rect", "i"})


class VisibleText(HTMLParser):
    """Reads a page.

    Attributes:
        words: What is read, outside commands and what is typed.
        links: Where each link leads.
        files: What is fetched: pictures and styles.
        pictures: The attributes of each picture.
        names: What a link within the page can lead to.
        styled: Elements with a style of their own.
    """

    def __init__(self, page: str) -> None:
        super().__init__()
        self.words: list[str] = []
        self.links: list[str] = []
        self.files: list[str] = []
        self.pictures: list[dict[str, str]] = []
        self.names: set[str] = set()
        self.styled: list[str] = []
        self._open: list[str] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        if tag not in _EMPTY:
            self._open.append(tag)
        if tag == "a":
            self.links.append(given["href"])
        if tag == "img":
            self.pictures.append(given)
        self.files += [given[name] for name in ("src", "srcset") if name in given]
        if tag == "link":
            self.files.append(given["href"])
        self.names |= {given["id"]} if "id" in given else set()
        self.styled += [tag] if "style" in given else []
        self.words += [given[name] for name in ("alt", "aria-label") if name in given]

    def handle_endtag(self, tag: str) -> None:
        if tag in self._open:
            del self._open[len(self._open) - 1 - self._open[::-1].index(tag) :]

    def handle_data(self, data: str) -> None:
        if not (_TYPED | _UNSEEN) & set(self._open):
            self.words.append(data)
