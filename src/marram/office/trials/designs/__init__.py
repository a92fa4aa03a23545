"""Designs of a trial, each with one way to draw and freeze it, to refuse it, and to weigh what was recorded."""
