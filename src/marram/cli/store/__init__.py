"""marram store: backup, restore and verify what is kept of events."""
