"""The address of a page: it holds the whole case, so that a reload and a link give the same picture."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING
from urllib.parse import parse_qsl, urlencode

from marram.core.errors import DataError
from marram.core.lengths import YARD_M, Lengths

if TYPE_CHECKING:
    from marram.office.at_desk.stated_case import StatedCase

_LONGEST = 16_000
PLACES = ("crossed_at", "other_crossed_at", "previous_stroke", "last_stroke_outside", "estimated_at", "played_from", "first_touch")
"""Facts that are places, each with two numbers in an address."""
_STROKES = ("previous_stroke", "last_stroke_outside")
_NUMBERS = {
    "x": "ball.x_m",
    "y": "ball.y_m",
    "before": "ball.before_green_m",
    "right": "ball.right_m",
    "longest": "player.longest_club_in",
    "putter": "player.putter_in",
    "back": "choice.back_m",
    **{f"{place}.x": f"facts.{place}.x_m" for place in PLACES},
    **{f"{place}.y": f"facts.{place}.y_m" for place in PLACES},
}
_LENGTHS = frozenset({"before", "right", "back"})
"""Numbers that are lengths: whoever reads yards may type them so."""
_WHOLE_NUMBERS = {"hole": "hole", "reference": "choice.reference"}
_WORDS = {
    "situation": "situation",
    "form": "form",
    "hand": "player.hand",
    "club": "player.club",
    "crossed_mark": "facts.crossed_mark",
    **{f"{stroke}.area": f"facts.{stroke}.area" for stroke in _STROKES},
}
_OF_PAGE = (
    "course",
    "day",
    "light",
    "words",
    "lost",
    "left",
    "act",
    "thing",
    "area",
    "events",
    "procedure",
    "begun",
    "option",
    "lengths",
    "decimal",
)
_FLIGHT = "flight"
"""Two places on the ball's path, told as x:y:x:y."""
_SEVERAL = ("book", "yes", "no", "met")
_MET_FIELDS, _EVENTS = ("met.kind", "met.x", "met.y", "met.radius"), "events"
_PARTS = (*_MET_FIELDS, "event", "at")
"""Fields of a form that are one value of an address: something met, and one more event behind those before it."""
_MET = ("kind", "x_m", "y_m", "radius_m")
ORDER = ("course", "day", "book", "hole", "situation", *_NUMBERS, *_WHOLE_NUMBERS, *_WORDS, _FLIGHT, *_OF_PAGE, *_SEVERAL)
"""Every name that an address may hold, in the order in which it is written."""
FIELD_OF = {member: name for name, member in {**_NUMBERS, **_WHOLE_NUMBERS, **_WORDS}.items()}
"""The name in an address of each member of an incident."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Address:
    """What an address states.

    Attributes:
        values: What stands under each name; empty values are left out.
    """

    values: Mapping[str, tuple[str, ...]]

    def first(self, name: str) -> str:
        """The value of a name; empty where nothing is stated."""
        return self.values.get(name, ("",))[0]

    def all(self, name: str) -> tuple[str, ...]:
        """Every value of a name that may be stated several times."""
        return self.values.get(name, ())

    @property
    def has_ball(self) -> bool:
        """Whether it says where the ball is, or that it was not found."""
        return any(self.first(name) for name in ("x", "before", "lost"))

    def put(self, **values: str | Sequence[str]) -> Address:
        """The address with other values.

        Args:
            values: What to state under each name, dots written as two underscores; an empty text or list states nothing.
        """
        told = {name.replace("__", "."): (value,) if isinstance(value, str) else tuple(value) for name, value in values.items()}
        return Address(values={name: value for name, value in {**self.values, **told}.items() if any(value)})

    def settled(self, fact: str, answer: str) -> Address:
        """The address with a fact settled.

        Args:
            fact: The fact.
            answer: ``yes`` or ``no``; empty where it is not known.
        """
        lists = {side: [name for name in self.all(side) if name != fact] + [fact] * (side == answer) for side in ("yes", "no")}
        return self.put(**lists)

    @property
    def lengths(self) -> Lengths:
        """How lengths are read."""
        return Lengths(in_yards=self.first("lengths") == "yards", with_comma=self.first("decimal") == "comma")

    @property
    def pairs(self) -> list[tuple[str, str]]:
        """Names with their values, in one order."""
        return [(name, value) for name in dict.fromkeys((*ORDER, *self.values)) for value in self.all(name)]

    def link(self, path: str) -> str:
        """The address of a page that states the same."""
        query = urlencode(self.pairs)
        return f"{path}?{query}" if query else path

    def case_link(self, path: str) -> str:
        """The address of a page of another chapter: the case alone, without what this chapter states besides."""
        return Address(values={name: value for name, value in self.values.items() if name in ORDER}).link(path)

    def besides(self, *names: str) -> list[tuple[str, str]]:
        """What a form states besides the fields that it shows itself."""
        return [(name, value) for name, value in self.pairs if name not in names]

    @property
    def case(self) -> StatedCase:
        """The case that it states.

        Raises:
            DataError: A number is none, or a fact is stated both ways.
        """
        from marram.office.at_desk.stated_case import StatedCase  # the server, which rules on nothing, knows addresses as well

        return StatedCase(course=self.first("course"), day=self.first("day"), books=self.all("book"), incident=_incident(self))


def read_address(query: str, known: Collection[str] = ORDER) -> Address:
    """Read the query of an address.

    Args:
        query: What stands behind the question mark.
        known: Names that may stand in it.

    Raises:
        DataError: It is too long, or holds a name that is not known, or states twice what is stated once.
    """
    if len(query) > _LONGEST:
        raise DataError("The address is too long.", where="address", hint=f"It may hold {_LONGEST} letters.")
    return address_of(parse_qsl(query), known)


def address_of(pairs: Iterable[tuple[str, str]], known: Collection[str] = ORDER) -> Address:
    """An address from its pairs of name and value.

    Raises:
        DataError: A name is not known, or what is stated once stands twice.
    """
    values: dict[str, tuple[str, ...]] = {}
    for name, raw in _joined(pairs):
        value = raw.strip()
        if name not in known:
            raise DataError(f"An address states nothing under the name {name[:60]!r}.", where="address", hint=f"Known: {', '.join(known)}.")
        if not value or value in values.get(name, ()):
            continue
        if name in values and name not in _SEVERAL:
            raise DataError(f"{name} is stated twice.", where="address", hint="State it once.")
        values[name] = (*values.get(name, ()), value)
    return Address(values=values)


def _joined(pairs: Iterable[tuple[str, str]]) -> Iterator[tuple[str, str]]:
    """The pairs of an address, those of several fields of a form as one."""
    told = [(name, value.strip()) for name, value in pairs]
    parts = {name: value for name, value in told if name in _PARTS}
    happened = [value for name, value in told if name == _EVENTS and value]
    if parts.get("event"):
        happened = [",".join([*happened, "@".join(filter(None, (parts["event"], parts.get("at", ""))))])]
    yield from ((name, value) for name, value in told if name not in _PARTS and name != _EVENTS)
    yield from ((_EVENTS, value) for value in happened)
    if any(parts.get(name) for name in _MET_FIELDS[1:]):
        yield "met", ":".join(parts.get(name, "") for name in _MET_FIELDS)


def address_of_incident(members: Mapping[str, object], **besides: str) -> Address | None:
    """The address that states an incident as its file has it; None where an address has no name for something of it.

    Args:
        members: Members of the incident.
        besides: What the address states besides, such as the course.
    """
    pairs = list(besides.items())
    for path, value in _flat(members):
        fact = path.removeprefix("facts.")
        if path in FIELD_OF:
            pairs.append((FIELD_OF[path], f"{value}"))
        elif path == "ball.lost":
            pairs.append(("lost", "yes"))
        elif isinstance(value, bool) and fact != path:
            pairs.append(("yes" if value else "no", fact))
        elif path == "facts.flight" and (told := _told_path(value)):
            pairs.append((_FLIGHT, told))
        elif path == "conditions" and (met := _told_met(value)):
            pairs += [("met", one) for one in met]
        elif path != "title":
            return None
    return address_of(pairs)


def _told_path(value: object) -> str:
    """Two places on a ball's path as an address has them; empty where they are not told in metres."""
    places = value if isinstance(value, list) else []
    if not all(isinstance(place, Mapping) and place.keys() == {"x_m", "y_m"} for place in places):
        return ""
    return ":".join(f"{place['x_m']}:{place['y_m']}" for place in places)


def _told_met(value: object) -> list[str]:
    """Things met today as an address has them; none where one of them is told in another way than as a disc in metres."""
    met = [one for one in value if isinstance(one, Mapping)] if isinstance(value, list) else []
    is_told = bool(met) and all({*_MET} <= one.keys() for one in met)
    return [":".join(f"{one[member]}" for member in _MET) for one in met] if is_told else []


def _flat(members: Mapping[str, object], before: str = "") -> Iterator[tuple[str, object]]:
    for name, value in members.items():
        if isinstance(value, Mapping):
            yield from _flat(value, f"{before}{name}.")
        else:
            yield f"{before}{name}", value


def _incident(address: Address) -> dict[str, object]:
    """The members of the incident that an address states."""
    members: dict[str, object] = {}
    for path, value in _stated(address):
        *tables, last = path.split(".")
        table = members
        for name in tables:
            inner = table.setdefault(name, {})
            assert isinstance(inner, dict)
            table = inner
        table[last] = value
    if met := [_condition(text) for text in address.all("met")]:
        members["conditions"] = met
    return members


def _stated(address: Address) -> Iterator[tuple[str, object]]:
    for name, value in address.pairs:
        if name in _NUMBERS:
            yield _NUMBERS[name], _number(name, value)
        elif name in _WHOLE_NUMBERS:
            yield _WHOLE_NUMBERS[name], _whole(name, value)
        elif name in _WORDS:
            yield _WORDS[name], value
    if address.first("lost"):
        yield "ball.lost", True
    if flight := address.first(_FLIGHT):
        yield "facts.flight", _path(flight)
    both = set(address.all("yes")) & set(address.all("no"))
    if both:
        raise DataError(f"{min(both)} is stated yes and no.", where="address", hint="State it once.")
    yield from ((f"facts.{fact}", is_so) for is_so, side in ((True, "yes"), (False, "no")) for fact in address.all(side))


def _number(name: str, text: str) -> float:
    """A number as it is typed, with a point or a comma; a length that is no coordinate may be in yards, as ``20 yd``."""
    amount, is_in_yards = text.removesuffix("yd").rstrip(), name in _LENGTHS and text.endswith("yd")
    try:
        number = float(amount.replace(",", ".") if "." not in amount else amount) if is_in_yards or amount == text else float(text)
        return number * YARD_M if is_in_yards else number
    except ValueError:
        raise DataError(f"{text[:60]!r} is no number.", where=name, hint="Give a number such as 12.5.") from None


def _whole(name: str, text: str) -> int:
    if not text.isdecimal() or len(text) > 4:
        raise DataError(f"{text[:60]!r} is no whole number.", where=name, hint="Give a number such as 7.")
    return int(text)


def _path(text: str) -> list[dict[str, float]]:
    """Two places on a ball's path."""
    numbers = [_number(_FLIGHT, number) for number in text.split(":")]
    if len(numbers) != 4:
        raise DataError(f"{text[:60]!r} is no path of a ball.", where=_FLIGHT, hint="Give two places as x:y:x:y, metres.")
    return [{"x_m": numbers[0], "y_m": numbers[1]}, {"x_m": numbers[2], "y_m": numbers[3]}]


def _condition(text: str) -> dict[str, object]:
    """Something that was met today: its kind, and where and how wide it is."""
    kind, *numbers = text.split(":")
    if len(numbers) != len(_MET) - 1:
        raise DataError(f"{text[:60]!r} is nothing that was met.", where="met", hint="Give kind:x:y:radius, metres.")
    return {"kind": kind, **{member: _number("met", number) for member, number in zip(_MET[1:], numbers, strict=True)}}
