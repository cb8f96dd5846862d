"""Tasks and hours."""
