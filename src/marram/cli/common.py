"""Options that several commands share."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

import click

from marram.core.field_names import Field

if TYPE_CHECKING:
    from marram.core.citations import Citation

F = TypeVar("F", bound=Callable[..., object])

json_option = click.option("--json", "as_json", is_flag=True, help="Print one JSON object and nothing else.")
books_option = click.option(
    "--book",
    "books",
    multiple=True,
    metavar="BOOK",
    help="An edition, or an edition with overlays such as 2023+trial.toml; may be repeated.",
)


def edition_in_force() -> str:
    """The latest edition that is no draft: what a command takes where no book is named."""
    from marram.office.workroom import Workroom

    return Workroom().catalogue.latest


def one_book_option(*names: str, does: str, metavar: str = "BOOK") -> Callable[[F], F]:
    """The option of a command that takes one book, and without it the edition in force.

    Args:
        names: The option, and what the command calls it where that is another word.
        does: What the command does with it.
        metavar: How the help page names what is given.
    """
    return click.option(*names, default=edition_in_force, show_default="the edition in force", metavar=metavar, help=does)


def stated_facts(texts: Sequence[str], field: str = Field.FACT) -> list[tuple[str, bool]]:
    """Facts as they are typed, each true or false.

    Args:
        texts: What was typed.
        field: The field that they stand in.

    Raises:
        DataError: One is not NAME=true or NAME=false.
    """
    from marram.core.errors import DataError

    stated = []
    for text in texts:
        asked, _, value = (part.strip() for part in text.partition("="))
        if value.lower() not in {"true", "false"}:
            raise DataError(f"{text!r} states no fact.", field=field, hint="Give NAME=true or NAME=false; leave out what is not known.")
        stated.append((asked, value.lower() == "true"))
    return stated


sources_option = click.option("--sources", "all_sources", is_flag=True, help="Tell where each rule was seen.")


def rules_line(citations: tuple[Citation, ...]) -> str:
    """The rules behind a line, each once; what was not seen is marked."""
    from marram.core.citations import rules_words

    return f"[{rules_words(citations)}]"


def rules_once_line(citations: tuple[Citation, ...]) -> str:
    """The rules behind a line of scores or handicaps, each number once; empty where there are none."""
    from marram.core.citations import rules_once

    return f"[{rules_once(citations)}]" if citations else ""


def write_whole(path: Path, content: str | bytes) -> None:
    """Write a file so that it is there whole or not at all, and takes no other's place by mistake."""
    from marram.cli.writing import refuse_by_mistake
    from marram.office.whole_file import write_whole as write

    refuse_by_mistake(path, content)
    write(path, content)


def write_set(folder: Path, files: Mapping[str, str | bytes]) -> None:
    """Write files that belong together, all or none, and none in another's place by mistake."""
    from marram.cli.writing import refuse_by_mistake
    from marram.office.whole_file import write_set as write

    for name, content in files.items():
        refuse_by_mistake(folder / name, content)
    write(folder, files)


DRAWING_FORMS = ("svg", "pdf", "png")


def is_for_paper(path: Path | None) -> bool:
    """Whether a drawing goes to a file that is printed: those are drawn in black and white, at a stated scale."""
    return path is not None and path.suffix.lower() in {".pdf", ".png"}


def write_drawing(path: Path, svg: str) -> None:
    """Write a drawing as SVG, PDF or PNG, by the file's ending.

    Raises:
        DataError: The ending is another, or the file cannot be written.
    """
    from marram.office.drawing_file import drawing_file

    write_whole(path, drawing_file(svg, path.suffix.lower().removeprefix("."), where=path.name))


def write_drawings(path: Path, sheets: Sequence[str]) -> list[Path]:
    """Write a drawing on several sheets: one PDF of all, else a file for each, the second named with -2 and so on.

    Raises:
        DataError: The ending is no drawing's, or a file cannot be written.
    """
    from marram.office.drawing_file import drawing_files

    files = drawing_files(sheets, path.suffix.lower().removeprefix("."), where=path.name)
    paths = [path, *(path.with_name(f"{path.stem}-{number}{path.suffix}") for number in range(2, len(files) + 1))]
    for each, held in zip(paths, files, strict=True):
        write_whole(each, held)
    return paths


def folder_at(path: Path) -> Path:
    """A folder to write to, made if it is not there."""
    from marram.office.whole_file import folder_at as folder

    return folder(path)
