"""Records of a season that was simulated, in the two tables of a trial, each day marked as such."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping
from datetime import date, timedelta

from marram.core.errors import StudyError
from marram.core.field_names import Field
from marram.course.course import Course
from marram.office.forecasts.course_paced import paced_holes
from marram.office.forecasts.forecast_asked import ForecastAsked, refuse_asked
from marram.office.forecasts.stages_asked import PlayedCourse, played_course
from marram.office.forecasts.ways_played import WayPlayed, changes_played, present_way, together_way
from marram.records.rows import Arm
from marram.rulebook.book import Book
from marram.rulebook.overlays.overlay import Overlay
from marram.simulation.campaign.arm_played import PlayedOut, play_out
from marram.simulation.campaign.drawn_days import draw_days
from marram.simulation.pace.hole_stages import PacedHole
from marram.simulation.pace.pace_draws import Purpose, stream

MOST_PAIRS = 200
_FIRST_DAY = date(2000, 1, 1)
"""First day of a season whose trial has no window."""
_OWN_DAYS = 5_000_011
"""Days of a simulated season are other days than those of the forecast."""
SPREAD_OF = "round_min"


def simulated_season(trial: Overlay, base: Book, course: Course, asked: ForecastAsked, pairs: int) -> Mapping[str, str]:
    """A simulated season on a surveyed course: see `simulated_records`."""
    return simulated_records(trial, base, paced_holes(course, waves_up=asked.waves_up), asked, pairs)


def simulated_records(trial: Overlay, base: Book, holes: tuple[PacedHole, ...], asked: ForecastAsked, pairs: int) -> Mapping[str, str]:
    """A season in pairs of days that was simulated: one day of each pair under each set of rules, every day by itself.

    Args:
        trial: The trial.
        base: The present book.
        holes: The holes.
        asked: What the forecast is asked with; a spread of the round's time is laid on every day.
        pairs: Pairs of days.

    Returns:
        The text of `days.csv` and of `values.csv`, by name.

    Raises:
        StudyError: The season cannot be meant.
    """
    refuse_asked(asked)
    if not 1 <= pairs <= MOST_PAIRS:
        raise StudyError(f"A season of {pairs} pairs of days is not simulated.", field=Field.PAIRS, hint=f"Give 1 to {MOST_PAIRS}.")
    first, course = _first_day(trial, pairs), played_course(holes, base, asked)
    together, _ = together_way(trial, base, asked, changes_played(trial, base, asked))
    ways = {Arm.TRIAL: together, Arm.ORDINARY: present_way(base, asked)}
    days: list[tuple[str, ...]] = []
    values: list[tuple[str, ...]] = []
    for number in range(2 * pairs):
        arm = Arm.TRIAL if (number + number // 2) % 2 == 0 else Arm.ORDINARY  # which comes first changes from pair to pair
        name, pair = f"s{number + 1}", f"p{number // 2 + 1}"
        dated = first + timedelta(days=number)
        days.append((name, dated.isoformat(), pair, arm.value, "yes", f"simulated, seed {asked.seed}"))
        values += _values(name, ways[arm], course, asked, number)
    return {
        "days.csv": _table(("day", "date", "pair", "rules", "simulated", "note"), days),
        "values.csv": _table(("day", "outcome", "value", "group"), values),
    }


def _first_day(trial: Overlay, pairs: int) -> date:
    """First day of a season that lies in the window of its trial."""
    first, last = trial.life.first_day or _FIRST_DAY, trial.life.last_day
    if last is not None and (last - first).days + 1 < 2 * pairs:
        message = f"The window of the trial has {(last - first).days + 1} days."
        raise StudyError(message, field=Field.PAIRS, hint="Give fewer pairs.")
    return first


def _values(name: str, way: WayPlayed, course: PlayedCourse, asked: ForecastAsked, number: int) -> Iterator[tuple[str, ...]]:
    """The values of one day."""
    field = course.field(asked, way.interval_min)
    arm = way.arm(field, course.assumed, asked, 1)
    day = play_out(arm.rules, field, draw_days(field, asked.seed + _OWN_DAYS, [number]))
    besides = _besides_chance_min(asked, number)
    for group in range(len(field.starts)):
        called = f"g{group + 1}"
        yield name, "round_min", f"{day.played.round_min[group, 0] + besides:.1f}", called
        yield name, "waiting_min", f"{day.played.waiting_min[group, 0]:.1f}", called
        searches = list(_searches(day, group))
        yield name, "searches", str(len(searches)), called
        for seconds, is_found in searches:
            yield name, "search_s", f"{seconds:.0f}", called
            yield name, "ball_found", "yes" if is_found else "no", called


def _searches(day: PlayedOut, group: int) -> Iterator[tuple[float, bool]]:
    """Each search of a group: how long, and whether the ball was found."""
    for happened in day.happened:
        seconds, count = happened.counted["search_s"]
        found, _ = happened.counted["ball_found"]
        if count[group, 0]:
            yield float(seconds[group, 0]), bool(found[group, 0])


def _besides_chance_min(asked: ForecastAsked, number: int) -> float:
    """How much longer than others a day's rounds are for what nobody simulates; nothing where no spread is stated."""
    spread = asked.spread.get(SPREAD_OF, 0.0)
    return float(stream(asked.seed + _OWN_DAYS, number, Purpose.BETWEEN_DAYS).standard_normal()) * spread


def _table(heading: tuple[str, ...], rows: list[tuple[str, ...]]) -> str:
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(heading)
    writer.writerows(rows)
    return text.getvalue()
