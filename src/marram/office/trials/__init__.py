"""Jobs on a trial: draft it, check it, plan it, report on it, make its guide."""
