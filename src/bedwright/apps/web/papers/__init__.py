"""Papers to print, and the calendar feed."""
