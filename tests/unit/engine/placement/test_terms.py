"""The table of terms is the one place of weights, and the page on placement prints it."""

from __future__ import annotations

from pathlib import Path

import pytest

from bedwright.engine.placement import TERMS, Term

PAGE = Path(__file__).parents[4] / "docs" / "placement.md"


@pytest.mark.parametrize("term", TERMS.values(), ids=TERMS)
def test_the_page_prints_each_term_with_unit_and_weight(term: Term) -> None:
    line = f"| {term.name} | {term.weight:g} | {term.unit} | {term.meaning} |"
    assert line in PAGE.read_text(encoding="utf-8")
