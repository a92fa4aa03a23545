"""marram event: a competition from entries to results, kept in a store."""
