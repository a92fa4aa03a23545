"""What differs between two books, told in sentences that an official can read out, under headings of the game."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from marram.core.citations import rules_words
from marram.rulebook.book import Book, know_each_other
from marram.rulebook.catalogue import Row
from marram.rulebook.consequences import Cases
from marram.rulebook.differences.compare import Difference, cases_apart_in, compare_books, stated_for_one
from marram.rulebook.differences.difference_words import CasesApart, cases_apart, is_yes_no, not_seen, says
from marram.rulebook.values import Value, cases_of

_SEVERAL = "Relief in several situations"
_GROUPS = {
    "The course and its areas": ("areas",),
    "Measuring and sizes": ("measuring",),
    "Searching for a ball": ("search", "moved_in_search"),
    "Dropping a ball": ("dropping",),
    _SEVERAL: (),
    "Ball in a penalty area": ("penalty_areas", "penalty_areas_again"),
    "Unplayable ball": ("unplayable", "unplayable_in_bunkers"),
    "Bunkers and water: acts": ("acts_in_sand_and_water",),
    "Lost ball and out of bounds": ("lost_and_out_of_bounds", "lost_by_local_rule"),
    "Obstructions": ("obstructions_and_ground",),
    "Abnormal ground": ("ground_conditions",),
    "Embedded balls, loose and movable things": ("embedded_and_movable",),
    "No play zones, wrong greens and dangerous animals": ("zones_greens_and_animals",),
    "Things met on the course": ("objects", "moving_objects"),
    "Which relief is open": ("situations",),
    "Replacing a ball": ("replacing",),
    "Local rules": ("local_rules",),
    "The flagstick": (),
    "Acts on the putting green": ("acts_on_the_green", "acts_at_the_hole"),
    "Acts at the stroke": ("acts_at_the_stroke", "acts_of_stroke_and_tee"),
    "Touching, moving and deflecting the ball": ("acts_touching_the_ball", "acts_of_lifting_and_ground"),
    "Help and equipment in play": (
        "acts_of_help_and_equipment",
        "acts_with_clubs",
        "acts_with_aids_and_balls",
        "acts_of_asking_and_caddies",
        "acts_of_showing_and_measuring",
    ),
    "Equipment": ("equipment",),
    "Conduct": ("acts_of_conduct", "acts_of_claims_and_pace", "conduct", "breaches_together"),
    "Before, between and after holes": ("acts_round_the_round", "acts_of_start_and_stop"),
    "The card": (),
    "Suspension of play": ("suspension",),
    "Forms of play": ("forms_of_play",),
}
"""Headings in the order in which they are told, with the files of rule data that stand under each."""
_BY_NAME = {
    "act.flagstick": "The flagstick",
    "act.score": "The card",
    "act.card": "The card",
    "act.handicap": "The card",
    "card-": "The card",
}
"""Headings of rows that stand in a file of another heading, by how their names begin."""
_KINDS = {"relief": "procedures", "form": "forms of play", "thing": "things", "moving": "kinds of thing", "situation": "situations"}
_OF_RELIEF = ("by_local_rule", "mandatory", "penalty_strokes", "reference", "size", "cases")
"""What is told of a relief procedure that is new or gone; the rest follows from the procedure and stands under its key."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldDifference:
    """One difference, in words.

    Attributes:
        keys: The keys that it tells, in the order of the rule data.
        group: The heading under which it stands.
        about: What it is about.
        what: Which part of it differs; empty where all of it does.
        first: What the first book says.
        second: What the second book says.
        first_rules: The rules of the first book, with a mark on what was not seen in print.
        second_rules: The same of the second.
        sentence: All of it in one sentence.
        rests_on: What either side rests on that was not seen in print: *from memory*, *inferred*; each once.
    """

    keys: tuple[str, ...]
    group: str
    about: str
    what: str
    first: str
    second: str
    first_rules: str
    second_rules: str
    sentence: str
    rests_on: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """A heading with what differs under it."""

    title: str
    told: tuple[ToldDifference, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldComparison:
    """All that differs between two books.

    Attributes:
        books: Names of the two books.
        stamps: Their stamps.
        titles: Their documents.
        groups: The headings, each with its differences.
        stated_for_one: How many values one of the books states for which no source was found in the other.
    """

    books: tuple[str, str]
    stamps: tuple[str, str]
    titles: tuple[str, str]
    groups: tuple[Group, ...]
    stated_for_one: int

    @property
    def told(self) -> tuple[ToldDifference, ...]:
        """Every difference, in order."""
        return tuple(entry for group in self.groups for entry in group.told)

    @property
    def count_words(self) -> str:
        """How many there are, and how many rest on memory or inference, in a sentence."""
        told = self.told
        parts = [f"{len(told)} difference{'s' * (len(told) != 1)}"]
        for kind in dict.fromkeys(kind for entry in told for kind in entry.rests_on):
            parts.append(f"{sum(kind in entry.rests_on for entry in told)} with a side {_side_kind(kind)}")
        one = self.stated_for_one
        silent = f" Not compared: {one} value{'s' * (one != 1)} for which no source was found in one of the books." if one else ""
        return "; ".join(parts) + f".{silent}"


def _side_kind(kind: str) -> str:
    return f"of {kind}" if kind.startswith("common") else kind


def tell_differences(books: tuple[Book, Book]) -> ToldComparison:
    """Tell every difference between two books, each key in exactly one sentence.

    Args:
        books: The first book and the second.
    """
    first, second = know_each_other(books)
    books = (first, second)
    told = _Teller(books).tell(compare_books(*books))
    titles = dict.fromkeys([*_GROUPS, *(entry.group for entry in told)])
    groups = (Group(title=title, told=tuple(entry for entry in told if entry.group == title)) for title in titles)
    return ToldComparison(
        books=(books[0].name, books[1].name),
        stamps=(books[0].stamp, books[1].stamp),
        titles=(books[0].title, books[1].title),
        groups=tuple(group for group in groups if group.told),
        stated_for_one=len(stated_for_one(*books)),
    )


def group_titles() -> tuple[str, ...]:
    """The headings of the game, in the order in which they are told."""
    return tuple(_GROUPS)


def group_of(row: Row) -> str:
    """The heading under which a row is told."""
    for start, title in _BY_NAME.items():
        if row.id.startswith(start):
            return title
    return next((title for title, files in _GROUPS.items() if row.situation in files), row.situation.replace("_", " ").capitalize())


class _Teller:
    """Tells the differences of two books."""

    def __init__(self, books: tuple[Book, Book]) -> None:
        self.books = books
        self.catalogue = books[0].catalogue

    def tell(self, found: Sequence[Difference]) -> list[ToldDifference]:
        """Rows that are new or gone first fold into one; then what only one book states; then equal changes of one family."""
        bundles: dict[tuple[object, ...], list[Difference]] = {}
        for entry in found:
            bundles.setdefault(self._bundle(entry), []).append(entry)
        return [self._told(key, entries) for key, entries in bundles.items()]

    def _bundle(self, entry: Difference) -> tuple[object, ...]:
        row, spec = self.catalogue.find_key(entry.key)
        given = [self._is_given(book, row) for book in self.books]
        if given[0] != given[1] and (row.added or not self._changed(entry.key)):
            return ("row", row.id)
        for side, other in ((entry.first, 0), (entry.second, 1)):
            if side.value is None:
                return ("one-sided", row.id, other, side.why_none)
        family = row.id.partition(".")[0]
        if family not in _KINDS or "." not in row.id:
            return ("key", entry.key)
        return ("family", family, spec.name, repr(entry.first.value), repr(entry.second.value), *self._because([entry]))

    def _changed(self, key: str) -> bool:
        return any(key in book.changed for book in self.books)

    @staticmethod
    def _is_given(book: Book, row: Row) -> bool:
        key = f"{row.id}.allowed"
        is_refused = row.id.startswith("relief.") and "allowed" in row.parts and book.has(key) and not book.yes(key).value
        return book.has_row(row.id) and not is_refused

    def _told(self, bundle: tuple[object, ...], entries: list[Difference]) -> ToldDifference:
        match bundle[0]:
            case "row":
                return self._row(entries)
            case "one-sided":
                return self._one_sided(entries)
            case _:
                return self._changed_value(entries)

    def _row(self, entries: list[Difference]) -> ToldDifference:
        """A row that one book gives and the other does not."""
        row = self.catalogue.find_key(entries[0].key)[0]
        has = 0 if self._is_given(self.books[0], row) else 1
        lacks = 1 - has
        reason = self._why_not(self.books[lacks], row)
        clause = self._clause(entries, has)
        status = "new in" if has else "no longer there in"
        rules = [self._rules(entries, side) for side in (0, 1)]
        lead = f"{status} {self.books[1].name}" + (f" ({rules[has]})" if rules[has] and has else "")
        without = f"{self.books[lacks].name}: {reason}" + (f" ({rules[lacks]})" if rules[lacks] else "")
        said = [lead, f": {clause}" if has else f": {self.books[0].name} says {clause} ({rules[0]})", f"; {without}"]
        texts = (reason, clause) if has else (clause, reason)
        return self._made(entries, about=_about(row), what="", texts=texts, rest="".join(said))

    def _why_not(self, book: Book, row: Row) -> str:
        key = f"{row.id}.why_not"
        said = book.why_absent(row.id) or (book.word(key).value if "why_not" in row.parts and book.has(key) else "") or "it is not given"
        return said[:1].lower() + said[1:].rstrip(".")

    def _clause(self, entries: Iterable[Difference], side: int) -> str:
        """What a book says in some parts, those first that an official asks for; what is as usual is left out."""
        told = []
        for entry in entries:
            row, spec = self.catalogue.find_key(entry.key)
            value = (entry.first, entry.second)[side].value
            if value is None or value in (spec.default, "none", "any") or (row.id.startswith("relief.") and spec.name not in _OF_RELIEF):
                continue
            told.append(self._part(entry, side))
        return "; ".join(told) or "as its procedure says"

    def _one_sided(self, entries: list[Difference]) -> ToldDifference:
        """Parts of a row that only one book states."""
        row = self.catalogue.find_key(entries[0].key)[0]
        has = 1 if entries[0].first.value is None else 0
        reason = (entries[0].second if has == 0 else entries[0].first).why_none
        clause = "; ".join(self._part(entry, has) for entry in entries)
        rules = [f" ({told})" if (told := self._rules(entries, side)) else "" for side in (0, 1)]
        texts = (reason, clause) if has else (clause, reason)
        lacks = 1 - has
        rest = f"{self.books[has].name} says {clause}{rules[has]}; {self.books[lacks].name}: {reason}{rules[lacks]}"
        return self._made(entries, about=_about(row), what="", texts=texts, rest=rest)

    def _part(self, entry: Difference, side: int) -> str:
        row, spec = self.catalogue.find_key(entry.key)
        value = (entry.first, entry.second)[side].value
        if value is None or isinstance(value, bool):
            return _means(spec.means) if value else f"it is not so that {_means(spec.means)}"
        words = says(self.books[side], row.id.partition(".")[0], spec, value)
        return (
            words if spec.name == "penalty_strokes" else f"{_means(spec.means)}: {words}" if not self._is_only_cases(row, value) else words
        )

    @staticmethod
    def _is_only_cases(row: Row, value: Value) -> bool:
        """Whether a value is what the act of the row leads to, which needs no other name."""
        return row.id.startswith("act.") and bool(cases_of(value))

    def _changed_value(self, entries: list[Difference]) -> ToldDifference:
        """A value that differs, in one row or in several of a family that changed alike."""
        entry = entries[0]
        row, spec = self.catalogue.find_key(entry.key)
        cases = [cases_of(value) if value is not None else () for value in (entry.first.value, entry.second.value)]
        apart = self._cases_apart(entry.key, (cases[0], cases[1])) if all(cases) else None
        first, second = self._texts(entry) if apart is None else (apart.first, apart.second)
        about = _about(row)
        if len(entries) > 1:
            family = row.id.partition(".")[0]
            names = [name.key.split(".")[1].replace("-", " ") for name in entries]
            about = f"In {len(entries)} {_KINDS[family]}: {', '.join(names)}"
        rules = [f" ({told})" if (told := self._rules(entries, side)) else "" for side in (0, 1)]
        what = "" if apart is not None or spec.name == "penalty_strokes" else _means(spec.means)
        if apart is not None:
            rest = apart.told + self._both_rules(entries)
        elif is_yes_no(spec):
            names_ = [book.name for book in self.books]
            link = "but not" if entry.first.value else "but"
            lead = "in" if entry.first.value else "not in"
            rest = f"{what}: {lead} {names_[0]}{rules[0]}, {link} in {names_[1]}{rules[1]}"
        else:
            rest = (f"{what}: " if what else "") + f"{first}{rules[0]} becomes {second}{rules[1]}"
        return self._made(entries, about=about, what=what, texts=(first, second), rest=rest)

    def _cases_apart(self, key: str, cases: tuple[Cases, Cases]) -> CasesApart:
        names = (self.books[0].name, self.books[1].name)
        return cases_apart(*cases, names, cases_apart_in(*self.books, key, cases))

    def _both_rules(self, entries: list[Difference]) -> str:
        told = [f"{book.name}: {rules}" for side, book in enumerate(self.books) if (rules := self._rules(entries, side))]
        return f" ({'; '.join(told)})" if told else ""

    def _texts(self, entry: Difference) -> tuple[str, str]:
        row, spec = self.catalogue.find_key(entry.key)
        values = entry.first.value, entry.second.value
        family = row.id.partition(".")[0]
        told = ["" if value is None else says(book, family, spec, value) for book, value in zip(self.books, values, strict=True)]
        return told[0], told[1]

    def _rules(self, entries: Iterable[Difference], side: int) -> str:
        sides = ((entry.first, entry.second)[side] for entry in entries)
        return rules_words(tuple(dict.fromkeys(citation for told in sides for citation in told.citations)))

    def _because(self, entries: Iterable[Difference]) -> tuple[str, ...]:
        """Why an overlay of the second book, or else of the first, changes what is told."""
        changes = (book.changed[entry.key][1] for entry in entries for book in reversed(self.books) if entry.key in book.changed)
        return tuple(dict.fromkeys(change.because.rstrip(".") for change in changes))

    def _made(self, entries: list[Difference], *, about: str, what: str, texts: tuple[str, str], rest: str) -> ToldDifference:
        groups = dict.fromkeys(group_of(self.catalogue.find_key(entry.key)[0]) for entry in entries)
        because = "".join(f"; because: {why[:1].lower()}{why[1:]}" for why in self._because(entries))
        kinds = (not_seen(side) for entry in entries for side in (entry.first, entry.second))
        return ToldDifference(
            keys=tuple(entry.key for entry in entries),
            group=next(iter(groups)) if len(groups) == 1 else _SEVERAL,
            about=about,
            what=what,
            first=texts[0],
            second=texts[1] + because,
            first_rules=self._rules(entries, 0),
            second_rules=self._rules(entries, 1),
            sentence=f"{about} — {rest}{because}.",
            rests_on=tuple(dict.fromkeys(kind for kind in kinds if kind)),
        )


def _about(row: Row) -> str:
    """What a row is about: the first sentence that says what it means."""
    return row.means.partition(". ")[0].rstrip(".")


def _means(words: str) -> str:
    return words.partition(";")[0].rstrip(".")


def sentences_of(told: ToldComparison) -> dict[str, ToldDifference]:
    """The difference that tells each key."""
    return {key: entry for entry in told.told for key in entry.keys}
