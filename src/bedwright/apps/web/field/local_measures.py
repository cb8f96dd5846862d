"""Measures of the papers with the decimal sign of the page's language."""

from __future__ import annotations

import re
from dataclasses import dataclass

from django.utils.formats import get_format

from bedwright.papers.measures import Measures

_POINT = re.compile(r"(?<=\d)\.(?=\d)")


def _local(words: str) -> str:
    return _POINT.sub(get_format("DECIMAL_SEPARATOR"), words)


@dataclass(frozen=True, slots=True)
class LocalMeasures(Measures):
    """Lengths as the papers round them, written as people of the language write them."""

    def place(self, length_m: float) -> str:
        """A distance to be measured out."""
        return _local(Measures.place(self, length_m))

    def extent(self, length_m: float) -> str:
        """A side of a bed."""
        return _local(Measures.extent(self, length_m))

    def spacing(self, length_m: float) -> str:
        """A distance from plant to plant."""
        return _local(Measures.spacing(self, length_m))

    def depth(self, depth_mm: float) -> str:
        """A depth of sowing."""
        return _local(Measures.depth(self, depth_mm))
