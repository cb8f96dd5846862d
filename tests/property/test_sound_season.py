"""The quick reader of season plans says the same as the one that tells faults, or nothing."""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import cache
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from bedwright.store import season
from bedwright.store.sound_season import NotSoundError, sound_season
from tests.plans import demo_plan

STRANGE = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-3, 3000),
    st.floats(),
    st.sampled_from(["", "2027-02-30", "2027-03-01", "beet", "-1", "sow", "circle"]),
    st.just([]),
    st.just({}),
    st.just([1.0, 2.0]),
    st.just({"shape": "circle"}),
)


@cache
def _text() -> str:
    return season.season_json(demo_plan())


def _places(value: Any) -> Iterator[tuple[Any, Any]]:
    """Every container with each of its keys."""
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, inner in items:
        yield value, key
        yield from _places(inner)


def test_the_quick_reader_reads_what_is_written() -> None:
    assert sound_season(json.loads(_text()), rows=season._ROWS, shape=season._SHAPE) == demo_plan()


@given(st.data())
def test_the_quick_reader_takes_no_file_that_the_other_finds_fault_with(data: st.DataObject) -> None:
    document = json.loads(_text())
    places = list(_places(document))
    for _ in range(data.draw(st.integers(1, 2))):
        container, key = places[data.draw(st.integers(0, len(places) - 1))]
        change = data.draw(st.sampled_from(["replace", "add", "take away"]))
        if change == "replace":
            container[key] = data.draw(STRANGE)
        elif change == "add" and isinstance(container, dict):
            container[data.draw(st.sampled_from(["shape", "more", "7"]))] = data.draw(STRANGE)
        elif isinstance(container, list):
            container.append(data.draw(STRANGE))
        else:
            container.pop(key, None)
    reader = season._Reader("season plan")
    told = reader.document(document)
    try:
        plan = sound_season(document, rows=season._ROWS, shape=season._SHAPE)
    except NotSoundError:
        return
    if document.get("format") == season.FORMAT and document.get("schema_version") == season.SCHEMA_VERSION:
        assert not reader.problems
        # As text: what is not a number is not equal to itself.
        assert repr(plan) == repr(told)
