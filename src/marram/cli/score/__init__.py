"""marram score: places of a competition from its cards."""
