"""The catalogue as one immutable value, read from the data files of the package."""

from __future__ import annotations

import hashlib
from dataclasses import replace
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from types import MappingProxyType

from bedwright.catalogue.assemble import (
    crop_record,
    decision_faults,
    facts_by_crop,
    missing_faults,
    standing_faults,
)
from bedwright.catalogue.materials import load_materials
from bedwright.catalogue.rows import read_facts, read_names, read_neighbours, read_sources, read_text
from bedwright.model.crop import Catalogue
from bedwright.model.problem import BadDocumentError, Problem

DATA_FILES = ("sources.csv", "crops.csv", "facts.csv", "neighbours.csv")


@cache
def load_catalogue() -> Catalogue:
    """The catalogue that comes with the package; read once, since it never changes.

    Raises
    ------
    BadDocumentError
        If a data file has any fault; carries all of them.
    """
    catalogue = read_catalogue(files("bedwright.catalogue").joinpath("data"))
    materials = load_materials()
    return replace(
        catalogue,
        version=_digest({"crops": catalogue.version, "materials": repr(materials)}),
        materials=materials,
    )


def read_catalogue(folder: Traversable) -> Catalogue:
    """The catalogue from the four data files of a folder.

    Parameters
    ----------
    folder : Traversable
        Holds `sources.csv`, `crops.csv`, `facts.csv` and `neighbours.csv`.

    Returns
    -------
    Catalogue
        Every crop with all its facts; of each quantity at most one fact is used, by the rule
        of `bedwright.catalogue.choice`.

    Raises
    ------
    BadDocumentError
        If a value has no source or locator, a source, unit or quantity is unknown, a range
        is upside down or out of bounds, a plan code is given twice, or a crop lacks a
        required quantity. All faults are reported at once, with file, line and column.
    """
    texts = {name: read_text(folder, name) for name in DATA_FILES}
    faults: list[Problem] = []
    sources, ranks = read_sources(texts["sources.csv"], faults)
    names = read_names(texts["crops.csv"], sources, faults)
    known = {name.name for name in names}
    rows = read_facts(texts["facts.csv"], known, sources, faults)
    neighbours = read_neighbours(texts["neighbours.csv"], known, sources, faults)
    faults += standing_faults(rows, ranks)
    faults += decision_faults(rows)
    facts = facts_by_crop(rows, ranks)
    for name in names:
        faults += missing_faults(name, facts.get(name.name, ()))
    if faults:
        raise BadDocumentError(tuple(faults))
    crops = {
        name.name: crop_record(name, facts[name.name]) for name in sorted(names, key=lambda row: row.name)
    }
    return Catalogue(
        version=_digest(texts),
        crops=MappingProxyType(crops),
        neighbours=neighbours,
        sources=MappingProxyType(dict(sorted(sources.items()))),
    )


def _digest(texts: dict[str, str]) -> str:
    digest = hashlib.sha256()
    for name, text in texts.items():
        digest.update(f"{name}\n{len(text)}\n{text}".encode())
    return digest.hexdigest()[:12]
