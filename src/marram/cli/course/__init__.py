"""marram course: survey, check and marking of a course."""
