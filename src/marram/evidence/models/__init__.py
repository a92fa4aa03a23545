"""Models that keep the rows: counts, yes and no, answers in steps, times with days that differ; beside what the days say, never instead."""
