"""Options that several commands share."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

import click

from marram.core.field_names import Field

if TYPE_CHECKING:
    from marram.core.citations import Citation
    from marram.rulebook.facts import Facts

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


def stated_facts(texts: tuple[str, ...], facts: Facts, read_by: Sequence[Sequence[str]], field: str = Field.FACT) -> dict[str, bool]:
    """Facts as they are given on the command line.

    Args:
        texts: What was typed.
        facts: The catalogue of facts.
        read_by: The facts that each book asked reads of what is asked about.
        field: The field that they stand in.

    Raises:
        DataError: One is not NAME=true or NAME=false, is no fact, is stated both ways, or cannot be true together with another.
    """
    from marram.core.errors import DataError
    from marram.rulebook.facts import known_fact, refuse_contradiction

    stated: dict[str, bool] = {}
    read = tuple(dict.fromkeys(name for names in read_by for name in names))
    for text in texts:
        asked, _, value = (part.strip() for part in text.partition("="))
        if value.lower() not in {"true", "false"}:
            raise DataError(f"{text!r} states no fact.", field=field, hint="Give NAME=true or NAME=false; leave out what is not known.")
        name, is_true = known_fact(asked, facts, field=field, read=read), value.lower() == "true"
        if stated.setdefault(name, is_true) is not is_true:
            raise DataError(f"{name} is stated true and false.", field=field, hint=f"State it once. {facts[name].question}")
    refuse_contradiction(stated, facts, field=field)
    return stated


sources_option = click.option("--sources", "all_sources", is_flag=True, help="Tell where each rule was seen.")


def rules_line(citations: tuple[Citation, ...]) -> str:
    """The rules behind a line, each once; what was not seen is marked."""
    from marram.core.citations import rules_words

    return f"[{rules_words(citations)}]"


def write_whole(path: Path, content: str | bytes) -> None:
    """Write a file so that it is there whole or not at all."""
    from marram.core.errors import DataError

    beside = path.with_name(f".{path.name}.part")
    try:
        beside.write_bytes(content.encode() if isinstance(content, str) else content)
        beside.replace(path)
    except OSError as problem:
        beside.unlink(missing_ok=True)
        raise DataError(f"The file cannot be written: {problem.strerror}.", where=path.name) from None


PIXELS_PER_INCH = 200.0
DRAWING_FORMS = ("svg", "pdf", "png")


def is_for_paper(path: Path | None) -> bool:
    """Whether a drawing goes to a file that is printed: those are drawn in black and white, at a stated scale."""
    return path is not None and path.suffix.lower() in {".pdf", ".png"}


def write_drawing(path: Path, svg: str) -> None:
    """Write a drawing as SVG, PDF or PNG, by the file's ending.

    Raises:
        DataError: The ending is another, or the file cannot be written.
    """
    from marram.core.errors import DataError
    from marram.sheets.scene.pdf import drawing_pdf, drawing_png, title_and_words

    ending = path.suffix.lower()
    if ending == ".svg":
        write_whole(path, svg)
    elif ending == ".pdf":
        title, words = title_and_words(svg)
        write_whole(path, drawing_pdf(svg, title=title, alt=words))
    elif ending == ".png":
        write_whole(path, drawing_png(svg, pixels_per_inch=PIXELS_PER_INCH))
    else:
        raise DataError(
            f"A drawing cannot be written as {ending or 'a file without an ending'}.", where=path.name, hint="End it in .svg, .pdf or .png."
        )


def folder_at(path: Path) -> Path:
    """A folder to write to, made if it is not there."""
    from marram.core.errors import DataError

    try:
        path.mkdir(parents=True, exist_ok=True)
    except OSError as problem:
        raise DataError(f"The folder cannot be made: {problem.strerror}.", where=path.name) from None
    return path
