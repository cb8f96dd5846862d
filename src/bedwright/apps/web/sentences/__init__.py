"""Sentences of the engine, put into the reader's language at the door.

The engine, the store and the catalogue write plain English, and saved plans hold it as it was written.
Here finished sentences are recognised by patterns with holes and written anew in the language of the page.
What no pattern knows stays English and is marked so.
"""

from bedwright.apps.web.sentences.speaking import (
    Piece,
    in_language,
    part_in_language,
    pieces_of,
    value_in_language,
)

__all__ = ["Piece", "in_language", "part_in_language", "pieces_of", "value_in_language"]
