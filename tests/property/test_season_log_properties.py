"""A log says the same in whatever order, and however often, its lines arrive."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from random import Random

from hypothesis import given
from hypothesis import strategies as st

from bedwright.model.log import LogKind, LogRecord
from bedwright.service.season_log import season_as_logged, standing_records
from tests.plantings import planting, season_plan

START = datetime(2027, 5, 1, tzinfo=UTC)
KINDS: tuple[LogKind, ...] = ("sown", "thinned", "picked", "counted", "failed", "rain", "left")


@st.composite
def logs(draw: st.DrawFn) -> list[LogRecord]:
    """Lines and corrections of lines before them, by clocks that may be wrong by a year."""
    records: list[LogRecord] = []
    for number in range(draw(st.integers(1, 25))):
        corrected = draw(st.sampled_from([""] + [each.id for each in records]))
        records.append(
            LogRecord(
                id=f"{number:04}",
                day=date(2027, 5, 1) + timedelta(days=draw(st.integers(0, 60))),
                kind=draw(st.sampled_from(KINDS)),
                at=START + timedelta(days=draw(st.integers(-365, 365)), minutes=number),
                planting_code="carrot-1",
                crop="carrot",
                task_code=draw(st.sampled_from(["", "carrot-1:sow"])),
                quantity=draw(st.one_of(st.none(), st.integers(0, 50).map(float))),
                unit="plants",
                person_min=draw(st.one_of(st.none(), st.integers(0, 90).map(float))),
                partly=draw(st.booleans()),
                corrects=corrected,
                struck=bool(corrected) and draw(st.booleans()),
            )
        )
    return records


@given(log=logs(), seed=st.integers(0, 1000))
def test_order_and_repetition_of_lines_change_nothing(log: list[LogRecord], seed: int) -> None:
    shuffled = [*log, *log]
    Random(seed).shuffle(shuffled)
    assert standing_records(shuffled) == standing_records(log)
    plan = season_plan(planting())
    today = date(2027, 6, 1)
    assert season_as_logged(plan, shuffled, today=today) == season_as_logged(plan, log, today=today)


@given(log=logs())
def test_at_most_one_line_of_every_chain_of_corrections_holds(log: list[LogRecord]) -> None:
    by_id = {record.id: record for record in log}
    standing = standing_records(log)

    def root(record: LogRecord) -> str:
        return root(by_id[record.corrects]) if record.corrects else record.id

    roots = [root(record) for record in standing]
    assert len(roots) == len(set(roots))
    assert not any(record.struck for record in standing)
    untouched = {record.id for record in log} - {root(each) for each in log if each.corrects}
    originals = {record.id for record in log if not record.corrects}
    assert (untouched & originals) <= {record.id for record in standing}
