"""marram trial: a trial from draft to report."""
