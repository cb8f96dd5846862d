"""Commands of the guide and the README are commands there are, with options they take."""

import re
from pathlib import Path

import pytest

from bedwright.apps.cli.main import COMMANDS, _parser

ROOT = Path(__file__).parents[3]
LINES = [
    pytest.param(words, id=f"{page.name}: {words}")
    for page in (ROOT / "README.md", ROOT / "docs" / "guide.md")
    for block in re.findall(r"```sh\n(.*?)```", page.read_text(encoding="utf-8"), re.DOTALL)
    for words in re.findall(r"^\.venv/bin/bedwright (.*)$", block, re.MULTILINE)
]


@pytest.mark.parametrize("words", LINES)
def test_a_command_shown_is_understood(words: str) -> None:
    arguments = words.split("#", maxsplit=1)[0].split()
    options = _parser(arguments).parse_args(arguments)
    assert callable(options.run)


def test_make_targets_shown_exist() -> None:
    targets = re.findall(r"^([a-z]+):", (ROOT / "Makefile").read_text(encoding="utf-8"), re.MULTILINE)
    shown = re.findall(r"`?make ([a-z]+)", (ROOT / "README.md").read_text(encoding="utf-8"))
    assert shown
    assert set(shown) <= set(targets)


def test_every_local_link_of_the_pages_leads_somewhere() -> None:
    for page in [ROOT / "README.md", ROOT / "CONTRIBUTING.md", *sorted((ROOT / "docs").rglob("*.md"))]:
        for target in re.findall(r"\]\(([^)#]+)(?:#[^)]*)?\)", page.read_text(encoding="utf-8")):
            if not target.startswith(("http:", "https:")):
                assert (page.parent / target).exists(), f"{page.name} links to {target}"


def test_the_guide_names_every_exit_code() -> None:
    guide = (ROOT / "docs" / "guide.md").read_text(encoding="utf-8")
    for code in (0, 1, 2, 3, 130):
        assert f"| {code} |" in guide


def test_every_command_has_a_line_in_the_readme_or_the_guide() -> None:
    text = "".join((ROOT / name).read_text(encoding="utf-8") for name in ("README.md", "docs/guide.md"))
    for name in COMMANDS:
        assert f"bedwright {name}" in text or f"make {name}" in text
