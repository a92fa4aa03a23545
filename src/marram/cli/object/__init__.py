"""marram object: things met on a course."""
