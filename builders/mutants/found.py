"""What was found when a package was last looked at whole, a file for each package, so that the page can be written from all of them."""

from __future__ import annotations

import json
from collections.abc import Collection, Sequence
from itertools import groupby
from pathlib import Path

from builders.mutants.faults import Fault
from builders.mutants.page import Outcome


def keep_found(folder: Path, outcomes: Sequence[Outcome]) -> None:
    """Write what was found in each package to its own file; what was kept of other packages stays.

    Args:
        folder: Where the files lie.
        outcomes: How it went with every fault, package by package.
    """
    folder.mkdir(exist_ok=True)
    for package, found in groupby(outcomes, key=lambda one: one.package):
        rows = [json.dumps([*one.fault.name, one.noticed], ensure_ascii=False) for one in found]
        (folder / f"{package}.json").write_text("[\n" + ",\n".join(rows) + "\n]\n", encoding="utf-8")


def read_found(folder: Path, packages: Sequence[str], same: Collection[tuple[str, ...]]) -> list[Outcome]:
    """How it went with every fault that was kept.

    Args:
        folder: Where the files lie.
        packages: The packages, in the order of the page; one that was never looked at has no file.
        same: The names of the faults that change nothing.
    """
    outcomes = []
    for package in packages:
        path = folder / f"{package}.json"
        for *name, noticed in json.loads(path.read_text(encoding="utf-8")) if path.exists() else ():
            file, function, before, after = name
            fault = Fault(file=file, function=function, line=0, before=before, after=after, source="")
            outcomes.append(Outcome(package=package, fault=fault, noticed=noticed, is_same=fault.name in same))
    return outcomes
