"""The page on sources is written from the data and kept up to date."""

from __future__ import annotations

from pathlib import Path

from bedwright.catalogue import load_catalogue, share_published
from bedwright.catalogue.choice import RULE
from bedwright.catalogue.report import sources_page

PAGE = Path(__file__).parents[3] / "docs" / "sources.md"


def test_the_page_on_sources_is_up_to_date() -> None:
    # If this fails: python -m bedwright.catalogue.report > docs/sources.md
    assert PAGE.read_text(encoding="utf-8") == sources_page(load_catalogue())


def test_the_page_states_the_rule_and_the_share() -> None:
    page = sources_page(load_catalogue())
    assert all(sentence in page for sentence in RULE)
    assert f"({share_published(load_catalogue()).used_pct:.0f} %)" in page


def test_every_source_is_listed() -> None:
    catalogue = load_catalogue()
    page = sources_page(catalogue)
    assert all(f"| {source_id} |" in page for source_id in catalogue.sources)
