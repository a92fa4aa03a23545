"""Running an event: terms, entries, draw, starting times, cards and results, over a store."""
