"""What is drawn: a hole, a ruling, a marking, an interval; each made into a scene."""
