"""One ball with the rulings of its books: which of them a drawing is about, and how the others are drawn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marram.core.terms import Mark
from marram.course.course import Course
from marram.course.frame import Position
from marram.rulebook.book import Book
from marram.rulings.case.incident import Incident
from marram.rulings.case.ruling import Option, Ruling
from marram.sheets.scene.scene import Role, SpotKind

Given = Sequence[tuple[Book, Ruling]]
_MOST_LAID_OVER = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class RuledPlace:
    """One incident with its rulings.

    Attributes:
        incident: What happened.
        course: The course with the day's conditions.
        hole: Where the hole is.
        given: Books with their rulings, in the order asked.
        about: Name of the option that the drawing is about, as ``Option.name``; empty where nobody chose one.
    """

    incident: Incident
    course: Course
    hole: Position
    given: Given
    about: str = ""

    @property
    def force(self) -> tuple[Book, Ruling]:
        """The book that the drawing is about."""
        return in_force(self.given)

    @property
    def chosen(self) -> Option | None:
        """The option that somebody chose, as the book in force gives it; None where it gives none of that name."""
        return chosen_option(self.force[1], self.about)

    @property
    def others(self) -> Given:
        """The other books: laid over it, or where there are many beside each other."""
        force = self.force
        return [pair for pair in self.given if pair is not force]

    @property
    def in_order(self) -> Given:
        """The books as paper tells them: laid over each other the one that the map draws first, else as asked."""
        return [self.force, *self.others] if self.is_laid_over else self.given

    @property
    def is_laid_over(self) -> bool:
        """Whether all books are drawn in one map."""
        return len(self.given) <= _MOST_LAID_OVER

    @property
    def title(self) -> str:
        """What the drawing is called."""
        return f"{self.course.name}, hole {self.incident.hole}"

    @property
    def area_names(self) -> dict[Mark, str]:
        """What the book in force calls penalty areas."""
        book, _ = self.force
        return {mark: book.word(f"terms.penalty_area_{mark.value}").value for mark in Mark}

    @property
    def edge_names(self) -> dict[str, str]:
        """The same by the name of each mark."""
        return {mark.value: name for mark, name in self.area_names.items()}

    @property
    def edges(self) -> dict[Role | SpotKind, str]:
        """Which book each style of edge stands for, where there are several in one map."""
        if not self.others or not self.is_laid_over:
            return {}
        styles = zip((Role.OTHER_BOOK, Role.THIRD_BOOK), self.others, strict=False)
        return {Role.RELIEF: self.force[0].short_title, **{role: book.short_title for role, (book, _) in styles}}


def chosen_option(ruling: Ruling, about: str) -> Option | None:
    """The option of a name; None where a ruling gives none.

    Args:
        ruling: The ruling.
        about: The name; empty for none.
    """
    return next((option for option in ruling.options if option.name == about), None)


def in_force(given: Given) -> tuple[Book, Ruling]:
    """The book that a drawing is about: the latest published edition with nothing laid over it, else the first book."""
    published = [pair for pair in given if pair[0].is_in_force]
    return max(published, key=lambda pair: [*pair[0].catalogue.editions].index(pair[0].edition)) if published else given[0]
