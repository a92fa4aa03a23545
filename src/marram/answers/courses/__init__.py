"""Answers about a course: its faults, its marking, places on it, holes, what came of an import."""
