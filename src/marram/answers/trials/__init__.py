"""Answers about a trial: its faults, what it changes, its plan, its guide, its report."""
