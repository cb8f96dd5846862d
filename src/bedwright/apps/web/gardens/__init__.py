"""Gardens and their books, revision by revision."""
