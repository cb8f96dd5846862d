"""The people file of a workday: read with every problem at once."""

from bedwright.store.people.reader import read_people, read_people_text
from bedwright.store.people.schema import PEOPLE_FILE

__all__ = ["PEOPLE_FILE", "read_people", "read_people_text"]
