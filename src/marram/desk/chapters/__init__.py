"""Chapters of the desk besides the ruling: a folder each, which knows of no other."""
