"""Tables of what was observed on the day of an event."""
