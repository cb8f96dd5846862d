from __future__ import annotations

from dataclasses import replace

import pytest

from bedwright.apps.web.gardens.reading import book_of
from bedwright.model.book import Amount, Wish
from bedwright.service.demo_garden import demo_book
from bedwright.store.weaving import weave
from bedwright.store.weaving.end_comments import end_comments


@pytest.fixture(scope="module")
def demo_text() -> str:
    with demo_book() as path:
        return path.read_text(encoding="utf-8")


def changed_lines(old: str, new: str) -> tuple[list[str], list[str]]:
    """Lines gone and lines come."""
    before, after = old.split("\n"), new.split("\n")
    return [line for line in before if line not in after], [line for line in after if line not in before]


def test_an_unchanged_book_keeps_its_text_to_the_letter(demo_text: str) -> None:
    assert weave(demo_text, book_of(demo_text), book_of) == demo_text


def test_a_change_of_one_wish_touches_only_its_lines(demo_text: str) -> None:
    book = book_of(demo_text)
    wishes = tuple(
        replace(wish, priority=1) if wish.code == "bush tomatoes" else wish for wish in book.wishes
    )
    gone, come = changed_lines(demo_text, weave(demo_text, replace(book, wishes=wishes), book_of))
    assert gone == ["    code: bush tomatoes"]
    assert come == ["  - code: bush tomatoes", "    crop: tomato"]


def test_comments_of_a_changed_entry_stay_above_it(demo_text: str) -> None:
    book = book_of(demo_text)
    beds = tuple(replace(bed, sun_h=6.0) if bed.code == "N" else bed for bed in book.beds)
    text = weave(demo_text, replace(book, beds=beds), book_of)
    assert "# Watched in June 2026" in text
    assert "sun_h: 6" in text
    assert text.count("#") == demo_text.count("#")


def test_a_removed_entry_leaves_its_comments(demo_text: str) -> None:
    book = book_of(demo_text)
    text = weave(demo_text, replace(book, wishes=book.wishes[1:]), book_of)
    assert "# Bought as small tubers" in text
    assert book_of(text).wishes == book.wishes[1:]


def test_a_new_section_comes_in_without_touching_the_others(demo_text: str) -> None:
    short = demo_text[: demo_text.index("stock:")]
    book = book_of(demo_text)
    text = weave(short, book, book_of)
    assert book_of(text) == book
    assert text.startswith(short.rstrip("\n"))


def test_a_book_in_braces_on_one_line_is_written_anew_and_says_the_same(demo_text: str) -> None:
    text = (
        "{site: {name: G, latitude_deg: 50, longitude_deg: 0, elevation_m: 3, time_zone: Europe/London}, "
        "season: {start: 2027-01-01}, weather: {stated_frost: {last_spring: 05-01, first_autumn: 10-10}}, "
        "beds: [{code: A, texture: loam, rectangle: {length_ft: 10, width_m: 1, east_m: 0, north_m: 0, "
        "bearing_deg: 0}}], wishes: []}"
    )
    book = book_of(text)
    wished = replace(book, wishes=(Wish("carrot-1", "carrot", Amount(3.0, "row_m")),))
    assert book_of(weave(text, wished, book_of)) == wished


def test_entries_indented_otherwise_are_joined_by_entries_indented_alike() -> None:
    text = (
        "site:\n    name: G\n    latitude_deg: 50\n    longitude_deg: 0\n    elevation_m: 3\n"
        "    time_zone: Europe/London\nseason: {start: 2027-01-01}\n"
        "weather:\n    stated_frost: {last_spring: 05-01, first_autumn: 10-10}\nbeds:\n"
        "-   code: A\n    texture: loam\n    circle: {radius_m: 1, east_m: 0, north_m: 0}\n"
        "wishes:\n# the school's\n-   crop: carrot\n    row_m: 3\n"
    )
    book = book_of(text)
    wished = replace(book, wishes=(*book.wishes, Wish("kale-1", "kale", Amount(5, "plants"))))
    woven = weave(text, wished, book_of)
    assert book_of(woven) == wished
    assert "# the school's\n-   crop: carrot\n" in woven


COMMENTED = """\
# of the whole book
site: # where
  name: G  # the school's
  latitude_deg: 50
  longitude_deg: 0
  elevation_m: 3
  time_zone: Europe/London
season: {start: 2027-01-01} # as every year
weather:
  stated_frost: {last_spring: 05-01, first_autumn: 10-10}  # told by neighbours
beds:
  - code: A # by the gate
    # watched
    texture: loam   # felt by hand
    rectangle: # measured
      length_m: 3 # with the long tape
      width_m: 1.2
      east_m: 0
      north_m: 0
      bearing_deg: 0
    name: "two # signs" # and one comment
  - {code: B, texture: loam, circle: {radius_m: 1, east_m: 5, north_m: 0}} # the round one
wishes:
  - crop: carrot # for soup
    row_m: 3 # at most
"""


def changed_bed(text: str, code: str, **fields: object) -> str:
    book = book_of(text)
    beds = tuple(replace(bed, **fields) if bed.code == code else bed for bed in book.beds)  # type: ignore[arg-type]
    changed = replace(book, beds=beds)
    woven = weave(text, changed, book_of)
    assert book_of(woven) == changed
    return woven


def comments(text: str) -> list[str]:
    return sorted(
        line[line.index("# ") :].strip()
        for line in text.replace('"two # signs"', "").splitlines()
        if "# " in line
    )


def test_comments_at_the_ends_of_lines_stay_behind_their_keys() -> None:
    woven = changed_bed(COMMENTED, "A", sun_h=5.0)
    assert all(each in woven for each in comments(COMMENTED))
    assert "texture: loam  # felt by hand" in woven
    # What is written in one line now has its comments behind it together.
    assert "bearing_deg: 0}  # measured  # with the long tape" in woven
    assert "code: A  # by the gate" in woven


def test_a_comment_whose_key_is_gone_stays_with_its_entry() -> None:
    woven = changed_bed(COMMENTED, "A", name="")
    assert "# and one comment" in woven
    again = changed_bed(woven, "A", texture="clay")
    assert comments(again) == comments(woven)
    assert "texture: clay  # felt by hand" in again


def test_an_entry_in_braces_keeps_its_comment_when_it_is_changed() -> None:
    assert "# the round one" in changed_bed(COMMENTED, "B", texture="clay")


def test_a_changed_key_of_a_section_keeps_its_comment() -> None:
    book = book_of(COMMENTED)
    changed = replace(book, site=replace(book.site, name="H"))
    woven = weave(COMMENTED, changed, book_of)
    assert "name: H  # the school's" in woven
    assert comments(woven) == comments(COMMENTED)


@pytest.mark.parametrize(
    ("line", "comment"),
    [
        ("note: it's # so", "# so"),
        ("note: 'it''s # no' # so", "# so"),
        ('note: "a \\" # no" # so', "# so"),
        ("note: a#b", None),
        ("- {note: 'a # b', at: 1} # so", "# so"),
        ('note: say "hello # so" here', '# so" here'),
    ],
)
def test_a_comment_is_told_from_a_sign_in_a_text(line: str, comment: str | None) -> None:
    assert [each.text for each in end_comments([line])] == ([] if comment is None else [comment])


def test_signs_inside_texts_over_several_lines_are_no_comments() -> None:
    lines = ["note: |  # so", "  a # b", "", "  c # d", 'other: "e # f', '  g # h" # too', "last: 1 # three"]
    assert [(each.path, each.text) for each in end_comments(lines)] == [
        (("note",), "# so"),
        (("other",), "# too"),
        (("last",), "# three"),
    ]
