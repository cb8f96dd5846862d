"""The `bedwright` command."""
