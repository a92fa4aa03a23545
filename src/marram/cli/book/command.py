"""`marram book`: the rules as data."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from marram.answers.books.book_answer import (
    audit_object,
    audit_text,
    list_object,
    list_text,
    local_rules_text,
    show_object,
    show_text,
)
from marram.cli.common import json_option, one_book_option, write_whole
from marram.core.errors import DataError
from marram.core.json_text import dump
from marram.interchange.books.book_files import local_rules, read_book, read_books
from marram.rulebook.audit import audit_catalogue
from marram.rulebook.reading.files import packaged_catalogue

if TYPE_CHECKING:
    from marram.rulebook.differences.differences import ToldComparison


@click.group()
def book() -> None:
    """List, show, compare and audit the rules as data."""


@book.command("list")
@click.option("--local-rules", "only_local_rules", is_flag=True, help="Only the local rules that come with Marram.")
@json_option
def list_(only_local_rules: bool, as_json: bool) -> None:
    """List every edition, every local rule that comes with Marram, and every key."""
    catalogue, overlays = packaged_catalogue(), local_rules()
    if as_json:
        click.echo(dump(list_object(catalogue, overlays)))
    else:
        click.echo(local_rules_text(overlays) if only_local_rules else list_text(catalogue, overlays))


@book.command()
@click.argument("key")
@click.option("--book", "books", multiple=True, metavar="BOOK", help="Show it in these books; every edition if none.")
@json_option
def show(key: str, books: tuple[str, ...], as_json: bool) -> None:
    """Show what each book says under KEY, and where that was seen."""
    from marram.answers.books.facts_answer import fact_of_key, question_object, question_text

    opened = read_books(books or packaged_catalogue().editions)
    if fact := fact_of_key(opened[0].catalogue, key):
        click.echo(dump(question_object(key, fact, opened)) if as_json else question_text(key, fact, opened))
    else:
        click.echo(dump(show_object(key, opened)) if as_json else show_text(key, opened))


@book.command()
@one_book_option("--book", "name", does="The book in whose terms the questions are asked.")
@json_option
def facts(name: str, as_json: bool) -> None:
    """List every fact that an answer may turn on, with the question that settles it."""
    from marram.answers.books.facts_answer import facts_object, facts_text

    opened = read_book(name)
    click.echo(dump(facts_object(opened)) if as_json else facts_text(opened))


@book.command()
@json_option
def sources(as_json: bool) -> None:
    """List every source that a value was seen in: title, kind, year, and the editions of which it speaks."""
    from marram.answers.books.book_answer import sources_object, sources_text

    found = packaged_catalogue().sources
    click.echo(dump(sources_object(found)) if as_json else sources_text(found))


@book.command()
@click.argument("first")
@click.argument("second")
@click.option("--form", type=click.Choice(["text", "md", "html", "pdf"]), default="text", show_default=True, help="How it is told.")
@click.option("-o", "--out", type=click.Path(path_type=Path), metavar="FILE", help="Write to this file; a PDF needs one.")
@json_option
def compare(first: str, second: str, form: str, out: Path | None, as_json: bool) -> None:
    """Tell every difference between two books, in sentences under headings of the game."""
    from marram.answers.books.compare_answer import compare_object
    from marram.rulebook.differences.differences import tell_differences

    if form == "pdf" and out is None and not as_json:
        raise DataError("A PDF is not printed on the screen.", where="--form pdf", hint="Give a file with -o FILE.")
    books = (read_book(first), read_book(second))
    told = tell_differences(books)
    content = dump(compare_object(books, told)) if as_json else _compared(told, form)
    if out is None:
        click.echo(content, nl=form == "text" or as_json)
        return
    write_whole(out, content + "\n" if isinstance(content, str) and not content.endswith("\n") else content)
    click.echo(f"Written: {out}", err=True)


def _compared(told: ToldComparison, form: str) -> str | bytes:
    from marram.answers.books.compare_answer import compare_page, compare_text
    from marram.sheets.pages.difference_sheet import differences_html, set_differences

    match form:
        case "md":
            return compare_page(told)
        case "html":
            return differences_html(told)
        case "pdf":
            return set_differences(told)
        case _:
            return compare_text(told)


@book.command()
@json_option
def audit(as_json: bool) -> None:
    """Count what is seen, from memory and open, edition by edition."""
    found = audit_catalogue(packaged_catalogue())
    click.echo(dump(audit_object(found)) if as_json else audit_text(found))


@book.command()
@one_book_option("--book", "name", does="The book whose values stand on the sheet.")
@click.option("-o", "--out", type=click.Path(path_type=Path, dir_okay=False), required=True, help="The workbook to write, ending in .xlsx.")
def export(name: str, out: Path) -> None:
    """Write the rules as a workbook: a row for each key, its present value and rule, and an empty column for what it is to be."""
    from marram.core.errors import DataError
    from marram.interchange.books.rule_sheet import write_rule_sheet

    if out.suffix.lower() != ".xlsx":
        raise DataError("The rules are written as a workbook.", where=out.name, hint="Let the name end in .xlsx.")
    write_whole(out, write_rule_sheet(read_book(name)))
    click.echo(f"Written: {out}. Fill in `now` and `reason`, then: marram trial from-sheet {out} --on {name} -o trial.toml", err=True)
