"""What commands write: options that name it, and the guard that nothing is replaced by mistake."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TypeVar

import click

F = TypeVar("F", bound=Callable[..., object])
_REPLACES = "marram.replaces"


class Written(click.Path):
    """The type of an option that names a file or a folder which the command writes; every other path is read.

    Args:
        is_folder: Whether it names a folder.
        goes_on_with: A parameter whose file the command is to go on with: writing onto that is no mistake.
    """

    def __init__(self, *, is_folder: bool, goes_on_with: str = "") -> None:
        super().__init__(path_type=Path, file_okay=not is_folder, dir_okay=is_folder)
        self.goes_on_with = goes_on_with


_TOLD = "Write even over a file that is read here, a frozen plan or a file of another kind."


def _note(context: click.Context, _: click.Parameter, is_set: bool) -> None:
    context.meta[_REPLACES] = is_set


def file_option(*names: str, help: str, required: bool = False, metavar: str = "FILE", goes_on_with: str = "") -> Callable[[F], F]:  # noqa: A002
    """An option that names a file to write; with it the command can be told to replace what it would else leave standing.

    Args:
        names: The option, and what the command calls it where that is another word.
        help: What is written.
        required: Whether the command cannot do without it.
        metavar: How the help page names what is given.
        goes_on_with: A parameter whose file the command is to go on with.
    """
    kind = Written(is_folder=False, goes_on_with=goes_on_with)
    return _written(click.option(*names, type=kind, required=required, metavar=metavar, help=help))


def folder_option(*names: str, help: str, required: bool = False, metavar: str = "DIR") -> Callable[[F], F]:  # noqa: A002
    """An option that names a folder to write to, made if it is not there; else as ``file_option``."""
    return _written(click.option(*names, type=Written(is_folder=True), required=required, metavar=metavar, help=help))


def _written(option: Callable[[F], F]) -> Callable[[F], F]:
    def decorate(command: F) -> F:
        if not any(param.name == "replace" for param in getattr(command, "__click_params__", ())):
            command = click.option("--replace", is_flag=True, expose_value=False, callback=_note, help=_TOLD)(command)
        return option(command)

    return decorate


def refuse_by_mistake(path: Path, content: str | bytes) -> None:
    """See that a file about to be written takes nobody's place by mistake.

    Raises:
        DataError: The command reads it, or what stands there is of another kind, or a frozen plan.
    """
    from marram.core.errors import DataError
    from marram.office.what_stands_there import refuse_replacing

    context = click.get_current_context(silent=True)
    if context is None or context.meta.get(_REPLACES):
        return
    if any(_are_same(path, read) for read in _read_by(context)):
        hint = "Nothing was written. Give another name, or add --replace."
        raise DataError("The command reads this file, and would replace it.", where=path.name, hint=hint)
    refuse_replacing(path, content)


def _read_by(context: click.Context) -> Iterator[Path]:
    """Files that the command reads: its other paths, and overlays of its books."""
    from marram.office.workroom import overlay_paths

    own = {param.type.goes_on_with for param in context.command.params if isinstance(param.type, Written)}
    for param in context.command.params:
        value = context.params.get(param.name or "")
        if isinstance(param.type, Written) or value is None or param.name in own:
            continue
        for one in value if isinstance(value, tuple | list) else (value,):
            if isinstance(one, Path):
                yield one
            elif isinstance(one, str):
                yield from overlay_paths(one)


def _are_same(path: Path, other: Path) -> bool:
    try:
        return path.samefile(other)
    except (OSError, ValueError):
        return False
