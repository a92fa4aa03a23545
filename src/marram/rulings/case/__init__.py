"""One incident under one book: what is known of it, what its procedures ask, and what a ruling says."""
