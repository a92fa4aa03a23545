"""Printed sheets: editions and their differences, the measuring strip, the report of a trial."""
