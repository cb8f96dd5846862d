"""How days and numbers are written, where it differs from what Django brings."""
