"""The garden book as a YAML file: read with every problem at once, and written."""

from bedwright.store.book.reader import read_book, read_book_text

__all__ = ["read_book", "read_book_text"]
