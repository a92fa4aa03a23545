"""Answers as outsiders read them: every JSON shape in one place, made of what the office returns."""
