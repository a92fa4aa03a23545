"""A change as a heading: what an official says in one breath, without a full stop, such as *Two metres instead of two club-lengths*."""

from __future__ import annotations

import re
from collections.abc import Sequence

from marram.core.units import Size
from marram.rulebook.book import Book
from marram.rulebook.catalogue import Row
from marram.rulebook.consequences import Cases
from marram.rulebook.differences.difference_words import NO_SUCH_CASE, cases_apart
from marram.rulebook.differences.differences import group_of
from marram.rulebook.differences.told_change import first_sentence, said_of
from marram.rulebook.overlays.overlay import Change
from marram.rulebook.values import FACT, Absent, PartSpec, PartType, Value, cases_of
from marram.rulebook.wording.value_words import COUNTED, NAMED_UNITS, listed

_BEFORE, _NOW = "the Rules before", "the trial"
_FIGURE = re.compile(r"^\d+(?= )")
_BECOMES = {
    (None, None): "No longer",
    (None, True): "New",
    (None, False): "Ruled out",
    (True, False): "No longer",
    (True, None): "No longer",
    (False, True): "New",
    (False, None): "No longer ruled out",
}
"""How a yes or no, or what is taken away, begins: by what held before and what holds now."""
_LEANS = re.compile(
    r"(it|its|this|that|these|the same|from|for each|how (much|often)|one|level|first|the (first|second) time)\b|\S+( \S+){0,2}$", re.I
)
"""What is said of a part that is understood only beside what its row is about."""
_FEW = 3
"""So many kinds of relief are named; of more the headings under which they stand."""


def change_heading(base: Book, change: Change) -> str:
    """Tell a change as a heading: it begins with a capital, names no key and has no full stop.

    Args:
        base: The book without the change.
        change: The change.

    Raises:
        RuleDataError: The book's catalogue does not know the key.
    """
    if change.adds.rows:
        return f"New: {listed([_low(_added(row)) for row in _reliefs_first(change)])}"
    row, spec = base.catalogue.find_key(change.key)
    return _capital(_Heading(base, row.id, spec).of(first_sentence(row.means), change))


def _reliefs_first(change: Change) -> Sequence[Row]:
    """The relief that a change adds; where it adds none, whatever it adds."""
    reliefs = [row for row in change.adds.rows if row.id.startswith("relief.")]
    return reliefs or change.adds.rows


def _added(row: Row) -> str:
    title = row.added.get("title")
    return title if isinstance(title, str) else first_sentence(row.means)


def touched_words(book: Book, procedures: Sequence[str]) -> str:
    """Which relief a change touches: a few kinds by name, many by the headings under which they stand; empty where it touches none.

    Args:
        book: The book with the change.
        procedures: Names of the procedures' rows, without their family.
    """
    titles = dict.fromkeys(_low(relief_title(book, name)) for name in procedures)
    if not titles:
        return ""
    if len(titles) <= _FEW:
        return f"Touches {listed(list(titles))}."
    groups = dict.fromkeys(_low(group_of(book.catalogue.rows[f"relief.{name}"])) for name in procedures)
    return f"Touches {len(titles)} kinds of relief: {'; '.join(groups)}."


def relief_title(book: Book, procedure: str) -> str:
    """What a book calls a relief procedure.

    Args:
        book: The book.
        procedure: Name of the procedure's row, without its family.
    """
    key = f"relief.{procedure}.title"
    return book.word(key).value if book.has(key) else procedure.replace("-", " ")


class _Heading:
    """Words for the change of one part of one row."""

    def __init__(self, base: Book, row_id: str, spec: PartSpec) -> None:
        self.base, self.spec = base, spec
        self.family = row_id.partition(".")[0]
        self.what = re.sub(r"^whether ", "", spec.means.partition(";")[0].rstrip("."))

    def of(self, about: str, change: Change) -> str:
        """The heading, before its first letter is made a capital."""
        was, now = change.was, change.now
        cases = cases_of(was), cases_of(now)
        if all(cases):
            return f"{about}: {_cases(*cases)}"
        what = _low(about) if any(cases) else self.what
        if isinstance(now, bool | Absent):
            told = f"{_BECOMES[_yes_no(was), _yes_no(now)]}: {what}"
        elif isinstance(was, Absent):
            told = f"New: {what}: {self._said(now)}"
        elif isinstance(was, tuple) and isinstance(now, tuple):
            told = f"{what}: {self._list(was, now)}"
        else:
            told = _instead(*_spelt(self._said(now), self._said(was)))
            if self._speaks_for_itself(was, now):
                return told
            told = f"{what}: {told}"
        return f"{told} ({_low(about)})" if what == self.what and _LEANS.match(what) else told

    def _speaks_for_itself(self, *values: Value) -> bool:
        """Whether the values say by themselves what they are: lengths, times, strokes."""
        if self.spec.type is PartType.NUMBER:
            return self.spec.unit in NAMED_UNITS
        return any(isinstance(value, Size) for value in values)

    def _list(self, was: tuple[object, ...], now: tuple[object, ...]) -> str:
        added = [word for word in now if word not in was]
        gone = [word for word in was if word not in now]
        told = [f"also {listed(self._names(added))}"] if added else []
        told += [f"no longer {listed(self._names(gone), 'or')}"] if gone else []
        if not told and now[0] != was[0]:
            return f"in another order, first {self._names(now[:1])[0]}"
        return ", ".join(told) or "the same in another order"

    def _names(self, names: Sequence[object]) -> list[str]:
        return [self._name(str(name)) for name in names]

    def _name(self, name: str) -> str:
        """A word of a list: a row by what it is called or means, anything else as the part has it said."""
        row = self.base.catalogue.rows.get(f"{self.spec.of.rstrip('.')}.{name}") if self.spec.of != FACT else None
        if row is not None:
            is_relief = row.id.startswith("relief.")
            return f"“{relief_title(self.base, name) if is_relief else first_sentence(row.means).partition(';')[0]}”"
        return said_of(self.base, f"{self.family}.", self.spec, (name,))

    def _said(self, value: Value) -> str:
        if isinstance(value, tuple) and value and not cases_of(value) and self.spec.type is PartType.ROWS:
            return listed(self._names(value))
        return said_of(self.base, f"{self.family}.", self.spec, value).replace(" pct", " per cent").rstrip(",")


def _yes_no(value: Value) -> bool | None:
    return value if isinstance(value, bool) else None


def _cases(was: Cases, now: Cases) -> str:
    apart = cases_apart(was, now, (_BEFORE, _NOW))
    before, after = (
        words.replace(f"only in {name}, ", "").removeprefix("otherwise ") for words, name in ((apart.first, _BEFORE), (apart.second, _NOW))
    )
    if before == NO_SUCH_CASE:
        return f"new: {after}"
    return f"no longer {before}" if after == NO_SUCH_CASE else _instead(after, before)


def _instead(now: str, before: str) -> str:
    """One thing instead of another; a unit that both have is said once."""
    (_, _, unit), (was_amount, _, was_unit) = now.partition(" "), before.partition(" ")
    if unit and unit.rstrip("s") == was_unit.rstrip("s"):
        before = was_amount
    return f"{now}{',' if ',' in now else ''} instead of {before}"


def _spelt(now: str, before: str) -> tuple[str, str]:
    """Both with their first number in words, or both in figures where one is not small."""
    numbers = [int(found[0]) for words in (now, before) if (found := _FIGURE.match(words))]
    if any(number >= len(COUNTED) for number in numbers):
        return now, before
    spelt = [_FIGURE.sub(lambda found: COUNTED[int(found[0])], words, count=1) for words in (now, before)]
    return spelt[0], spelt[1]


def _low(words: str) -> str:
    return words[:1].lower() + words[1:]


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
