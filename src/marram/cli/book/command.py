"""`marram book`: the rules as data."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from marram.cli.common import json_option, one_book_option, write_whole
from marram.cli.writing import file_option

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
    from marram.answers.books.list_answer import book_list_answer
    from marram.answers.shape import json_text
    from marram.cli.book.list_text import list_text, local_rules_text
    from marram.office.books.list_rules import list_rules
    from marram.office.workroom import Workroom

    room = Workroom()
    listed = list_rules(room.catalogue, room.local_rules)
    if as_json:
        click.echo(json_text(book_list_answer(listed)))
    else:
        click.echo(local_rules_text(listed.local_rules) if only_local_rules else list_text(listed))


@book.command()
@click.argument("key")
@click.option("--book", "books", multiple=True, metavar="BOOK", help="Show it in these books; every edition if none.")
@json_option
def show(key: str, books: tuple[str, ...], as_json: bool) -> None:
    """Show what each book says under KEY, and where that was seen."""
    from marram.answers.books.key_answer import book_key_answer, book_question_answer
    from marram.answers.shape import json_text
    from marram.cli.book.show_text import question_text, show_text
    from marram.office.books.show_key import QuestionShown, show_key
    from marram.office.workroom import Workroom

    shown = show_key(key, Workroom().books(books))
    if isinstance(shown, QuestionShown):
        click.echo(json_text(book_question_answer(shown)) if as_json else question_text(shown))
    else:
        click.echo(json_text(book_key_answer(shown)) if as_json else show_text(shown))


@book.command()
@one_book_option("--book", "name", does="The book in whose terms the questions are asked.")
@json_option
def facts(name: str, as_json: bool) -> None:
    """List every fact that an answer may turn on, with the question that settles it."""
    from marram.answers.books.list_answer import book_facts_answer
    from marram.answers.shape import json_text
    from marram.cli.book.list_text import facts_text
    from marram.office.books.list_rules import list_facts
    from marram.office.workroom import Workroom

    listed = list_facts(Workroom().book(name))
    click.echo(json_text(book_facts_answer(listed)) if as_json else facts_text(listed))


@book.command()
@json_option
def sources(as_json: bool) -> None:
    """List every source that a value was seen in: title, kind, year, and the editions of which it speaks."""
    from marram.answers.books.list_answer import book_sources_answer
    from marram.answers.shape import json_text
    from marram.cli.book.list_text import sources_text
    from marram.office.books.list_rules import list_sources
    from marram.office.workroom import Workroom

    found = list_sources(Workroom().catalogue)
    click.echo(json_text(book_sources_answer(found)) if as_json else sources_text(found))


@book.command()
@click.argument("first")
@click.argument("second")
@click.option("--form", type=click.Choice(["text", "md", "html", "pdf"]), default="text", show_default=True, help="How it is told.")
@file_option("-o", "--out", help="Write to this file; a PDF needs one.")
@json_option
def compare(first: str, second: str, form: str, out: Path | None, as_json: bool) -> None:
    """Tell every difference between two books, in sentences under headings of the game."""
    from marram.answers.books.compare_answer import book_comparison_answer
    from marram.answers.shape import json_text
    from marram.core.errors import DataError
    from marram.office.books.compare_two import compare_two
    from marram.office.workroom import Workroom

    if form == "pdf" and out is None and not as_json:
        raise DataError("A PDF is not printed on the screen.", where="--form pdf", hint="Give a file with -o FILE.")
    room = Workroom()
    found = compare_two((room.book(first), room.book(second)))
    content = json_text(book_comparison_answer(found)) if as_json else _compared(found.told, form)
    if out is None:
        click.echo(content, nl=form == "text" or as_json)
        return
    write_whole(out, content + "\n" if isinstance(content, str) and not content.endswith("\n") else content)
    click.echo(f"Written: {out}", err=True)


def _compared(told: ToldComparison, form: str) -> str | bytes:
    from marram.cli.book.compare_text import compare_page, compare_text
    from marram.office.books.compare_two import print_comparison

    match form:
        case "md":
            return compare_page(told)
        case "html" | "pdf":
            return print_comparison(told, form)
        case _:
            return compare_text(told)


@book.command()
@json_option
def audit(as_json: bool) -> None:
    """Count what is seen, from memory and open, edition by edition."""
    from marram.answers.books.audit_answer import book_audit_answer
    from marram.answers.shape import json_text
    from marram.cli.book.list_text import audit_text
    from marram.office.books.audit_rules import audit_rules
    from marram.office.workroom import Workroom

    found = audit_rules(Workroom().catalogue)
    click.echo(json_text(book_audit_answer(found)) if as_json else audit_text(found))


@book.command()
@one_book_option("--book", "name", does="The book whose values stand on the sheet.")
@file_option("-o", "--out", required=True, help="The workbook to write, ending in .xlsx.")
def export(name: str, out: Path) -> None:
    """Write the rules as a workbook: a row for each key, its present value and rule, and an empty column for what it is to be."""
    from marram.core.errors import DataError
    from marram.office.books.rule_workbook import rule_workbook
    from marram.office.workroom import Workroom

    if out.suffix.lower() != ".xlsx":
        raise DataError("The rules are written as a workbook.", where=out.name, hint="Let the name end in .xlsx.")
    write_whole(out, rule_workbook(Workroom().book(name)))
    click.echo(f"Written: {out}. Fill in `now` and `reason`, then: marram trial from-sheet {out} --on {name} -o trial.toml", err=True)
