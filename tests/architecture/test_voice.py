"""One voice: below the command line a text names fields and jobs, and the command line alone knows how they are typed."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import click
import pytest

from marram.cli.fields import ARGUMENTS, COMMANDS, OPTIONS, in_options, tell_in_options
from marram.cli.main import marram
from marram.core.errors import DataError
from marram.core.field_names import Field, Job

PACKAGE = Path(__file__).parents[2] / "src" / "marram"
BELOW = sorted(path for path in PACKAGE.rglob("*.py") if path.relative_to(PACKAGE).parts[0] != "cli")
TYPED = re.compile(r"--[a-z]|\bmarram (ask|rule|act|search|drop|object|form|suspension|course|trial|sheet|book)\b")
QUOTED = re.compile(r"`([^`\n]+)`")
JOB = re.compile(r"(\w+)\((.*)\)")
OF_FILES = {"absent", "as", "conditions", "course", "now", "was", "when", "without", "words"}
"""Members of files of rule data, trials and courses that a text names."""


def list_texts(tree: ast.AST) -> Iterator[tuple[int, str]]:
    """Text that a program may tell, with its line; what is filled in is shown as a full stop, and docstrings are left out."""
    docstrings = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    inside = {id(part) for node in ast.walk(tree) if isinstance(node, ast.JoinedStr) for part in node.values}
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            parts = [part.value if isinstance(part, ast.Constant) else _filled(part) for part in node.values]
            yield node.lineno, "".join(map(str, parts))
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in docstrings | inside:
            yield node.lineno, node.value


def _filled(part: ast.expr) -> str:
    """What stands for a value that is filled in: a field where the value is called one, else a full stop."""
    assert isinstance(part, ast.FormattedValue)
    return Field.MARKS if isinstance(part.value, ast.Name) and part.value.id in {"asked", "field"} else "."


def find_typed(text: str) -> list[str]:
    """Options and commands that a text names."""
    return [found[0] for found in TYPED.finditer(text)]


def find_unknown(text: str) -> list[str]:
    """What a text has in backquotes that is no field, no job and no member of a file."""
    names = []
    for quoted in QUOTED.findall(text):
        call = JOB.fullmatch(quoted)
        if call is not None:
            names += [call[1]] * (call[1] not in list(Job))
            fields = [field for field in call[2].split(", ") if field]
        else:
            fields = [quoted]
        names += [name for field in fields if (name := field.partition("=")[0]) not in {*Field, *OF_FILES}]
    return names


def test_the_checker_finds_what_it_must() -> None:
    tree = ast.parse('"""--day"""\ndef f(a):\n    "marram ask"\n    return f"Say --kind {a}", "Run marram rule.", "`kind={a}`"')
    texts = [text for _, text in list_texts(tree)]
    assert texts == ["Say --kind .", "Run marram rule.", "`kind={a}`"]
    assert [find_typed(text) for text in texts] == [["--k"], ["marram rule"], []]
    assert find_unknown("`kind=x`, `number_holes(course=C, propose)` and `was`") == []
    assert find_unknown("`knd`, `number_hole(course=C)`, `number_holes(propos)`") == ["knd", "number_hole", "propos"]


def test_no_string_below_the_command_line_holds_an_option() -> None:
    constants = ((path.name, node) for path in BELOW for node in ast.walk(ast.parse(path.read_text())) if isinstance(node, ast.Constant))
    held = [f"{name}:{node.lineno}" for name, node in constants if isinstance(node.value, str) and re.search(r"--[a-z]", node.value)]
    assert held == []


@pytest.mark.parametrize("path", BELOW, ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_no_text_below_the_command_line_is_typed(path: Path) -> None:
    texts = list(list_texts(ast.parse(path.read_text())))
    assert [f"{line}: {text!r}" for line, text in texts if find_typed(text)] == []
    if path.name != "file_faults.py":  # its patterns read the messages of a library
        assert [f"{line}: {name}" for line, text in texts for name in find_unknown(text)] == []


def test_no_data_that_is_told_is_typed() -> None:
    data = [path for path in PACKAGE.rglob("*.toml") if "cli" not in path.parts]
    lines = [line for path in data for line in path.read_text().splitlines() if not line.startswith("#")]
    assert lines and not [line for line in lines if find_typed(line)]


def _every_command(command: click.Command, path: str) -> Iterator[tuple[str, click.Command]]:
    if isinstance(command, click.Group):
        context = click.Context(command)
        for name in command.list_commands(context):
            inner = command.get_command(context, name)
            assert inner is not None
            yield from _every_command(inner, f"{path} {name}")
    else:
        yield path, command


def test_every_field_and_job_is_told_as_something_that_can_be_typed() -> None:
    commands = dict(_every_command(marram, "marram"))
    options = {word for command in commands.values() for given in command.params for word in given.opts}
    assert set(OPTIONS) | ARGUMENTS == set(Field) and not set(OPTIONS) & ARGUMENTS
    assert set(OPTIONS.values()) <= options
    for job, typed in COMMANDS.items():
        words = typed.split(" --")
        command = commands[words[0]]
        assert all(f"--{word.split()[0]}" in {opt for given in command.params for opt in given.opts} for word in words[1:]), job
    assert set(COMMANDS) == set(Job)


def test_every_field_and_job_is_used() -> None:
    told = "\n".join(path.read_text() for path in PACKAGE.rglob("*.py") if path.name not in {"fields.py", "field_names.py"})
    unused = [field.name for field in Field if f"Field.{field.name}" not in told and not re.search(rf"[`(, ]{field}[=`),]", told)]
    assert unused == []
    assert [job for job in Job if f"`{job}(" not in told] == []


@pytest.mark.parametrize(
    ("said", "typed"),
    [
        ("Name it in `onto`.", "Name it in --onto."),
        ("Give `sd=search_time_s=NUMBER`.", "Give --sd search_time_s=NUMBER."),
        ("See `number_holes(course=COURSE, stated=NAME=7, out=COURSE)`.", "See marram course holes COURSE --hole NAME=7 -o COURSE."),
        ("See `number_holes(course=COURSE, propose)`.", "See marram course holes COURSE --propose."),
        ("`find_act()` looks for others.", 'marram act --find "words" looks for others.'),
        ("Correct `was`, not `colour=red` and not `paint(red)`.", "Correct `was`, not `colour=red` and not `paint(red)`."),
    ],
)
def test_fields_are_told_as_options(said: str, typed: str) -> None:
    assert in_options(said) == typed


def test_an_error_is_told_with_its_option_where_it_lies() -> None:
    error = DataError("No.", where="walk.csv", field=Field.MARKS.of("pond"), hint="Give `kind`.")
    assert str(error) == "walk.csv, marks=pond: No. Give `kind`."
    tell_in_options(error)
    assert str(error) == "walk.csv, --mark pond: No. Give --as."
