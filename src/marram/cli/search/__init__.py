"""marram search: whether a ball was found in time."""
