"""What designs are asked for by: one short name each."""

from __future__ import annotations

from enum import StrEnum


class DesignName(StrEnum):
    """The designs that can be planned."""

    PAIRED_DAYS = "paired-days"
    CROSS_OVER = "cross-over"
    CROSS_OVER_BY_HALF = "cross-over-by-half"
    GROUPS = "groups-within-a-day"
    CHANGES_OVER_DAYS = "changes-over-days"
    STEPPED = "stepped-roll-out"
