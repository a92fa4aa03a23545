"""Fields and jobs as the command line has them: the one place that knows which option a field is typed under."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from marram.core.field_names import Field, Job

if TYPE_CHECKING:
    from marram.core.errors import MarramError

OPTIONS = {
    Field.ADJUST: "--adjust",
    Field.AFTER_CLOSING: "--after-closing",
    Field.ALLOWANCE: "--allowance",
    Field.ALSO: "--also",
    Field.ASSUME: "--assume",
    Field.BETWEEN: "--between",
    Field.BOGEY_RATING: "--bogey-rating",
    Field.BOOKS: "--book",
    Field.BREACH: "--breach",
    Field.CLOSE: "--close",
    Field.CONDITIONS: "--conditions",
    Field.COUNT: "--count",
    Field.COURSE_HANDICAP: "--course-handicap",
    Field.COURSE_RATING: "--rating",
    Field.COURSES: "--course",
    Field.DAYS: "--days",
    Field.DESIGN: "--design",
    Field.DISTANCE: "--distance",
    Field.EVENT: "--event",
    Field.EVENTS: "--events",
    Field.EXPECTED: "--expected",
    Field.FACT: "--fact",
    Field.FEATURE: "--kind",
    Field.FIRST: "--first",
    Field.FORMAT: "--format",
    Field.GROSS: "--gross",
    Field.FOLD_OVER: "--fold-over",
    Field.GROUPS: "--groups",
    Field.GROUND: "--ground",
    Field.GROUP_SIZE: "--group-size",
    Field.HANDICAP: "--handicap",
    Field.HANDICAP_INDEX: "--index",
    Field.HAPPENS: "--happens",
    Field.HEIGHT: "--from",
    Field.HOLE: "--hole",
    Field.HOLES: "--hole",
    Field.ID: "--id",
    Field.INTERVAL: "--interval",
    Field.KIND: "--as",
    Field.LACKS: "--lacks",
    Field.LEFT_OUT: "--leave-out",
    Field.LENGTH: "--length",
    Field.LENGTH_YD: "--length-yd",
    Field.LONGEST_CLUB_IN: "--longest-club",
    Field.LOWEST_PAR: "--lowest-par",
    Field.LOWEST_RATING: "--lowest-rating",
    Field.LOW_INDEX: "--low-index",
    Field.MARKS: "--mark",
    Field.MET: "--met",
    Field.MOVED_BY: "--moved-by",
    Field.ONTO: "--onto",
    Field.OUT: "-o",
    Field.OUTLINE: "--outline",
    Field.PAIRS: "--pairs",
    Field.PAR: "--par",
    Field.PLAYED: "--played",
    Field.PLAYERS: "--players",
    Field.PROCEDURE: "--procedure",
    Field.PROPERTIES: "--property",
    Field.PROPOSE: "--propose",
    Field.RADIUS_M: "--radius-m",
    Field.REASON: "--reason",
    Field.REPLACE: "--replace",
    Field.ROUND_HOLES: "--holes",
    Field.SD: "--sd",
    Field.SECOND: "--second",
    Field.SIGMA_M: "--sigma-m",
    Field.SIGNAL: "--signal",
    Field.SLOPE: "--slope",
    Field.SPREAD: "--spread",
    Field.STATED: "--hole",
    Field.STROKE_INDEX: "--stroke-index",
    Field.STEPS: "--steps",
    Field.STOPPED_SHARE: "--stopped-share",
    Field.TAKEN: "--taken",
    Field.TABLE: "--from",
    Field.TIMES: "--times",
    Field.TODAY: "--today",
    Field.TOLERANCE_M: "--tolerance",
    Field.TRACK: "--track",
    Field.VALUES: "--value",
    Field.WAVES: "--waves",
    Field.WHO: "--who",
    Field.WIDTH_M: "--width-m",
    Field.WORKERS: "--workers",
}
ARGUMENTS = frozenset({Field.COURSE, Field.KEY, Field.SOURCE})
"""Fields that are typed without an option, by their place."""
COMMANDS = {
    Job.CHECK_COURSE: "marram course check",
    Job.DRAW_COURSE: "marram course draw",
    Job.FIND_ACT: 'marram act --find "words"',
    Job.FIND_THING: 'marram object --find "words"',
    Job.FORECAST_TRIAL: "marram forecast",
    Job.LIST_FACTS: "marram book facts",
    Job.LIST_KEYS: "marram book list",
    Job.LIST_LOCAL_RULES: "marram book list --local-rules",
    Job.LIST_OUTCOMES: "marram trial outcomes",
    Job.NEW_EVENT: "marram event new",
    Job.NUMBER_HOLES: "marram course holes",
    Job.PLAN_TRIAL: "marram trial plan",
    Job.SET_TERMS: "marram event terms",
    Job.SURVEY_COURSE: "marram course import",
    Job.VERIFY_STORE: "marram store verify",
}
_QUOTED = re.compile(r"`([^`\n]+)`")
_JOB = re.compile(r"(\w+)\((.*)\)")


def in_options(text: str) -> str:
    """A text with its fields as options and its jobs as commands; what else stands in backquotes stays.

    Args:
        text: A message, hint, remedy or remark.
    """
    return _QUOTED.sub(lambda found: _told(found[1]) or found[0], text)


def told_field(field: str) -> str:
    """A field, with its value if it has one, as it is typed; empty where it is none."""
    name, sign, value = field.partition("=")
    if name not in list(Field):
        return ""
    words = [] if Field(name) in ARGUMENTS else [OPTIONS[Field(name)]]
    return " ".join(words + ([value] if sign else [] if words else [name.upper()]))


def tell_in_options(error: MarramError) -> None:
    """Turn what an error says to whoever typed a command: its field is told as the option, where the error lies."""
    error.message, error.hint = in_options(error.message), in_options(error.hint)
    error.where = ", ".join(part for part in (error.where, told_field(error.field) or error.field) if part)
    error.field = ""


def _told(quoted: str) -> str:
    call = _JOB.fullmatch(quoted)
    if call is None:
        return told_field(quoted)
    return " ".join(_words(call[1], call[2])) if call[1] in list(Job) else ""


def _words(job: str, fields: str) -> Iterator[str]:
    yield COMMANDS[Job(job)]
    yield from (told_field(field) for field in fields.split(", ") if field)
