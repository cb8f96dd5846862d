"""The garden book as a YAML file: read with every problem at once, and written."""

from bedwright.store.book.json_schema import json_schema
from bedwright.store.book.reader import read_book, read_book_text, text_of_file
from bedwright.store.book.write import write_book

__all__ = ["json_schema", "read_book", "read_book_text", "text_of_file", "write_book"]
