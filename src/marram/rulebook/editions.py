"""The editions of the rules: the document of each, and which edition one follows."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TypeVar

T = TypeVar("T")

_MEMBERS = {"short", "document", "draft", "follows"}


@dataclass(frozen=True, slots=True, kw_only=True)
class EditionTitle:
    """An edition of the rules.

    Attributes:
        name: Its name.
        short: The words that stand for it on a drawing.
        document: The document that states it.
        is_draft: Whether it is a draft.
        follows: The edition that holds wherever this one states nothing; empty where it states everything.
    """

    name: str
    short: str
    document: str
    is_draft: bool
    follows: str = ""


Editions = Mapping[str, EditionTitle]


def parse_editions(raw: Mapping[str, object]) -> tuple[dict[str, EditionTitle], list[str]]:
    """Read the list of editions.

    Args:
        raw: What its file holds.

    Returns:
        The editions by name, in the order of the file, and every fault.
    """
    editions: dict[str, EditionTitle] = {}
    faults: list[str] = []
    for name, entry in raw.items():
        table = entry if isinstance(entry, dict) else {}
        faults += [f"{name}: {fault}" for fault in _faults_of(table, editions)]
        editions[name] = EditionTitle(
            name=name,
            short=str(table.get("short", "")),
            document=str(table.get("document", "")),
            is_draft=table.get("draft") is True,
            follows=str(table.get("follows", "")),
        )
    return editions, faults


def _faults_of(table: Mapping[str, object], earlier: Editions) -> Iterator[str]:
    for member in sorted(table.keys() - _MEMBERS):
        yield f"unknown member {member!r}; an edition has {', '.join(sorted(_MEMBERS))}"
    for member in ("short", "document"):
        if not isinstance(table.get(member), str) or not str(table[member]).strip():
            yield f"{member} is missing"
    if not isinstance(table.get("draft"), bool):
        yield "draft must be true or false"
    if "follows" in table and table["follows"] not in earlier:
        yield f"follows {table['follows']!r}, which is no edition above it in the file; above it: {', '.join(earlier) or 'none'}"


def followed(edition: str, editions: Editions) -> Iterator[str]:
    """An edition, the edition that it follows, the one that that follows, and so on."""
    while edition in editions:
        yield edition
        edition = editions[edition].follows


def with_followers(stated: Mapping[str, T], editions: Editions) -> dict[str, T]:
    """What is stated by edition, told also of the editions that state nothing of their own and follow one that does."""
    nearest = {edition: next((name for name in followed(edition, editions) if name in stated), "") for edition in editions}
    return dict(stated) | {edition: stated[name] for edition, name in nearest.items() if name}


def latest_in_force(editions: Editions) -> str:
    """The last edition of the file that is no draft."""
    return next((name for name, title in reversed(list(editions.items())) if not title.is_draft), next(iter(editions), ""))
