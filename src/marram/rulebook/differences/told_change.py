"""What one change of a trial or a local rule is from and to, as an official reads it out."""

from __future__ import annotations

from dataclasses import dataclass

from marram.rulebook.book import Book
from marram.rulebook.differences.difference_words import cases_apart, says
from marram.rulebook.overlays.overlay import Change
from marram.rulebook.values import Absent, PartSpec, SizeOf, Value, cases_of


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldChange:
    """One change, in words.

    Attributes:
        about: What it is about, such as *Time allowed for looking for a ball before it is lost*.
        before: What the rule said, without a capital and a full stop.
        now: What it says under the change.
    """

    about: str
    before: str
    now: str

    @property
    def sentence(self) -> str:
        """All of it in one sentence."""
        return f"{self.about}: {self.now} instead of {self.before}."


def tell_change(base: Book, change: Change) -> ToldChange:
    """Tell a change of a book.

    Args:
        base: The book without the change.
        change: The change.

    Raises:
        RuleDataError: The book's catalogue does not know the key.
    """
    if change.adds.rows:
        new = "; ".join(first_sentence(row.means) for row in change.adds.rows)
        return ToldChange(about="Relief that the book does not have", before="no such relief", now=new)
    row, spec = base.catalogue.find_key(change.key)
    about, cases = first_sentence(row.means), (cases_of(change.was), cases_of(change.now))
    if all(cases):
        apart = cases_apart(*cases, (base.name, "the change"))
        return ToldChange(about=about, before=apart.first, now=apart.second)
    before, now = (said_of(base, row.id, spec, value) for value in (change.was, change.now))
    return ToldChange(about=about, before=before, now=now)


def said_of(base: Book, row_id: str, spec: PartSpec, value: Value) -> str:
    """What a value of a change says; a size that follows another is told by what that one is.

    Args:
        base: The book without the change.
        row_id: Name of the row.
        spec: The part.
        value: The value.
    """
    if isinstance(value, Absent):
        return "nothing"
    if isinstance(value, SizeOf):
        means = first_sentence(base.catalogue.find_key(value.key)[0].means)
        return f"the same as {means[:1].lower()}{means[1:]}"
    return says(base, row_id.partition(".")[0], spec, value)


def first_sentence(means: str) -> str:
    """The first sentence of what a row means, without its full stop."""
    return means.partition(". ")[0].rstrip(".")
