"""What one change of a trial or a local rule is from and to, as an official reads it out."""

from __future__ import annotations

from dataclasses import dataclass

from marram.rulebook.book import Book
from marram.rulebook.differences.difference_words import cases_apart, says
from marram.rulebook.overlays.overlay import Change
from marram.rulebook.values import Absent, Value, cases_of


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
        new = "; ".join(_lead(row.means) for row in change.adds.rows)
        return ToldChange(about="Relief that the book does not have", before="no such relief", now=new)
    row, spec = base.catalogue.find_key(change.key)
    cases = cases_of(change.was), cases_of(change.now)
    if all(cases):
        apart = cases_apart(*cases, (base.name, "the change"))
        return ToldChange(about=_lead(row.means), before=apart.first, now=apart.second)

    def said(value: Value) -> str:
        return "nothing" if isinstance(value, Absent) else says(base, row.id.partition(".")[0], spec, value)

    return ToldChange(about=_lead(row.means), before=said(change.was), now=said(change.now))


def _lead(means: str) -> str:
    """The first sentence of what a row means."""
    return means.partition(". ")[0].rstrip(".")
