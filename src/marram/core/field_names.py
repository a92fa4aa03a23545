"""What an error, a hint or a remedy names: the fields that an official fills in, and the jobs that he gives.

A field stands in a text as ```events```, with its value as ```kind=boundary```, and a job with its fields as
```number_holes(course=COURSE, propose)```. Each entry tells them in its own way: the command line as its options and commands, a
page as its inputs and buttons. A member of a file stands in backquotes or quotation marks too, and is told as it is written.
"""

from __future__ import annotations

from enum import StrEnum


class Field(StrEnum):
    """What an official fills in when he gives a job."""

    ADJUST = "adjust"
    ALSO = "also"
    BETWEEN = "between"
    BOOKS = "books"
    CLOSE = "close"
    COUNT = "count"
    COURSE = "course"
    DAYS = "days"
    DESIGN = "design"
    EVENTS = "events"
    FACT = "fact"
    FEATURE = "feature"
    FIRST = "first"
    GROUPS = "groups"
    HAPPENS = "happens"
    HOLE = "hole"
    HOLES = "holes"
    ID = "id"
    KEY = "key"
    KIND = "kind"
    LEFT_OUT = "left_out"
    LENGTH = "length"
    LONGEST_CLUB_IN = "longest_club_in"
    MARKS = "marks"
    MET = "met"
    MOVED_BY = "moved_by"
    ONTO = "onto"
    OUT = "out"
    OUTLINE = "outline"
    PAIRS = "pairs"
    PROCEDURE = "procedure"
    PROPERTIES = "properties"
    PROPOSE = "propose"
    RADIUS_M = "radius_m"
    SD = "sd"
    SIGMA_M = "sigma_m"
    SIGNAL = "signal"
    SOURCE = "source"
    STATED = "stated"
    TABLE = "table"
    TODAY = "today"
    TOLERANCE_M = "tolerance_m"
    TRACK = "track"
    VALUES = "values"
    WAVES = "waves"
    WIDTH_M = "width_m"

    def of(self, value: str) -> str:
        """The field with what stands in it."""
        return f"{self}={value}"


class Job(StrEnum):
    """What an official may have done, where a text sends him on to it."""

    CHECK_COURSE = "check_course"
    DRAW_COURSE = "draw_course"
    FIND_ACT = "find_act"
    FIND_THING = "find_thing"
    LIST_FACTS = "list_facts"
    LIST_KEYS = "list_keys"
    LIST_LOCAL_RULES = "list_local_rules"
    LIST_OUTCOMES = "list_outcomes"
    NUMBER_HOLES = "number_holes"
    PLAN_TRIAL = "plan_trial"
    SURVEY_COURSE = "survey_course"
