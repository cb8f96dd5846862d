from importlib.resources import as_file, files

import pytest
from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

from bedwright.papers.letters import CAP_HEIGHT, REGULAR, SEMI_BOLD, text_width_mm


@pytest.mark.parametrize(("style", "table"), [("Regular", REGULAR), ("SemiBold", SEMI_BOLD)])
def test_the_table_of_widths_is_that_of_the_font(style: str, table: tuple[int, ...]) -> None:
    source = files("fontpkg_ibm_plex_sans_condensed") / "files" / f"IBMPlexSansCondensed-{style}.ttf"
    with as_file(source) as path, TTFont(path) as font:
        letters = font.getBestCmap()
        widths = tuple(font["hmtx"][letters[k]][0] for k in range(32, 127))
        assert widths == table
        assert font["OS/2"].sCapHeight / font["head"].unitsPerEm == CAP_HEIGHT


def test_a_bold_word_is_wider_than_a_plain_one() -> None:
    assert text_width_mm("24 BET", 7.0, bold=True) > text_width_mm("24 BET", 7.0) > 0
