"""The page that tells which faults were noticed: docs/mutants.md."""

from __future__ import annotations

from dataclasses import dataclass

from builders.mutants.faults import Fault

PAGE = "docs/mutants.md"


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """How it went with one fault."""

    package: str
    fault: Fault
    noticed: bool
    is_same: bool


def write_page(outcomes: list[Outcome], seed: str, same: list[dict[str, str]], not_run: list[str]) -> str:
    """The whole page; the same outcomes give the same bytes."""
    packages = list(dict.fromkeys(one.package for one in outcomes))
    rows = [count(name, [one for one in outcomes if one.package == name]) for name in packages]
    rows += [count("**all**", outcomes)] if outcomes else []
    missed = [one for one in outcomes if not one.noticed]
    lost = [tell(one.fault) for one in missed if not one.is_same]
    reasons = {tuple(row[key] for key in ("file", "function", "before", "after")): row["why"] for row in same}
    unchanged = [f"{tell(one.fault)}\n  {reasons[one.fault.name]}" for one in missed if one.is_same]
    rows += [f"| {name} | not run | | | | |" for name in not_run]
    return "\n".join(
        (
            HEAD.format(seed=seed),
            *rows,
            "",
            LOST,
            *(lost or [NONE if outcomes else NOTHING_RUN]),
            "",
            SAME,
            *(unchanged or [NONE if outcomes else NOTHING_RUN]),
            "",
        )
    )


def count(name: str, outcomes: list[Outcome]) -> str:
    """One row of the table."""
    noticed = sum(one.noticed for one in outcomes)
    same = sum(one.is_same and not one.noticed for one in outcomes)
    share = 100 * noticed / len(outcomes)
    return f"| {name} | {len(outcomes)} | {noticed} | {share:.1f} % | {len(outcomes) - noticed - same} | {same} |"


def tell(fault: Fault) -> str:
    """One fault: where it is, what stood there, what stands there now."""
    return f"- `{fault.file}`, `{fault.function}`\n  `{fault.before}`\n  `{fault.after}`"


NONE, NOTHING_RUN = "None.", "Nothing was run yet."
HEAD = """# Small faults, and whether the tests notice

Written by `make mutants`; not edited by hand. Seed: `{seed}`.

Sixty small faults are put into each package that decides, one at a time, and the tests of that package alone are run:
`tests/unit/<package>` and the quick property tests that are its own (`builders/mutants/__main__.py` names them). A fault is noticed when a
test fails, or when the tests take five times as long as usual and ten seconds more. A line that no test of its own package reaches
counts as not noticed, even where tests elsewhere would see it.

The faults are made by the operators of cosmic-ray: the neighbour or the opposite of a comparison, `+` for `-`, `*` for `/`, `|` for `&`,
a condition turned round, `and` for `or`, a sign or a `not` left out, `True` for `False`, a number one off, `break` for `continue`, a loop
never entered. Left out are annotations, names for types and decorators, which mypy judges, and words, which no logic reads. Which places
are taken follows from the seed, the file and the text of the line; a change elsewhere does not move them. The runner of cosmic-ray is not
used: it starts a process for each fault with every test in it. Ours forks a warm process in a copy of the tree and runs the tests that
reach the line, the fastest first, up to the first that fails.

| package | faults | noticed | share | not noticed | change nothing |
| --- | --- | --- | --- | --- | --- |"""

LOST = """The share is of all the faults: one that changes nothing is never counted as noticed.

## Not noticed

Each with what stood there and what stood there instead.
"""

SAME = """## Change nothing

Nothing that can be asked of the package tells these from the code as it is; the reason stands below each (`builders/mutants/same.toml`).
"""
