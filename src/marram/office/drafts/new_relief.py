"""A relief that no book has, as one sentence with named gaps: what is filled in becomes a situation and a relief of the trial file."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from marram.core.citations import Citation
from marram.core.words import odd_sign
from marram.interchange.books.value_text import read_written, written
from marram.office.drafts.change_filled import Filled, ReadChange, read_wishes
from marram.office.drafts.offered_field import Offer
from marram.rulebook.book import Book
from marram.rulebook.reading.cell_reading import table_of
from marram.rulebook.values import PartSpec, PartType, SizeOf, parse_value, plain_value

GAPS = ("what", "where", "put", "size", "reference", "limit", "in_areas", "penalty")
"""The gaps of the sentence, in its order."""
THE_SPOT = "the spot"
"""Typed for a size where the ball goes on the spot itself."""
_FORM, _SITUATION, _RELIEF = "relief procedure", "situation.", "relief."
_LARGEST_M, _LONGEST, _MOST_STROKES = 200.0, 120, 10
_PLACES = ("ball-spot", "nearest-point-of-complete-relief", "spot-behind-ball", "point-on-line", "previous-stroke")
"""What may be measured from, of all that the book knows: the others need an edge of a penalty area or the crossing of one."""
_SPOKEN_OF = {
    "title", "allowed", "penalty_strokes", "ball_in", "lies_on", "reference", "clear_of", "shape", "size", "no_nearer_than", "in_areas",
    "put", "line_from", "rests_in_area_first_touched", "without",
}  # fmt: skip
_OF_SHAPE = ("shape", "line_from", "clear_of", "rests_in_area_first_touched")
_AREAS = ("general-area", "bunker", "penalty-area", "putting-green", "teeing-area")


@dataclass(frozen=True, slots=True, kw_only=True)
class Relief:
    """What stands in the gaps, as it was typed.

    Attributes:
        thing: What the ball lies in, such as *a divot hole*; empty where it is a kind that the book knows.
        means: What counts as one, in a sentence.
        radius: Its usual size as a radius, metres; empty where that says nothing.
        kind: A kind of condition that the book knows; empty for a thing of its own.
        ball_in: Areas in which the ball must lie.
        lies_on: How the ground must be cut.
        put: How the ball is put in play.
        size: How large the area is, as it is typed; *the spot* for the spot itself.
        reference: What is measured from.
        clear_of: What the thing may no longer interfere with.
        limit: The place than which the ball may not be nearer the hole.
        in_areas: Areas in which it may be put.
        penalty: Penalty strokes.
        title: What the relief is called.
    """

    thing: str = ""
    means: str = ""
    radius: str = ""
    kind: str = ""
    ball_in: tuple[str, ...] = ("general-area",)
    lies_on: str = "anywhere"
    put: str = "drop"
    size: str = ""
    reference: str = "ball-spot"
    clear_of: tuple[str, ...] = ("lie",)
    limit: str = "reference-point"
    in_areas: tuple[str, ...] = ("general-area",)
    penalty: str = "0"
    title: str = ""

    @property
    def has_size(self) -> bool:
        """Whether a size is asked at all: where the previous stroke was made, its area decides."""
        return self.reference != "previous-stroke"


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeOffered:
    """A size that the book draws already: as it is typed, in words, in metres with the usual club, and its rule."""

    value: str
    words: str
    metres: float
    citations: tuple[Citation, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class GapsOffered:
    """What may be chosen for each gap."""

    kinds: tuple[Offer, ...]
    areas: tuple[Offer, ...]
    lies_on: tuple[Offer, ...]
    put: tuple[Offer, ...]
    sizes: tuple[SizeOffered, ...]
    references: tuple[Offer, ...]
    clear_of: tuple[Offer, ...]
    limits: tuple[Offer, ...]


_CLUB_M = 1.143
"""A club of 45 inches, the longest that is usual (common practice), by which a size is told in metres."""


def offer_gaps(book: Book) -> GapsOffered:
    """What may be chosen for each gap, in the words of the book."""
    from marram.rulebook.wording.explain import fill
    from marram.rulebook.wording.value_words import said_as

    parts = book.catalogue.forms[_FORM]

    def listed(name: str, words: Sequence[str]) -> tuple[Offer, ...]:
        return tuple(Offer(value=word, words=" ".join(fill(book, said) for said in said_as(parts[name], word))) for word in words)

    return GapsOffered(
        kinds=tuple(Offer(value=name, words=name.replace("-", " ")) for name in book.catalogue.forms["situation"]["conditions"].words),
        areas=listed("ball_in", _AREAS),
        lies_on=listed("lies_on", parts["lies_on"].words),
        put=listed("put", ("drop", "place")),
        sizes=tuple(_sizes(book)),
        references=listed("reference", _PLACES),
        clear_of=listed("clear_of", ("lie", "stance", "swing", "line-of-play-on-green")),
        limits=listed("no_nearer_than", ("reference-point", "ball-spot", "nothing")),
    )


def _sizes(book: Book) -> list[SizeOffered]:
    """Sizes that the book states itself, each length once, the smallest first."""
    found: dict[float, SizeOffered] = {}
    keys = [key for key, (_, spec) in book.catalogue.keys.items() if spec.type is PartType.SIZE and key.startswith(_RELIEF)]
    named = [key for key in keys if "shape" not in book.catalogue.find_key(key)[0].parts]
    for key in (*named, *keys):
        if book.has(key) and not isinstance(book.cited(key).value, SizeOf):
            size = book.size(key)
            metres = size.value.in_metres(_CLUB_M)
            typed = f"as {key}" if key in named else written(size.value)
            found.setdefault(round(metres, 4), SizeOffered(value=typed, words=size.value.words, metres=metres, citations=size.citations))
    return [found[metres] for metres in sorted(found)]


def relief_from(members: Mapping[str, object]) -> tuple[Relief, tuple[str, ...]]:
    """The gaps as a file fills them.

    Args:
        members: Members of the change.

    Returns:
        The relief, and parts of it that the sentence does not speak of; they are kept as they are.
    """
    situation, row = _row(members, _SITUATION)[1], _row(members, _RELIEF)[1]
    thing, told = next(iter(table_of(members, "conditions").items()), ("", {}))
    kinds = _texts(situation.get("conditions"))
    condition = told if isinstance(told, Mapping) else {}
    size = row.get("size")
    relief = Relief(
        thing=f"{_article(thing)} {thing.replace('-', ' ')}" if thing else "",
        means=_text(condition.get("means")),
        radius=_figure(condition.get("radius_m")),
        kind="" if thing else next(iter(kinds), ""),
        ball_in=_texts(row.get("ball_in")),
        lies_on=_text(row.get("lies_on")) or "anywhere",
        put=_text(row.get("put")) or "drop",
        size=THE_SPOT if row.get("shape") == "spot" else _typed_size(size),
        reference=_text(row.get("reference")) or "ball-spot",
        clear_of=_texts(row.get("clear_of")),
        limit=_text(row.get("no_nearer_than")) or "reference-point",
        in_areas=_texts(row.get("in_areas")) or _AREAS,
        penalty=_figure(row.get("penalty_strokes")) or "0",
        title=_text(row.get("title")),
    )
    more = sorted(set(row) - _SPOKEN_OF - {"means"})
    return relief, tuple(more)


def read_relief(book: Book, relief: Relief, wishes: Filled, before: Mapping[str, object] | None = None) -> ReadChange:
    """Read the gaps into what a trial adds.

    Args:
        book: The book that the trial lies on.
        relief: What stands in the gaps.
        wishes: Why, what for, and what players are asked.
        before: The change as the file holds it; None for a new one.
    """
    read = read_wishes(wishes, before)
    faults = read.faults
    name = _name_of(book, relief, before)
    if not name and "thing" not in faults:
        faults["what"] = "Say what the ball lies in, such as a divot hole, or choose a kind that the book knows."
    faults |= _faults_of_words(relief)
    if faults.keys() & {"what", "means", "title"}:
        return ReadChange(members=read.members, faults=faults)
    held = before or {}
    thing = next(iter(table_of(held, "conditions")), "") or name
    added = dict(table_of(held, "add"))
    added[f"{_SITUATION}{_row(held, _SITUATION)[0] or name}"] = _situation(relief, name, thing, before)
    added[f"{_RELIEF}{name}"] = _relief(book, relief, before, faults)
    conditions = {**table_of(held, "conditions"), **_conditions(relief, thing, faults)} if not relief.kind else {}
    return ReadChange(members=read.members | ({"conditions": conditions} if conditions else {}) | {"add": added}, faults=faults)


def _faults_of_words(relief: Relief) -> dict[str, str]:
    found = {}
    for field, text in (("what", relief.thing), ("means", relief.means), ("title", relief.title)):
        sign = odd_sign(text)
        if sign:
            found[field] = f"It holds the sign {sign}, which is not seen; write it without."
        elif len(text) > (_LONGEST if field != "means" else 4 * _LONGEST):
            found[field] = f"That is {len(text)} letters long; say it shorter."
    if relief.thing.strip() and not relief.means.strip():
        found["means"] = "Say in one sentence what counts as one: officials and players are told it."
    return found


def _name_of(book: Book, relief: Relief, before: Mapping[str, object] | None) -> str:
    """The name of the rows: as the file has it, else from what the ball lies in, another than any that the book has."""
    known = _row(before or {}, _RELIEF)[0]
    if known:
        return known
    spoken = relief.thing if not relief.kind else f"{relief.kind} {relief.title or 'relief'}"
    plain = re.sub(r"^(an?|the)\s+", "", spoken.strip().casefold())
    slug = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:40].strip("-")
    taken = {row.partition(".")[2] for row in book.catalogue.rows} | set(book.catalogue.condition_names)
    name, number = slug, 1
    while name and name in taken:
        number += 1
        name = f"{slug}-{number}"
    return name or (f"new-{len(taken)}" if spoken.strip() else "")


def _situation(relief: Relief, name: str, thing: str, before: Mapping[str, object] | None) -> dict[str, object]:
    known = dict(_row(before or {}, _SITUATION)[1])
    is_same = before is not None and relief_from(before)[0].thing == relief.thing
    means = known.get("means") if is_same else None
    told = {"means": means or f"The ball lies in {_thing(relief)}.", "procedures": known.get("procedures") or [name]}
    return known | told | {"conditions": [relief.kind or thing]}


def _thing(relief: Relief) -> str:
    return relief.thing.strip() or relief.kind.replace("-", " ")


def _relief(book: Book, relief: Relief, before: Mapping[str, object] | None, faults: dict[str, str]) -> dict[str, object]:
    """The parts of the relief; what the sentence does not speak of stays."""
    parts, known = book.catalogue.forms[_FORM], _row(before or {}, _RELIEF)[1]
    told: dict[str, object] = {name: value for name, value in known.items() if name not in _SPOKEN_OF}
    told["means"] = known.get("means") or f"Relief from {_thing(relief)}."
    told |= {"title": relief.title.strip() or f"Relief from {_thing(relief)}", "allowed": True}
    told["penalty_strokes"] = _strokes(relief.penalty, faults)
    told["ball_in"] = _chosen(relief.ball_in, parts["ball_in"], "where", faults)
    told |= _unless_usual(parts["lies_on"], relief.lies_on, "where", known, faults)
    told["reference"] = _word(parts["reference"], relief.reference, "reference", faults)
    told |= _as_written(relief, before, known) or _shaped(book, relief, faults)
    told |= _sized(book, relief, table_of(known, "without"), faults)
    told |= _unless_usual(parts["no_nearer_than"], relief.limit, "limit", known, faults)
    told["in_areas"] = _chosen(relief.in_areas, parts["in_areas"], "in_areas", faults)
    return told | {"put": _word(parts["put"], relief.put, "put", faults)}


def _as_written(relief: Relief, before: Mapping[str, object] | None, known: Mapping[str, object]) -> dict[str, object]:
    """The shape as the file has it, which may be one that the sentence cannot say, while nobody chooses another place or the spot."""
    if before is None or not known:
        return {}
    held = relief_from(before)[0]
    same = (held.reference, held.clear_of, held.size == THE_SPOT) == (relief.reference, relief.clear_of, relief.size == THE_SPOT)
    return {name: known[name] for name in _OF_SHAPE if name in known} if same else {}


def _shaped(book: Book, relief: Relief, faults: dict[str, str]) -> dict[str, object]:
    """The shape, and what the place that is measured from needs besides."""
    if not relief.has_size:
        return {"shape": "previous-spot"}
    found: dict[str, object] = {"shape": "spot" if relief.size.strip() == THE_SPOT else "disc"}
    if relief.reference == "point-on-line":
        if relief.size.strip() == THE_SPOT:
            faults["size"] = "On the line there is no one spot; choose how large the area is."
        found = {"line_from": "ball-spot", "shape": "disc-at-first-touch", "rests_in_area_first_touched": True}
    elif relief.reference == "nearest-point-of-complete-relief":
        if not relief.clear_of:
            faults["reference"] = "Say what the thing may no longer be in the way of: the ball, the stance or the swing."
        else:
            found["clear_of"] = _chosen(relief.clear_of, book.catalogue.forms[_FORM]["clear_of"], "reference", faults)
    return found


def _sized(book: Book, relief: Relief, lacks: Mapping[str, object], faults: dict[str, str]) -> dict[str, object]:
    """The size, or that there is none: a row says of each part that it lacks why."""
    others = {part: why for part, why in lacks.items() if part != "size"}
    without: dict[str, object] = {"without": others} if others else {}
    if not relief.has_size or relief.size.strip() == THE_SPOT:
        why = "the ball is put on the spot itself" if relief.has_size else "the area of the previous stroke decides"
        return {"without": {**others, "size": lacks.get("size", why)}}
    if not relief.size.strip():
        faults["size"] = "Choose a size."
        return without
    value, fault = read_written(relief.size, book.catalogue.forms[_FORM]["size"], book.catalogue)
    if isinstance(value, SizeOf) and book.catalogue.find_key(value.key)[1].type is not PartType.SIZE:
        fault, value = f"{value.key} is no length", None
    if value is None:
        faults["size"] = f"{fault[:1].upper()}{fault[1:].rstrip('.')}."
        return without
    return {"size": plain_value(value)} | without


def _conditions(relief: Relief, name: str, faults: dict[str, str]) -> dict[str, object]:
    if relief.kind:
        return {}
    told: dict[str, object] = {"means": relief.means.strip()}
    if text := relief.radius.strip().replace(",", "."):
        try:
            radius_m = float(text)
        except ValueError:
            radius_m = 0.0
        if not 0 < radius_m <= _LARGEST_M:
            faults["radius"] = f"{relief.radius.strip()[:40]!r} is no size; give metres above zero, up to {_LARGEST_M:g}, or nothing."
        else:
            told["radius_m"] = radius_m
    return {name: told}


def _strokes(text: str, faults: dict[str, str]) -> int:
    if text.strip().isdecimal() and len(text.strip()) < 4 and int(text) <= _MOST_STROKES:
        return int(text)
    faults["penalty"] = f"{text.strip()[:40]!r} is no number of strokes; give a whole one from 0 to {_MOST_STROKES}."
    return 0


def _chosen(words: Sequence[str], spec: PartSpec, field: str, faults: dict[str, str]) -> list[str]:
    value = parse_value(list(words), spec)
    if value is None:
        faults[field] = f"{', '.join(words)[:60]!r} cannot be chosen here; choose of those shown."
    elif not words:
        faults[field] = "Choose at least one."
    return list(words)


def _word(spec: PartSpec, word: str, field: str, faults: dict[str, str]) -> str:
    if parse_value(word, spec) is None:
        faults[field] = f"{word[:60]!r} cannot be chosen here; choose one of those shown."
    return word


def _unless_usual(spec: PartSpec, word: str, field: str, known: Mapping[str, object], faults: dict[str, str]) -> dict[str, object]:
    """A part that is left out where it is as usual, unless the file states it."""
    told = _word(spec, word, field, faults)
    return {} if told == spec.default and spec.name not in known else {spec.name: told}


def _row(members: Mapping[str, object], family: str) -> tuple[str, Mapping[str, object]]:
    """The row of a family that a change adds, without the family in its name; nothing where it adds none."""
    added = table_of(members, "add")
    found = next((name for name in added if name.startswith(family)), "")
    return found.removeprefix(family), table_of(added, found) if found else {}


def _typed_size(raw: object) -> str:
    spec = PartSpec(name="size", type=PartType.SIZE, means="")
    value = None if raw is None else parse_value(raw, spec)
    return "" if value is None else written(value)


def _article(thing: str) -> str:
    return "an" if thing[:1] in "aeiou" else "a"


def _text(value: object) -> str:
    return value if isinstance(value, str) else ""


def _texts(value: object) -> tuple[str, ...]:
    return tuple(entry for entry in value if isinstance(entry, str)) if isinstance(value, list) else ()


def _figure(value: object) -> str:
    return f"{value:.12g}" if isinstance(value, int | float) and not isinstance(value, bool) else ""
