"""What a page posts: the fields of its form, and the files that were chosen or dropped."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from marram.core.errors import DataError
from marram.desk.pages.case_address import ORDER, Address, address_of


@dataclass(frozen=True, slots=True, kw_only=True)
class PostedFile:
    """A file that was chosen or dropped.

    Attributes:
        field: The field of the form.
        name: What the file calls itself; foreign text, and never a place to write to.
        data: Its bytes.
    """

    field: str
    name: str
    data: bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class Posted:
    """A posted form.

    Attributes:
        fields: Name and value of each field, in the order of the form; empty ones too.
        files: Its files.
    """

    fields: tuple[tuple[str, str], ...] = ()
    files: tuple[PostedFile, ...] = ()

    def first(self, name: str) -> str:
        """The value of a field; empty where the form has none."""
        return next((value for field, value in self.fields if field == name), "")

    def all(self, name: str) -> tuple[str, ...]:
        """Every value of a field."""
        return tuple(value for field, value in self.fields if field == name)

    def file(self, field: str) -> PostedFile:
        """The file of a field.

        Raises:
            DataError: None was chosen.
        """
        found = next((file for file in self.files if file.field == field and file.name), None)
        if found is None:
            raise DataError("No file was chosen.", where=field, hint="Choose a file, or drop one on the field.")
        return found

    def address(self, *, known: Collection[str] = ORDER) -> Address:
        """What the form states of the case, as an address has it; the fields that are the form's own are left out.

        Args:
            known: Names that an address of the page may hold.

        Raises:
            DataError: What is stated once stands twice.
        """
        return address_of([(name, value) for name, value in self.fields if name in known], known)
