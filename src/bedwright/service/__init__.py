"""Use cases: the one place that joins reading, planning and writing."""
