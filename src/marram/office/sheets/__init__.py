"""Jobs that make a sheet of paper and nothing else."""
