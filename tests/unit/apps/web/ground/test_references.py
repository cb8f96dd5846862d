from __future__ import annotations

from bedwright.apps.web.ground.references import with_bed_codes

DOCUMENT = {
    "beds": [{"code": "A"}],
    "history": [{"bed": "A", "year": 2025}, {"bed": "B", "year": 2025}],
    "wishes": [
        {"crop": "carrot", "beds": {"only": ["A", "B"]}},
        {"crop": "pea", "beds": {"only": ["B"], "not": ["A"]}},
        {"crop": "leek"},
    ],
}


def test_a_new_code_follows_into_history_and_wishes() -> None:
    changed = with_bed_codes(DOCUMENT, {"A": "Q"})

    assert [entry["bed"] for entry in changed["history"]] == ["Q", "B"]
    assert changed["wishes"][0]["beds"] == {"only": ["Q", "B"]}
    assert changed["wishes"][1]["beds"] == {"only": ["B"], "not": ["Q"]}
    assert changed["wishes"][2] == {"crop": "leek"}


def test_two_beds_may_change_their_codes_for_each_other() -> None:
    changed = with_bed_codes(DOCUMENT, {"A": "B", "B": "A"})

    assert [entry["bed"] for entry in changed["history"]] == ["B", "A"]
    assert changed["wishes"][0]["beds"] == {"only": ["B", "A"]}


def test_a_bed_forgotten_leaves_no_empty_list_behind() -> None:
    changed = with_bed_codes(DOCUMENT, {"B": None})

    assert [entry["bed"] for entry in changed["history"]] == ["A"]
    assert changed["wishes"][0]["beds"] == {"only": ["A"]}
    assert changed["wishes"][1]["beds"] == {"not": ["A"]}


def test_nothing_changes_where_no_code_did() -> None:
    assert with_bed_codes(DOCUMENT, {}) is DOCUMENT
