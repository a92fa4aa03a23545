"""Files damaged in every way that a seed allows: each is read, or refused with what is wrong, where, and what to do."""
