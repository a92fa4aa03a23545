"""marram act: what an act leads to."""
