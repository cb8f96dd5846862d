"""What goes where."""
