"""marram suspension: play that is stopped."""
