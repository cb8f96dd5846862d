"""Season plans: made in the background, read, compared."""
