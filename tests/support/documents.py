"""Every command that writes PDF files, with the words that make it write one of each of its kinds: the closed list of documents."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

import click

from tests.support.running import Done, marram

COURSE = "examples/courses/thimble-moor.geojson"
TRIAL = "examples/trials/four-changes.toml"
LENGTHS = "examples/trials/fixed-lengths.toml"
POND = "examples/incidents/pond-7.toml"
_SPREAD = ("--sd", "search_s=9", "--sd", "relief_s=5", "--sd", "rulings=0.2", "--leave-out", "4", "--seed", "three-firths-2026")
_SEASON = tuple(word for name in ("days", "values", "asked") for word in (f"--{name}", f"examples/season/{name}.csv"))

WRITERS: Mapping[str, tuple[tuple[str, ...], ...]] = {
    "book compare": (("2019", "2023", "--form", "pdf", "-o", "OUT/differences.pdf"),),
    "course draw": ((COURSE, "-o", "OUT/course.pdf"), (COURSE, "--hole", "7", "--names", "-o", "OUT/hole.pdf")),
    "course marking": ((COURSE, "--form", "pdf", "--draw", "OUT/marking"),),
    "course places": ((COURSE, "--procedure", "unplayable-lateral", "--count", "1", "--form", "pdf", "--draw", "OUT/places"),),
    "event print": tuple(
        (paper, "--store", "OUT/day.sqlite", "-o", f"OUT/{paper}.pdf") for paper in ("starting-list", "cards", "results", "local-rules")
    ),
    "event season": (("--store", "OUT/day.sqlite", "--course", COURSE, "--draw", "OUT/season.pdf"),),
    "forecast": ((TRIAL, "--course", COURSE, "--days", "20", "--players", "9", "-o", "OUT/forecast.pdf"),),
    "rule": ((POND, "--course", COURSE, "--book", "2019", "--book", "2023", "--draw", "OUT/ruling.pdf"),),
    "sheet procedure": (("penalty-area-lateral-red", "--course", COURSE, "--book", "2023", "-o", "OUT/procedure"),),
    "sheet relief": (("--book", "2023", "-o", "OUT/relief.pdf"),),
    "sheet strip": (("--length", "2m", "-o", "OUT/strip.pdf"),),
    "sheet trial": ((LENGTHS, "-o", "OUT/trial.pdf"),),
    "trial clarity plan": (
        (TRIAL, "--incidents", "examples/exercises/incidents.toml", "--officials", "6", "--seed", "firths-2026", "-o", "OUT/clarity"),
    ),
    "trial guide": ((LENGTHS, "--course", COURSE, "-o", "OUT/guide"),),
    "trial papers": ((TRIAL, "-o", "OUT/papers.pdf"), (TRIAL, "--plan", "OUT/plan.json", "-o", "OUT/papers-of-plan.pdf")),
    "trial report": ((TRIAL, *_SEASON, "--plan", "OUT/plan.json", "-o", "OUT/report.pdf"),),
    "trial stations plan": (
        (TRIAL, "--tasks", "examples/exercises/tasks.toml", "--players", "4", "--seed", "firths-2026", "-o", "OUT/stations"),
    ),
}
"""The words after each command; OUT is the folder that is written to."""
NO_PDF = frozenset(
    {
        *(
            "book export",
            "course holes",
            "course import",
            "desk",
            "event records",
            "event results",
            "event rounds",
            "event times",
            "score",
            "store backup",
        ),
        *("trial from-sheet", "trial new", "trial plan"),
    }
)
"""Commands that write files of other kinds alone."""
READ = frozenset(
    [
        *(
            "asked",
            "course",
            "course_file",
            "days",
            "field",
            "from_forecast",
            "from_records",
            "incidents",
            "onto",
            "overlays",
            "past_days",
            "past_values",
            "plan_file",
            "records",
        ),
        *("table", "tasks", "terms", "today", "values"),
    ]
)
"""Options that name what is read, or a folder of files that are not drawn; any other that names a file or a folder is written to."""


def commands(group: click.Group, before: str = "") -> Iterator[tuple[str, click.Command]]:
    """Every command by its name, with the groups that it stands in."""
    context = click.Context(group)
    for name in group.list_commands(context):
        command = group.get_command(context, name)
        if isinstance(command, click.Group):
            yield from commands(command, f"{before}{name} ")
        elif command is not None:
            yield f"{before}{name}", command


def writes_files(command: click.Command) -> bool:
    """Whether a command has an option that names what is written."""
    paths = [each for each in command.params if isinstance(each, click.Option) and isinstance(each.type, click.Path)]
    return any(each.name not in READ for each in paths)


def run_day(store: Path) -> None:
    """An event from its terms to its cards, under trial rules."""
    steps = (
        ("new", "examples/events/terms.toml", "--book", f"2023+{TRIAL}"),
        ("enter", "examples/events/entries.csv"),
        ("draw", "--seed", "7"),
        ("times",),
        ("cards", "examples/events/cards.csv"),
    )
    for step in steps:
        done = marram("event", *step, "--store", str(store), "--who", "Rowan")
        assert done.returncode == 0, done.stderr


def write_documents(folder: Path) -> Iterator[tuple[str, Sequence[str], Done]]:
    """Run every command of the list; gives its name, its words and how it ended."""
    plan = marram("trial", "plan", TRIAL, *_SPREAD, "-o", str(folder / "plan.json"))
    assert plan.returncode == 0, plan.stderr
    run_day(folder / "day.sqlite")
    for name, kinds in WRITERS.items():
        for words in kinds:
            told = [word.replace("OUT", str(folder), 1) if word.startswith("OUT/") else word for word in words]
            yield name, told, marram(*name.split(), *told)
