"""The web application: an editor and a reader of garden books and season plans."""
