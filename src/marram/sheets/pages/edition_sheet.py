"""One sheet of a whole book's relief: every procedure under the situation that opens it, with its measures and its rule."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

import msgspec

from marram.core.units import LengthUnit
from marram.rulebook.book import Book
from marram.rulebook.wording.explain import strokes_words
from marram.rulings.case.closed import why_not_given
from marram.sheets.guide.content import ADVICE, RuleTold
from marram.sheets.guide.paper import template
from marram.sheets.guide.procedure_page import rules_told
from marram.sheets.scene.typesetting import set_pdf

_SITUATION, _RELIEF = "situation.", "relief."
_EVERY_AREA, _EVERY_MARK = 5, 3
_FROM = {
    "none": "",
    "crossing-point": "where the ball crossed the edge",
    "stated-crossing": "where the ball went into the thing",
    "ball-spot": "the spot of the ball",
    "spot-behind-ball": "right behind the ball",
    "estimated-spot": "the estimated spot",
    "opposite-edge": "the point across, as far from the hole",
    "previous-stroke": "the previous stroke",
    "last-stroke-outside": "the last stroke from outside",
    "nearest-point-of-complete-relief": "the nearest point of complete relief",
    "equal-arc-point": "sideways, as far from the hole",
    "point-on-line": "the line from the hole, backwards",
}
_GROUND = {
    "none": "",
    "disc": "within {size}",
    "disc-at-chosen-point": "within {size} of a point chosen on the line",
    "disc-at-first-touch": "on the line, to rest within {size} of the first touch",
    "strip": "within {size} of the line",
    "line": "on the line",
    "spot": "on the spot",
    "near-spot": "as near as possible to it",
    "previous-spot": "as its area asks: teed, placed, or dropped {size}",
    "teeing-area": "anywhere in the teeing area",
    "dropping-zone": "in the zone",
    "band-to-fairway": "between the two lines and {size} beyond",
}
_PUT = {"drop": "dropped", "place": "placed", "replace": "replaced", "play": "played", "as-it-lies": "as it lies"}
_NEARER = {
    "reference-point": "no nearer than that point",
    "crossing-point": "no nearer than the crossing",
    "ball-spot": "no nearer than the ball",
    "nothing": "",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class ReliefLine:
    """One procedure on the sheet.

    Attributes:
        title: What the book calls it.
        lies: Where the ball lies for it to apply.
        penalty: What it costs.
        measured_from: What is measured from.
        ground: Where the ball goes.
        nearer: How near to the hole it may come.
        put: How it is put in play.
        why_not: Why the book does not give it; empty where it does.
        rules: The rules.
        chain: Names of the rows that it is told from, the outermost first; two procedures that read alike are told once.
    """

    title: str
    lies: str
    penalty: str
    measured_from: str
    ground: str
    nearer: str
    put: str
    why_not: str
    rules: tuple[RuleTold, ...]
    chain: tuple[str, ...] = field(compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class SituationBlock:
    """A situation with the procedures that it opens."""

    situation: str
    title: str
    means: str
    lines: tuple[ReliefLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class EditionSheet:
    """The relief of a whole book."""

    title: str
    book: str
    stamp: str
    blocks: tuple[SituationBlock, ...]
    sources: tuple[RuleTold, ...]


def edition_sheet(book: Book) -> EditionSheet:
    """Write down every relief procedure of a book."""
    rows = [row for row in book.catalogue.rows.values() if row.id.startswith(_SITUATION) and book.has_row(row.id)]
    blocks = []
    for row in rows:
        chains = (chain for name in book.words(f"{row.id}.procedures").value for chain in _chains(book, name))
        lines = tuple(dict.fromkeys(_line(book, chain) for chain in chains))
        name = row.id.removeprefix(_SITUATION)
        blocks.append(SituationBlock(situation=name, title=_capital(name.replace("-", " ")), means=row.means, lines=lines))
    sources = tuple(dict.fromkeys(rule for block in blocks for line in block.lines for rule in line.rules))
    return EditionSheet(title=f"Relief in the {book.title}", book=book.name, stamp=book.stamp, blocks=tuple(blocks), sources=sources)


def set_edition(sheet: EditionSheet) -> bytes:
    """Set the sheet as a PDF, A4 across."""
    content = {**msgspec.to_builtins(sheet), "advice": ADVICE}
    files = {"sheet.json": msgspec.json.encode(content), "common.typ": template("common.typ").encode()}
    return set_pdf(template("edition-a4.typ"), files)


def _chains(book: Book, name: str, above: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """The keys of the rows from one of a situation down to each by which it is carried out in the end."""
    chain = (*above, f"{_RELIEF}{name}")
    followed = book.words(f"{chain[-1]}.follow").value if book.has(f"{chain[-1]}.follow") else ()
    if not followed:
        yield chain
    for row in followed:
        yield from _chains(book, row, chain)


def _line(book: Book, chain: tuple[str, ...]) -> ReliefLine:
    """A procedure, told by the last row of a chain, under the penalty, the title and the place of those above it."""
    key = chain[-1]
    why_not = next((why for row in chain if (why := _why_not(book, row))), "")
    rules = tuple(dict.fromkeys(rule for row in reversed(chain) for rule in rules_told(book.citations(row))))
    if why_not:
        return ReliefLine(
            title=_title(book, chain),
            lies="",
            penalty="",
            measured_from="",
            ground="",
            nearer="",
            put="",
            why_not=why_not,
            rules=rules,
            chain=chain,
        )
    return ReliefLine(
        title=_title(book, chain),
        lies=_lies(book, chain),
        penalty=_penalty(book, chain),
        measured_from=_FROM[book.word(f"{key}.reference").value] if book.has(f"{key}.reference") else "",
        ground=_ground(book, key),
        nearer=_NEARER[book.word(f"{key}.no_nearer_than").value] if _is_measured(book, key) else "",
        put=_PUT[book.word(f"{key}.put").value],
        why_not="",
        rules=rules,
        chain=chain,
    )


def _title(book: Book, chain: tuple[str, ...]) -> str:
    names = [row for row in chain[:-1] if book.has(f"{row}.told_as") and book.word(f"{row}.told_as").value == "this-row"][:1]
    return ": ".join(dict.fromkeys(_own_title(book, row) for row in (*names, chain[-1])))


def _own_title(book: Book, key: str) -> str:
    return book.word(f"{key}.title").value if book.has(f"{key}.title") else _capital(key.removeprefix(_RELIEF).replace("-", " "))


def _why_not(book: Book, key: str) -> str:
    if not book.has_row(key):
        return _capital(book.why_absent(key)).rstrip(".") + "."
    if not book.yes(f"{key}.allowed").value:
        return why_not_given(book, key)
    if book.yes(f"{key}.by_local_rule").value and not book.yes(f"{key}.adopted").value:
        return "Only by a local rule that this book has not adopted."
    return ""


def _lies(book: Book, chain: tuple[str, ...]) -> str:
    """Where the ball lies: a row above that starts elsewhere, or speaks of one area alone, speaks for what it carries out."""
    speaks = chain[-1]
    for row in reversed(chain[:-1]):
        if book.word(f"{row}.follow_from").value != "ball-spot" or len(book.words(f"{row}.ball_in").value) == 1:
            speaks = row
    marks = book.words(f"{speaks}.marks").value
    areas = [area.replace("-", " ") for area in book.words(f"{speaks}.ball_in").value]
    where = "anywhere" if len(areas) >= _EVERY_AREA else ", ".join(areas)
    return f"{where} ({' or '.join(marks)})" if "penalty area" in areas and len(marks) < _EVERY_MARK else where


def _penalty(book: Book, chain: tuple[str, ...]) -> str:
    """The outermost penalty that is stated."""
    stated = next((row for row in chain if book.has(f"{row}.penalty_strokes")), None)
    if stated is None:
        return "that of the situation"
    return strokes_words(int(book.number(f"{stated}.penalty_strokes").value)).lower()


def _is_measured(book: Book, key: str) -> bool:
    return book.has(f"{key}.size") and book.has(f"{key}.shape") and book.word(f"{key}.shape").value not in {"spot", "none"}


def _ground(book: Book, key: str) -> str:
    shape = book.word(f"{key}.shape").value if book.has(f"{key}.shape") else "none"
    size = book.size(f"{key}.size").value if book.has(f"{key}.size") else None
    words = "" if size is None else size.words
    if size is not None and size.unit is LengthUnit.INCHES:
        words = f"{size.words} ({size.in_metres(1.0):.2f} m)"
    if shape == "previous-spot":
        words = f"within {words}" if words else "near it"
    return _GROUND[shape].format(size=words)


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
