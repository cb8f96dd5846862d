"""The ways in: command line and web."""
