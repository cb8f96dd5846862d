"""Direct sun that reaches each bed."""
