"""The terminal runs in the README are real: each command is run and its output compared."""

from __future__ import annotations

import re
import shlex
from collections import Counter

import pytest

from marram.rulebook.audit import DEFAULT, audit_catalogue
from marram.rulebook.reading.files import packaged_catalogue
from tests.support.running import ROOT, marram_process

README = (ROOT / "README.md").read_text(encoding="utf-8")
RUNS = re.findall(r"```\n\$ marram (.*?)\n(.*?)```", README, flags=re.DOTALL)


def test_readme_holds_a_terminal_run() -> None:
    assert RUNS


@pytest.mark.parametrize(("command", "shown"), RUNS)
def test_terminal_run_is_real(command: str, shown: str) -> None:
    done = marram_process(*shlex.split(command))
    assert done.returncode == 0, done.stderr
    assert done.stdout.strip() == shown.strip()


def test_how_far_to_trust_it_tells_the_figures_of_the_audit() -> None:
    total: Counter[str] = Counter()
    for counter in audit_catalogue(packaged_catalogue()).counts.values():
        total.update(counter)
    stated = sum(total.values()) - total[DEFAULT]
    told = README.partition("## How far to trust it")[2]
    missing = [number for number in (stated, *total.values()) if f"{number:,}" not in told]
    assert not missing, f"the audit says {dict(total)}, {stated} stated"
