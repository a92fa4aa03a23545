"""`marram course holes`: number the holes of a map that does not, by proposals that somebody confirms."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING

import click

from marram.cli.common import json_option, write_whole
from marram.cli.fields import in_options
from marram.cli.writing import file_option
from marram.core.words import counted

if TYPE_CHECKING:
    from marram.course.course import Course
    from marram.course.numbering.proposals import HoleEntry, Proposal, Proposals
    from marram.office.courses.number_holes import HolesNumbered, ProposedHoles

_WIDTH = 100


@click.command()
@click.argument("course", type=click.Path(path_type=Path))
@click.option("--propose", is_flag=True, help="Propose which green, tees and line make up which hole; -o writes the table as TOML.")
@click.option("--first", default="", metavar="NAME", help="The green, a tee or the line of the first hole: the others follow from it.")
@click.option("--from", "table", type=click.Path(path_type=Path), metavar="TABLE", help="Number the course as this table says; needs -o.")
@click.option("--confirm", is_flag=True, help="Propose, and ask about each hole on the terminal; needs -o.")
@click.option("--hole", "stated", multiple=True, metavar="NAME=N", help="Number one green, tee, line or hole location; needs -o.")
@click.option("--draw-lines", is_flag=True, help="Draw a straight line of play for each hole that has a tee and a green and none.")
@file_option("-o", "--out", goes_on_with="course", help="The table, or the numbered course, to write.")
@json_option
def holes(
    course: Path,
    *,
    propose: bool,
    first: str,
    table: Path | None,
    confirm: bool,
    stated: tuple[str, ...],
    draw_lines: bool,
    out: Path | None,
    as_json: bool,
) -> None:
    """Number the holes of the COURSE: propose them (the usual), or put numbers on it."""
    from marram.answers.courses.holes_answer import course_numbered_answer
    from marram.answers.shape import json_text
    from marram.office.courses.number_holes import number_by_hand, number_from
    from marram.office.courses.write_ground import course_text
    from marram.office.workroom import Workroom

    if sum((propose, confirm, table is not None, bool(stated))) > 1:
        raise click.UsageError("Give one of --propose, --confirm, --from and --hole.")
    if table is None and not stated and not confirm:
        _propose(course, first=first, out=out, as_json=as_json)
        return
    if out is None:
        raise click.UsageError("Say with -o where to write the numbered course; that may be the same file.")
    room = Workroom()
    if confirm:
        done = _confirmed(course, first=first, draws_lines=draw_lines)
    elif table is not None:
        done = number_from(room.survey(course), room.hole_table(table), draws_lines=draw_lines, where=table.name)
    else:
        done = number_by_hand(room.survey(course), stated, draws_lines=draw_lines)
    write_whole(out, course_text(done.course))
    click.echo(json_text(course_numbered_answer(done, in_options)) if as_json else "\n".join(_numbered_lines(done)))
    click.echo(f"Written: {out}", err=True)


# Proposals ------------------------------------------------------------------------------------------------------------


def _propose(course: Path, *, first: str, out: Path | None, as_json: bool) -> None:
    from marram.answers.courses.holes_answer import course_holes_answer
    from marram.answers.shape import json_text
    from marram.office.courses.number_holes import propose_for
    from marram.office.courses.write_ground import hole_table_text
    from marram.office.workroom import Workroom

    proposed = propose_for(Workroom().survey(course), first=first)
    if out is not None:
        write_whole(out, in_options(hole_table_text(proposed)))
    if as_json:
        click.echo(json_text(course_holes_answer(proposed)))
    else:
        click.echo("\n".join(_proposal_lines(proposed.proposals, proposed.course.name, course, out)))
    if out is not None:
        click.echo(f"Written: {out}", err=True)


def _proposal_lines(proposals: Proposals, name: str, course: Path, out: Path | None) -> Iterator[str]:
    yield f"{name}: {counted(len(proposals.holes), 'hole')} proposed"
    for proposal in proposals.holes:
        yield from _told(proposal)
    if proposals.left:
        yield _wrapped(f"No hole is proposed for: {', '.join(proposals.left)}.", "")
    if not proposals.holes:
        yield "There is no green and no line of play to make a hole of; draw or walk them first."
        return
    yield "Look at each on the drawing: marram course draw COURSE --names -o FILE."
    table = out.name if out is not None else "TABLE"
    yield f"Then change the table and put it back: marram course holes {course.name} --from {table} -o {course.name}"


def _told(proposal: Proposal) -> Iterator[str]:
    hole = proposal.hole
    yield f"{hole.number:>3}  {_parts(hole)}  [{proposal.sure.value}; number: {proposal.number_sure.value}]"
    yield _wrapped(proposal.why, "     ")


def _parts(hole: HoleEntry) -> str:
    return " · ".join([hole.green or "no green", ", ".join(hole.tees) or "no tee", *([hole.line] if hole.line else [])])


def _wrapped(text: str, indent: str) -> str:
    return fill(text, width=_WIDTH, initial_indent=indent, subsequent_indent=indent or "  ", break_on_hyphens=False)


# Numbered -------------------------------------------------------------------------------------------------------------


def _numbered_lines(done: HolesNumbered) -> Iterator[str]:
    numbers = ", ".join(map(str, done.course.holes)) or "none"
    yield f"{done.course.name}: holes {numbers}"
    for remark in done.remarks:
        yield _wrapped(f"Note: {in_options(remark)}", "")
    if done.left:
        yield _wrapped(f"Without a number: {', '.join(done.left)}.", "")


# One by one -----------------------------------------------------------------------------------------------------------


def _confirmed(course: Path, *, first: str, draws_lines: bool) -> HolesNumbered:
    from marram.core.errors import DataError
    from marram.office.courses.number_holes import number_from, propose_for
    from marram.office.workroom import Workroom

    if not sys.stdin.isatty():
        raise DataError(
            "There is no terminal to ask at.",
            where="--confirm",
            hint="Use --propose -o TABLE, change the table, and put it back with --from.",
        )
    proposed = propose_for(Workroom().survey(course), first=first)
    return number_from(proposed.course, ask_each(proposed), draws_lines=draws_lines)


def ask_each(proposed: ProposedHoles) -> list[HoleEntry]:
    """Ask about each hole: Enter takes it, a number gives it that number, names put other features to it, a minus leaves it out.

    Args:
        proposed: The course with the holes proposed for it.
    """
    kept: list[HoleEntry] = []
    for proposal in proposed.proposals.holes:
        click.echo("\n".join(_told(proposal)))
        answer = _answer(proposed.course, proposal.hole, {hole.number for hole in kept})
        kept += [] if answer is None else [answer]
    return kept


def _answer(course: Course, hole: HoleEntry, taken: set[int]) -> HoleEntry | None:
    """The hole as somebody confirms it; None where it is left out."""
    while True:
        usual = "-" if hole.number in taken else str(hole.number)
        said = click.prompt("     Enter, another number, other names, or - to leave it out", default=usual, show_default=True).strip()
        if said == "-":
            return None
        if not said.isdecimal():
            hole = _with_names(course, hole, said.replace(",", " ").split())
        elif 1 <= int(said) <= 99 and int(said) not in taken:
            return replace(hole, number=int(said))
        else:
            click.echo(f"     {said} is taken already or is no number from 1 to 99.")


def _with_names(course: Course, hole: HoleEntry, names: Sequence[str]) -> HoleEntry:
    """The hole with other features put to it; a name that is not there is told and changes nothing."""
    from marram.core.errors import SurveyError
    from marram.office.courses.number_holes import with_names

    try:
        changed = with_names(course, hole, names)
    except SurveyError as problem:
        click.echo(_wrapped(in_options(f"{problem.message} {problem.hint}"), "     "))
        return hole
    click.echo(f"     {_parts(changed)}")
    return changed
