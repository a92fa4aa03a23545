"""What is kept of events: rows that are appended and superseded, never changed, in one SQLite file."""
