"""Write the demo course."""

from pathlib import Path

from builders.demo_course.features import Sheet, write
from builders.demo_course.holes import add_bunkers, add_fairways, add_greens, add_lines, add_tees
from builders.demo_course.water import add_boundary_stream, add_water
from builders.demo_course.works import add_boundary, add_conditions, add_paths, add_trees, make_boundary

PATH = Path("examples/courses/thimble-moor.geojson")


def build() -> Sheet:
    """The whole course, in the order in which it is written."""
    sheet = Sheet()
    boundary = make_boundary()
    add_boundary(sheet, boundary)
    add_lines(sheet)
    add_tees(sheet)
    add_greens(sheet)
    add_bunkers(sheet)
    add_water(sheet, boundary)
    add_boundary_stream(sheet, boundary)
    add_paths(sheet)
    add_fairways(sheet)
    add_conditions(sheet)
    add_trees(sheet, boundary)
    return sheet


if __name__ == "__main__":
    write(build(), PATH)
    print(f"Written: {PATH}")
