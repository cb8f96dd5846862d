"""Speed of the papers: labels against a bare loop of the same typesetter, and a whole large plan.

The peer is typst itself setting 500 pages' worth of the same words without frame, fitting or
code to scan: what is above it is our own cost.
"""

from __future__ import annotations

import json
import resource
import tempfile
import time
from pathlib import Path

import typst

from bedwright.papers import LABEL_SHEETS, default_label_sheet, write_papers
from bedwright.papers.labels import labels_data
from bedwright.papers.typesetting import typeset
from tests.plans import big_plan

N_LABELS = 500
N_PLANTINGS = 60

_BARE = """
#let data = json(bytes(sys.inputs.data))
#set page(width: 210mm, height: 297mm, margin: 0mm)
#for words in data { block(width: 70mm, height: 37mm, words.join(linebreak())) }
"""


def main() -> None:
    plan = big_plan(N_PLANTINGS)
    sheet = next(iter(LABEL_SHEETS.values()))
    started = time.perf_counter()
    data = labels_data(plan, sheet, every_row=True)
    copies = -(-N_LABELS // len(data["labels"]))
    data["labels"] = (data["labels"] * copies)[:N_LABELS]
    drawn = time.perf_counter()
    typeset("labels", data, plan.made_on)
    set_in_type = time.perf_counter()
    words = json.dumps([[line["s"] for line in label["lines"]] for label in data["labels"]])
    typst.compile(_BARE.encode(), format="pdf", sys_inputs={"data": words})
    bare = time.perf_counter() - set_in_type
    ours = set_in_type - drawn
    print(f"{N_LABELS} labels: codes drawn {drawn - started:.2f} s, typesetting {ours:.2f} s")
    print(f"bare typst, same words: {bare:.2f} s; ratio {ours / bare:.2f}")
    with tempfile.TemporaryDirectory() as folder:
        started = time.perf_counter()
        written = write_papers(
            plan, Path(folder), paper="a4", units="metric", label_sheet=default_label_sheet("a4").name
        )
        took = time.perf_counter() - started
        size = sum(path.stat().st_size for path in written)
    print(f"{N_PLANTINGS} plantings: {len(written)} files, {size / 1e6:.1f} MB in {took:.1f} s")
    print(f"largest memory of the run: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")


if __name__ == "__main__":
    main()
