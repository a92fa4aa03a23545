"""Phrasings: questions as people put them, each with the entries that would answer it, and how often they are found.

A phrasing has an id, words, and answers: ids such as act.wrong-ball, thing.rake, situation.embedded, relief.lateral, form.stableford and
local-rule.preferred-lies, or drop, search and suspension. `covered: false` stands where the right answer is that it is not covered; `part`
may name a part of the file, and shares are told for each part. A phrasing passes where one of its answers is among the first three, or
where it is rightly told that it is not covered.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from marram.office.play.ask import ask_under_books
from tests.published.adapter import Unfit

LIST = "phrasings"
_FIRST = 3
_MEMBERS = {"id", "words", "answers", "covered", "part"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Phrasing:
    """A question as somebody puts it, and the entries any of which answers it."""

    name: str
    words: str
    answers: frozenset[str]
    is_covered: bool
    part: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """What a phrasing found: the first entries, none where it was told that it is not covered."""

    phrasing: Phrasing
    found: tuple[str, ...]
    is_covered: bool

    @property
    def is_first(self) -> bool:
        return self.is_covered and bool(self.found) and self.found[0] in self.phrasing.answers

    @property
    def is_right(self) -> bool:
        if not self.phrasing.is_covered:
            return not self.is_covered
        return self.is_covered and any(name in self.phrasing.answers for name in self.found[:_FIRST])


def read_phrasings(content: Mapping[str, object]) -> list[Phrasing]:
    """The phrasings of a file; none where it holds no such list.

    Raises:
        Unfit: One of them cannot be read.
    """
    entries = content.get(LIST) or []
    if not isinstance(entries, list):
        raise Unfit(f"{LIST}: expected a list")
    found = [_phrasing(entry) for entry in entries]
    if twice := sorted({phrasing.name for phrasing in found if [other.name for other in found].count(phrasing.name) > 1}):
        raise Unfit(f"{LIST}: two have the id {', '.join(twice)}")
    return found


def _phrasing(entry: object) -> Phrasing:
    if not isinstance(entry, dict) or not {"id", "words"} <= entry.keys() or not entry.keys() <= _MEMBERS:
        raise Unfit(f"{LIST}: expected id, words, answers, and where it is not covered `covered: false`; found {entry!r}")
    answers, is_covered = entry.get("answers") or [], entry.get("covered", True)
    if not isinstance(answers, list) or not isinstance(is_covered, bool) or bool(answers) is not is_covered:
        raise Unfit(f"{LIST}, {entry['id']}: expected a list of answers, or no answers and `covered: false`")
    return Phrasing(
        name=str(entry["id"]),
        words=str(entry["words"]),
        answers=frozenset(str(answer) for answer in answers),
        is_covered=is_covered,
        part=str(entry.get("part", "")),
    )


def try_out(phrasing: Phrasing) -> Tried:
    """Ask it."""
    leads = ask_under_books(phrasing.words)
    return Tried(phrasing=phrasing, found=tuple(lead.found.entry.id for lead in leads.found), is_covered=leads.answer.is_covered)


def told(tried: Sequence[Tried]) -> Iterator[str]:
    """A line for each phrasing, then the shares, by part where there are parts."""
    for one in tried:
        yield f"{'passed' if one.is_right else 'FAILED'}  {one.phrasing.name}" + ("" if one.is_right else f"\n        {_fault(one)}")
    parts = list(dict.fromkeys(one.phrasing.part for one in tried))
    for part in parts if len(parts) > 1 else []:
        yield from _shares([one for one in tried if one.phrasing.part == part], f"{part or 'no part'}: ")
    yield from _shares(tried, "")


def _fault(one: Tried) -> str:
    found = ", ".join(one.found[:_FIRST]) if one.is_covered else "not covered"
    expected = " or ".join(sorted(one.phrasing.answers)) if one.phrasing.is_covered else "not covered"
    return f"{one.phrasing.words!r}: expected {expected}; found {found}"


def _shares(tried: Sequence[Tried], part: str) -> Iterator[str]:
    covered, others = [one for one in tried if one.phrasing.is_covered], [one for one in tried if not one.phrasing.is_covered]
    yield f"{part}first: {_share([one.is_first for one in covered])}"
    yield f"{part}among the first three: {_share([one.is_right for one in covered])}"
    yield f"{part}not covered: {_share([one.is_right for one in others])}"


def _share(right: Sequence[bool]) -> str:
    return f"{sum(right)} of {len(right)}" + (f" ({100 * sum(right) / len(right):.1f} %)" if right else "")
