"""Results as a table for a notice board or a spreadsheet."""

from __future__ import annotations

import csv
from collections.abc import Sequence
from io import StringIO

from marram.core.citations import Citation, merged, rules_once
from marram.scoring.ranked import Ranked, Results, citations_of

_HEADING = ("book", "place", "player", "score", "score_says", "decided_by", "status", "penalties", "rules")
_STARTS_A_FORMULA = ("=", "+", "-", "@")


def results_table(results: Sequence[Results]) -> str:
    """The places under each book as CSV, one player or side a row.

    Args:
        results: The results under each book.
    """
    out = StringIO(newline="")
    table = csv.writer(out, lineterminator="\n")
    table.writerow(_HEADING)
    for one in results:
        for ranked in one.ranked:
            table.writerow([safe_cell(cell) for cell in _row(one, ranked)])
    return out.getvalue()


def _row(results: Results, ranked: Ranked) -> tuple[str, ...]:
    placed = ranked.placed
    return (
        results.book,
        str(placed.place) if placed is not None else "",
        ranked.name,
        "" if ranked.total is None else str(ranked.total),
        ranked.words,
        placed.decided_by if placed is not None else "",
        ranked.status.value,
        "; ".join(f"{charge.says}{f' ({charge.ruling})' * bool(charge.ruling)}" for charge in ranked.charges),
        rules_once(citations_of(ranked)),
    )


def safe_cell(cell: str) -> str:
    """A cell that no spreadsheet takes for a formula; numbers below zero stay numbers."""
    is_number = cell.removeprefix("-").isdigit()
    return f"'{cell}" if cell.startswith(_STARTS_A_FORMULA) and not is_number else cell


def rules_behind(results: Results) -> tuple[Citation, ...]:
    """Every rule that the results under a book rest on."""
    return merged(results.tie_citations, *(citations_of(ranked) for ranked in results.ranked))
