"""Records of a trial as officials bring them back: days and values, read strictly, every fault told by row and column."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path

from marram.core.errors import RecordError
from marram.interchange.field.arms_of_values import with_arms
from marram.interchange.field.asked_players import KIND_NAMES, read_asked
from marram.interchange.field.changes_of_days import changes_on, rules_of
from marram.interchange.field.several_recorders import one_for_each
from marram.interchange.field.written_dates import Order, date_written, order_of
from marram.interchange.field.written_values import SECONDS_IN, YES, clock_s, value_written, within
from marram.interchange.tables.table_rows import Faults, RowReader
from marram.interchange.tables.tables import read_rows, read_table
from marram.records.outcomes import ASKED_BY_THE_TRIAL, Outcome, Per, outcomes
from marram.records.recording import outcome_written
from marram.records.rows import SIMULATED, Arm, LeftOutRow, Observation, Readings, TrialDay, TrialRecords
from marram.rulebook.overlays.overlay import Overlay

_DAYS: dict[str, list[str]] = {
    "day": [], "date": [], "pair": [], "rules": ["book", "arm"], "course": [], "field": [], "start interval": [], "wind": [], "rain": [],
    "green speed": [], "hole locations": [], "wash-out": [], "note": [], "period": [], "changes": [], SIMULATED: [],
}  # fmt: skip
_FACTS = ("field", "start interval", "wind", "rain", "green speed", "hole locations", "wash-out", "note", SIMULATED)
_VALUES: dict[str, list[str]] = {
    name: [] for name in ("day", "outcome", "value", "group", "player", "hole", "change", "question", "form", "from", "to", "checked")
} | {"round": [], "arm": [], "period": ["wave"], "kind": KIND_NAMES, "recorder": ["observer"]}
_BOTH = "both"
"""What stands under rules where they differ within the day."""
_MOST_HOLE, _FEW, _ROUNDS = 36, 5, 2
_HINT = "See docs/formats/trial-records.md."


def read_records(days_file: Path, values_file: Path, trial: Overlay, asked_file: Path | None = None) -> TrialRecords:
    """Read the records of a trial.

    Args:
        days_file: The days: day, date, pair, rules (trial or ordinary), course, and what may confound.
        values_file: The values: day, outcome, value, and group, player, hole, change, form where they are meant. The same workbook may
            hold both.
        trial: The trial that was played.
        asked_file: How many of each kind of player were asked for answers; None where nobody wrote that down.

    Raises:
        RecordError: Rows have faults, all of them told by row and column.
    """
    days, named, faults = _read_days(days_file, len(trial.changes))
    observations, left_out, readings, more = _read_values(values_file, trial, named, {day.day: day for day in days})
    if faults.told and more.told:
        both = Faults(where=f"{faults.where} and {more.where}", error=RecordError, hint=_HINT)
        both.told = [f"{table.where}, {told}" for table in (faults, more) for told in table.told]
        both.refuse()
    faults.refuse()
    more.refuse()
    kept, dropped = _without_outside_days(observations, days, trial)
    asked, told = ((), kept) if asked_file is None else read_asked(asked_file, days, kept)
    return TrialRecords(
        days=tuple(sorted(days, key=lambda day: (day.dated, day.day))),
        observations=tuple(told),
        left_out=(*left_out, *dropped),
        remarks=tuple(_remarks(kept, days)),
        asked=asked,
        readings=readings,
    )


def read_past(days_file: Path, values_file: Path, trial: Overlay) -> TrialRecords:
    """Read the records of an earlier season for the plan of a trial: days may stand in no pair, and all were ordinary where none says more.

    Args:
        days_file: The days, as of a trial; `pair` and `rules` may be left out.
        values_file: The values, of whatever outcomes.
        trial: The trial that is planned: numbers of changes are its own.

    Raises:
        RecordError: Rows have faults, all of them told by row and column.
    """
    days, named, faults = _read_days(days_file, len(trial.changes), is_past=True)
    observations, left_out, _, more = _read_values(values_file, trial, named, {day.day: day for day in days}, is_past=True)
    faults.refuse()
    more.refuse()
    return TrialRecords(
        days=tuple(sorted(days, key=lambda day: (day.dated, day.day))), observations=tuple(observations), left_out=tuple(left_out)
    )


def _read_days(path: Path, changes: int, *, is_past: bool = False) -> tuple[list[TrialDay], frozenset[str], Faults]:
    """The days that can be read, and the names of all of them: a day with a fault is told once, not again for each of its values."""
    wanted = [["day", "date"]] if is_past else [["day", "date", "rules"], ["day", "date", "changes"]]
    table = read_table(path, _DAYS, wanted, what="a table of days", error=RecordError)
    faults = Faults(where=table.where, error=RecordError, hint=_HINT)
    days: list[TrialDay] = []
    order = order_of(str(row.cells.get("date", "")) for row in table.rows)
    if isinstance(order, str) and not isinstance(order, Order):
        faults.add("column date", f"{order}: write them all one way, or as year-month-day")
    known = order if isinstance(order, Order) else None
    read_rows(table, faults, lambda row: days.extend(_day(row, changes, known, is_past=is_past)))
    named = frozenset(str(row.cells.get("day")) for row in table.rows)
    unread = {str(row.cells.get("pair")) for row in table.rows if str(row.cells.get("day")) not in {day.day for day in days}}
    for name, count in Counter(day.day for day in days).items():
        if count > 1:
            faults.add(f"day {name}", "stands in the table more than once: a day has one set of rules")
    if len({day.arm is None for day in days}) > 1:
        faults.add("column rules", f"some days are {_BOTH} and others are not: they are days of two trials; give each its own table")
    if len({day.is_simulated for day in days}) > 1:
        faults.add(f"column {SIMULATED}", "some days were simulated and others were played; give each kind its own table")
    if len({day.changes is None for day in days}) > 1:
        faults.add(
            "column changes", "some days say which changes were on and others do not; write none where the ordinary rules were played"
        )
    for pair in dict.fromkeys(day.pair for day in days if day.pair and day.arm is not None and day.changes is None):
        arms = sorted(_BOTH if day.arm is None else day.arm.value for day in days if day.pair == pair)
        if arms != [Arm.ORDINARY.value, Arm.TRIAL.value] and pair not in unread and not (is_past and len(arms) <= len(Arm)):
            faults.add(f"pair {pair}", f"has {', '.join(arms)}; expected one day under each: repeat or drop it as a pair")
    return days, named, faults


def _day(row: RowReader, changes: int, order: Order | None, *, is_past: bool) -> list[TrialDay]:
    on = changes_on(row, changes)
    name, pair, rules = row.text("day"), row.text("pair"), rules_of(row, on) or (Arm.ORDINARY.value if is_past else "")
    dated = _date(row, order)
    period, known = row.text("period"), (*Arm, _BOTH)
    # a day on which rules differ, that is one of a span of time, or that says which changes were on, needs no like
    is_alone = rules == _BOTH or bool(period) or on is not None or is_past
    for column, text in (("day", name), ("pair", pair or is_alone)):
        if not text:
            row.fault(column, "is empty")
    if rules not in known:
        row.fault("rules", f"{rules!r}; expected one of {', '.join(known)}")
    if not name or not (pair or is_alone) or dated is None or rules not in known:
        return []
    if row.text(SIMULATED) not in {"", "yes", "no"}:
        row.fault(SIMULATED, f"{row.text(SIMULATED)!r}; expected yes or no")
    facts = tuple((fact, row.text(fact)) for fact in _FACTS if row.text(fact))
    arm = None if rules == _BOTH else Arm(rules)
    return [TrialDay(day=name, dated=dated, pair=pair, arm=arm, course=row.text("course"), facts=facts, period=period, changes=on)]


def _date(row: RowReader, order: Order | None) -> date | None:
    found = date_written(row.text("date"), order)
    if isinstance(found, str):
        row.fault("date", found)
        return None
    return found


def _read_values(
    path: Path, trial: Overlay, named: frozenset[str], days: Mapping[str, TrialDay], *, is_past: bool = False
) -> tuple[list[Observation], list[LeftOutRow], tuple[Readings, ...], Faults]:
    table = read_table(
        path, _VALUES, [["day", "outcome", "value"], ["day", "outcome", "from", "to"]], what="a table of values", error=RecordError
    )
    faults = Faults(where=table.where, error=RecordError, hint=_HINT)
    found: list[Observation] = []
    left_out: list[LeftOutRow] = []
    wanted = {key for change in trial.changes for key in change.observes}
    wanted |= {outcomes()[key].counted_by for key in wanted}
    versions = {"", trial.dated.isoformat()}

    def take(row: RowReader) -> None:
        where = f"{table.where}, row {row.row.number}"
        observation = _value(row, named, trial, where)
        if observation is None:
            return
        if is_past:
            found.append(observation)
        elif observation.outcome not in wanted and observation.outcome not in ASKED_BY_THE_TRIAL:
            left_out.append(_left_out(observation, f"no change of the trial observes {observation.outcome}"))
        elif observation.form not in versions:
            left_out.append(_left_out(observation, f"an answer to another version of the form, {observation.form}"))
        else:
            found.append(observation)

    read_rows(table, faults, take)
    each = one_for_each(with_arms(found, days, faults), faults)
    found, left_out = each.observations, [*left_out, *each.left_out]
    seen = Counter(
        (entry.day, entry.outcome, entry.group, entry.player, entry.hole, entry.change, entry.round, entry.period)
        for entry in found
        if _is_one(entry)
    )
    for key, count in seen.items():
        if count > 1:
            faults.add(f"day {key[0]}", f"{key[1]} stands {count} times for group {key[2] or '-'}, player {key[3] or '-'}")
    return found, left_out, each.readings, faults


def _left_out(observation: Observation, reason: str) -> LeftOutRow:
    return LeftOutRow(where=observation.where, reason=reason, day=observation.day, outcome=observation.outcome, arm=observation.arm)


def _is_one(entry: Observation) -> bool:
    """Whether there can be only one such value: for a group or a player in a round, not for a search or a drop.

    An answer that is given twice is no fault of the table: it is queried when the trial is weighed.
    """
    return outcomes()[entry.outcome].per in {Per.GROUP_ROUND, Per.PLAYER_ROUND, Per.GROUP_HOLE}


def _value(row: RowReader, days: frozenset[str], trial: Overlay, where: str) -> Observation | None:
    day, key = row.text("day"), row.text("outcome")
    if day not in days:
        row.fault("day", f"{day!r} is not in the table of days" if day else "is empty")
    try:
        outcome = outcome_written(key)
    except RecordError as problem:
        row.fault("outcome", f"{problem.message} {problem.hint}")
        return None
    value = _written(row, outcome)
    change = row.whole("change", least=1, most=max(len(trial.changes), 1))
    question = _question(row, outcome, trial, change)
    checked = row.text("checked").lower()
    if checked and checked not in YES:
        row.fault("checked", f"{checked!r}; expected yes or no")
    arm = row.text("arm").lower()
    if arm and arm not in list(Arm):
        row.fault("arm", f"{arm!r}; expected one of {', '.join(Arm)}")
    if value is None or day not in days or (arm and arm not in list(Arm)):
        return None
    return Observation(
        day=day,
        outcome=outcome.key,
        value=value,
        group=row.text("group"),
        player=row.text("player"),
        hole=row.whole("hole", least=1, most=_MOST_HOLE),
        change=change,
        form=row.text("form"),
        question=question,
        is_checked=YES.get(checked, 0.0) > 0,
        round=row.whole("round", least=1, most=_ROUNDS),
        arm=Arm(arm) if arm else None,
        period=row.text("period"),
        kind=row.text("kind"),
        recorder=row.text("recorder"),
        where=where,
    )


def _question(row: RowReader, outcome: Outcome, trial: Overlay, change: int | None) -> int | None:
    """Which of the questions that a change asks is answered; the first where only one is asked."""
    if outcome.key not in ASKED_BY_THE_TRIAL:
        return None
    if change is None:
        row.fault("change", "is empty: an answer to a question of the trial says which change asked it")
        return None
    asks = trial.changes[change - 1].asks
    number = row.whole("question", least=1, most=max(len(asks), 1))
    if not asks:
        row.fault("change", f"change {change} asks no question")
    elif number is None and len(asks) > 1 and not row.text("question"):
        row.fault("question", f"is empty: change {change} asks {len(asks)} questions")
    return number or 1


def _written(row: RowReader, outcome: Outcome) -> float | None:
    """The value, in the unit of the outcome, as a value or as from and to."""
    return value_written(row, "value", outcome) if row.text("value") else _between(row, outcome)


def _between(row: RowReader, outcome: Outcome) -> float | None:
    """A time that was written down as from and to."""
    if not row.text("from") and not row.text("to"):
        row.fault("value", "is empty; leave the row out where nothing was observed")
        return None
    if outcome.unit not in SECONDS_IN:
        row.fault("from", f"{outcome.key} is in {outcome.unit}: write its value")
        return None
    clocks = [clock_s(row, column) for column in ("from", "to")]
    if clocks[0] is None or clocks[1] is None:
        return None
    if clocks[1] < clocks[0]:
        row.fault("to", f"{row.text('to')} comes before {row.text('from')}: times run backwards")
        return None
    return within(row, "to", (clocks[1] - clocks[0]) / SECONDS_IN[outcome.unit], outcome)


def _without_outside_days(
    observations: Sequence[Observation], days: Sequence[TrialDay], trial: Overlay
) -> tuple[list[Observation], list[LeftOutRow]]:
    """Rounds under the trial outside its window are not weighed, and with each goes its pair."""
    outside = {day.event for day in days if day.arm is not Arm.ORDINARY and not trial.life.holds_on(day.dated)}
    gone = {day.day: f"{'pair' if day.pair else 'day'} {day.event}" for day in days if day.event in outside}
    kept = [entry for entry in observations if entry.day not in gone]
    counts = Counter(gone[entry.day] for entry in observations if entry.day in gone)
    return kept, [
        LeftOutRow(where=event, reason=f"{count} values: the trial day lies outside the window of the trial")
        for event, count in counts.items()
    ]


def _remarks(observations: Sequence[Observation], days: Sequence[TrialDay]) -> list[str]:
    found = []
    for key in dict.fromkeys(entry.outcome for entry in observations):
        values = [entry.value for entry in observations if entry.outcome == key]
        if len(values) >= _FEW and len(set(values)) == 1:
            found.append(f"All {len(values)} values of {key} are {values[0]:g}: look how they were written down.")
    for fact in ("start interval", "green speed", "hole locations"):
        told = {(day.pair, dict(day.facts).get(fact, "")) for day in days if day.pair and dict(day.facts).get(fact)}
        uneven = [pair for pair, count in Counter(pair for pair, _ in told).items() if count > 1]
        if uneven:
            found.append(
                f"{fact.capitalize()} differs within {', '.join(sorted(uneven))}: what the rules did cannot be told from it there."
            )
    return found
