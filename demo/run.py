"""The demo: the whole job, from the draft of a trial to its verdicts, line by line, and one readable page."""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping
from html import escape

from demo import running
from demo.event_part import club_day
from demo.exercise_part import exercises
from demo.ground_part import ground, marking, plan_of_the_course, rulings
from demo.page import Section, write_page
from demo.score_part import competition
from demo.sheets_part import guide, sheets
from demo.trial_part import Step, answers, draft, plan, records, verdicts
from marram.core.terms import ADVICE

NOT_YET = "Of the web desk all but rulings, and the simulation of a trial beforehand."
_LEAD = (
    "An invented union tries four changes on two invented clubs. The course, the balls, the trial, the season and the cards are invented; "
    f"every answer is computed from the survey, the rules as data and the records. <strong>{escape(ADVICE)}</strong>"
)
_ON_THE_PAGE = ("verdicts", "draft", "plan", "guide", "exercises", "rulings", "marking", "results", "event", "sheets", "not-yet")
"""The order of the page: what came out first, then what it rests on."""


def main() -> int:
    """Do the job from the draft to the verdict, one numbered line for each step, and write the page."""
    made: dict[str, Section] = {}
    for step in STEPS:
        do_step(step, made)
    end(made)
    print("\nOpen demo/out/index.html in a browser. The command line is `.venv/bin/marram --help`.")
    print("The ruling desk on the demo course: .venv/bin/marram desk --folder examples")
    return 0


def do_step(step: str, made: dict[str, Section]) -> None:
    """Do one step and say in a line what came out; what it adds to the page is kept."""
    running.out.mkdir(parents=True, exist_ok=True)
    came_out, section = STEPS[step]()
    print(f"{list(STEPS).index(step) + 1:>2}  {step:<13} {came_out}", flush=True)
    if section is not None:
        made[section.name] = section


def end(made: dict[str, Section]) -> None:
    """Write the page of what the steps made."""
    write_page(_LEAD, [made[name] for name in _ON_THE_PAGE], plan_of_the_course())


def _not_yet() -> Step:
    return NOT_YET, Section(name="not-yet", group="Sheets", title="Not done yet", note="", body=f"<p>{escape(NOT_YET)}</p>")


STEPS: Mapping[str, Callable[[], Step]] = {
    "the draft": draft,
    "the ground": ground,
    "the marking": marking,
    "the guide": guide,
    "the rulings": rulings,
    "the plan": plan,
    "a club day": club_day,
    "the records": records,
    "the answers": answers,
    "the verdicts": verdicts,
    "exercises": exercises,
    "a competition": competition,
    "the sheets": sheets,
    "not done yet": _not_yet,
}
"""The steps of the job in their order."""


if __name__ == "__main__":
    sys.exit(main())
