"""What the options of several books say on paper: of each further book only what the book that the map draws does not say as well."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from marram.core.citations import rules_once
from marram.rulebook.book import Book
from marram.rulings.case.ruling import Option, Ruling
from marram.sheets.drawn.option_places import LETTERS
from marram.sheets.drawn.relief_shapes import is_drawn_alike
from marram.sheets.drawn.ruling_caption import option_words

Pair = tuple[Book, Ruling]


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """A sentence about one option, or about several that another book tells.

    Attributes:
        letters: Their letters.
        words: The sentence, without its letters.
        rules: The rules, for the margin; empty where the sentence names them.
        under: What the title of the option begins with, where that stands over several; else empty.
    """

    letters: tuple[str, ...]
    words: str
    rules: str = ""
    under: str = ""

    @property
    def line(self) -> str:
        """The sentence behind its letters."""
        return f"{', '.join(self.letters)}\u2003{self.words}"


def said_of_options(pair: Pair, told: Pair | None) -> list[Said]:
    """What a book says of its options.

    Args:
        pair: The book with its ruling.
        told: The book whose options are told in full above; None where this is that book.

    Returns:
        A sentence for each option in the order of their letters; those that are as above by rules of the same numbers have one together.
    """
    known = {} if told is None else dict(zip(LETTERS, told[1].options, strict=False))
    groups: dict[str, Said] = {}
    for full, option in zip(_in_full(pair[1]), pair[1].options, strict=False):
        same = known.get(full.letters[0])
        said = full if told is None or same is None else _as_above(full, option, same, told[0])
        group = groups.get(said.words)
        groups[said.words if not said.rules else said.letters[0]] = (
            said if group is None else replace(group, letters=(*group.letters, *said.letters))
        )
    return list(_under_heads([*groups.values()], pair[1]))


def _under_heads(said: Sequence[Said], ruling: Ruling) -> Iterator[Said]:
    """Sentences in full, those that follow each other and begin alike without what they begin with."""
    starts = {letter: option.title.rpartition(": ")[0] for letter, option in zip(LETTERS, ruling.options, strict=False)}
    for start, group in groupby(said, lambda each: starts[each.letters[0]] if each.rules else ""):
        alike = list(group)
        is_head = bool(start) and len(alike) > 1 and all(each.words.startswith(f"{start}: ") for each in alike)
        yield from (replace(each, under=start, words=each.words.removeprefix(f"{start}: ")) for each in alike) if is_head else alike


def _in_full(ruling: Ruling) -> Iterator[Said]:
    for (_, words), option in zip([*option_words(ruling)][::2], ruling.options, strict=False):
        letter, _, sentence = words.partition("\u2003")
        yield Said(letters=(letter,), words=sentence, rules=rules_once(option.citations))


def _as_above(full: Said, option: Option, same: Option, book: Book) -> Said:
    """That an option is as above, by the same rules and perhaps more; else in full."""
    above, own = ({citation.words for citation in each.citations} for each in (same, option))
    if not above <= own or not is_alike(option, same):
        return full
    steps = "as under {}," if option.steps == same.steps else "penalty and ground as under {}, other steps,"
    more = rules_once(citation for citation in option.citations if citation.words not in above)
    words = f"{steps.format(book.short_title)} same rule numbers{' and ' if more else ''}{more}."
    return Said(letters=full.letters, words=words[:1].upper() + words[1:])


def is_alike(option: Option, other: Option) -> bool:
    """Whether two books give the same option, rules and steps aside: title, penalty, ball, points, size, line ground of its area."""
    outline = None if option.relief_area is None else option.relief_area.outline()
    if (outline is None) != (other.relief_area is None):
        return False
    if outline is not None and not outline.is_empty and not is_drawn_alike(outline, other):
        return False
    return _without_rules(option) == _without_rules(other)


def _without_rules(option: Option) -> Option:
    return replace(option, citations=(), rows=(), carried_out_as="", steps=(), relief_area=None)
