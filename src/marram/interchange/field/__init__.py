"""What happens on a day, as files: conditions, incidents, records of a trial."""
