"""Surveyed ground: the metric frame, the partition into areas of the course, holes, conditions, and where a place lies."""

from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Frame, Position
from marram.course.holes import Hole
from marram.course.locate import Place, locate

__all__ = ["Course", "Feature", "Frame", "Hole", "Place", "Position", "locate"]
