"""Invents Thimble Moor, the demo course, and writes examples/courses/thimble-moor.geojson.

Run it from the root of the repository with `python -m builders.demo_course`. Everything is drawn in metres east and
north of the origin and only the last step makes longitudes and latitudes of it. Equal code gives equal bytes.
"""
