"""Draw Thimble Moor anew: `python -m builders.demo_course [FILE]`."""

import sys
from pathlib import Path

from builders.demo_course import ground, holes, traps, water
from builders.demo_course.features import Sheet, write

ORDER = (
    "boundary", "boundary-object", "line-of-play", "teeing-area", "fairway", "putting-green", "hole-location", "bunker",
    "penalty-area", "dropping-zone", "immovable-obstruction", "integral-object", "ground-under-repair",
    "temporary-water", "animal-hole", "no-play-zone", "trees",
)  # fmt: skip
COURSE_FILE = Path(__file__).parents[2] / "examples" / "courses" / "thimble-moor.geojson"


def draw() -> Sheet:
    """The whole course in metres."""
    sheet = Sheet()
    holes.add_lines(sheet)
    ground.add_boundary(sheet)
    holes.add_tees(sheet)
    holes.add_greens(sheet)
    holes.add_bunkers(sheet)
    water.add_water(sheet)
    ground.add_paths(sheet)
    ground.add_buildings(sheet)
    holes.add_fairways(sheet)
    ground.add_walls(sheet)
    ground.add_conditions(sheet)
    ground.add_trees(sheet)
    traps.note_traps(sheet)
    sheet.features.sort(key=lambda feature: ORDER.index(feature.kind))
    return sheet


if __name__ == "__main__":
    write(draw(), Path(sys.argv[1]) if len(sys.argv) > 1 else COURSE_FILE)
