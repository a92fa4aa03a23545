"""All benchmarks: whole commands beside a bare interpreter, searches and audits beside other ways, rulings beside the code as it was."""

from __future__ import annotations

import json
from pathlib import Path

from benchmarks import commands, desk, events, marking, nearest_point, pace, rulings, scoring, trial_report

RESULTS = Path(__file__).with_name("results.json")


def main() -> None:
    """Measure, print, and write benchmarks/results.json."""
    subjects = (commands, nearest_point, marking, rulings, scoring, trial_report, events, pace, desk)
    results = [row for subject in subjects for row in subject.measure()]
    RESULTS.write_text(json.dumps(results, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
