"""Words, units, citations and errors that everything above shares."""
