"""Pace: how groups follow each other over the holes of a course, stage by stage, for many days at once."""
