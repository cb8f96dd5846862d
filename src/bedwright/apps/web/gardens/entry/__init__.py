"""Forms made from the schema of the garden book: boxes to fill in, what was posted, what is wrong."""
