"""Turns a template and its data into pages: the one place that speaks to the typesetter.

No network, no fonts of the machine: the letterforms come with the package, so the same
data give the same bytes anywhere.
"""

from __future__ import annotations

import json
import warnings
from collections.abc import Mapping
from datetime import UTC, date, datetime
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any, Literal

import typst

_TEMPLATES = Path(__file__).parent / "templates"
PNG_PIXELS_PER_INCH = 144.0
_KEPT_COMPILATIONS = 10
"""The typesetter holds in memory what any of so many last compilations made use of."""


@cache
def _fonts() -> typst.Fonts:
    """Fonts are read once; they are the same for every page."""
    return typst.Fonts(
        include_system_fonts=False,
        include_embedded_fonts=False,
        font_paths=[str(files("fontpkg_ibm_plex_sans_condensed") / "files")],
    )


def typeset(
    template: str, data: Mapping[str, Any], made_on: date, *, output: Literal["pdf", "svg", "png"] = "pdf"
) -> bytes:
    """Pages of one paper.

    Parameters
    ----------
    template
        Name of a template without its suffix, such as `"week-list"`.
    data
        What the template shows; only what JSON can hold.
    made_on
        Day written into the file as its making, so that a repeat gives the same bytes.
    output
        Only one-page papers can become `"svg"` or `"png"`.

    Raises
    ------
    typst.TypstError
        If the template and its data do not fit: a fault of this package.
    """
    compiler = typst.Compiler(root=str(_TEMPLATES), font_paths=_fonts(), ignore_system_fonts=True)
    made, notes = compiler.compile_with_warnings(
        str(_TEMPLATES / f"{template}.typ"),
        format=output,
        ppi=PNG_PIXELS_PER_INCH,
        sys_inputs={"data": json.dumps(data, ensure_ascii=False, sort_keys=True)},
        timestamp=datetime(made_on.year, made_on.month, made_on.day, tzinfo=UTC),
    )
    _let_go(compiler)
    for note in notes:
        warnings.warn(f"{template}: {note.message}", stacklevel=2)
    if isinstance(made, list):
        raise TypeError(f"{template} has {len(made)} pages; as {output} it can have one")
    if made is None:
        raise RuntimeError(f"{template}: nothing was made")
    return made


def _let_go(compiler: typst.Compiler) -> None:
    """Have the typesetter drop what it remembers of a paper: no other paper repeats it.

    Left alone, the papers of a season take 200 MB more. Empty pages cost a millisecond each.
    """
    for _ in range(_KEPT_COMPILATIONS + 1):
        compiler.compile(b"", format="svg", sys_inputs=None)
