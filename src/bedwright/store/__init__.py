"""Reading and writing garden books, weather records and season files."""
