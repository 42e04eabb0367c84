"""Commands: what is typed, what is printed, nothing else."""
