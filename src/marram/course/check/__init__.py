"""The check of a survey: faults of outlines, holes, boundary and stroke indexes, each with its remedy."""
