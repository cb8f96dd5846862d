"""The page on sources: the rule, the share of published values, and every source.

`python -m bedwright.catalogue.report > docs/sources.md` writes it anew.
"""

from __future__ import annotations

import sys
from collections import Counter

from bedwright.catalogue.choice import RANKS, RULE
from bedwright.catalogue.load import load_catalogue
from bedwright.catalogue.quantities import QUANTITIES
from bedwright.catalogue.share import share_published
from bedwright.catalogue.sheet import fact_value
from bedwright.model.crop import Catalogue, Fact
from bedwright.model.source import PUBLISHED, Source, Standing

_STANDINGS: dict[Standing, str] = {
    "read": "seen in the named publication",
    "derived": (
        "worked out from a value that was read, by the rule in its row: a group heading, "
        "or the figure of a near relative where the table has no row for the crop"
    ),
    "weak": "seen, but in an unsigned, commercial or second-hand page",
    "practice": "common practice, no source",
    "memory": "recalled, no copy seen: a first guess, shown marked",
}

_TRADE: tuple[tuple[str, str, str], ...] = (
    ("carrot", "sow_depth_mm", "a couple of millimetres deep"),
    ("beet", "sow_depth_mm", "a little over a centimetre"),
    ("pea", "sow_depth_mm", "about 1.5 cm"),
    ("bush bean", "sow_depth_mm", "about 1.5 cm"),
    ("tomato", "stem_depth", "set deep, up to the first leaves"),
    ("tomato", "soak_cell", "soak the cell before knocking out"),
    ("cucumber", "roots", "leave the roots undisturbed"),
)
"""Facts of the trade (common practice, no source) and the value beside which they stand."""


def sources_page(catalogue: Catalogue) -> str:
    """The page `docs/sources.md` as Markdown."""
    parts = [
        "# Sources of the catalogue",
        (
            "Written by `python -m bedwright.catalogue.report > docs/sources.md` from the data files; "
            "a test keeps it up to date. Change the data, not this page."
        ),
        (
            "Every value of a crop stands in one row of `facts.csv` with its source, the table or row "
            "that finds it there, and how well it stands. Values that disagree all stay listed; one is used."
        ),
        "## How well a value stands",
        _table(("standing", "meaning"), list(_STANDINGS.items())),
        "## Which value is used",
        "\n".join(f"{number}. {sentence}" for number, sentence in enumerate(RULE, 1)),
        "Ranks of source:",
        _table(("rank", "kind"), [(str(rank), kind) for rank, kind in RANKS.items()]),
        (
            "From a range the crop record carries the middle, but the lower end of the sun needed and of "
            "the rooting depth (FAO-56 Table 22 gives the lower end for planning irrigation), and both "
            "ends of the days to maturity."
        ),
        "## How many values end at a publication",
        _share(catalogue),
        "## Facts of the trade beside published values",
        (
            "Common practice, no source; where a publication differs, both are listed and the rule decides. "
            "In general, the smaller the seed the shallower it goes."
        ),
        _trade(catalogue),
        "## Values used or left against the rule",
        _table(("crop", "quantity", "value", "source", "decision and reason"), _decisions(catalogue)),
        "## Sources",
        _table(
            ("id", "rows", "citation", "what was seen"),
            [
                (source.id, str(count), source.citation, source.seen)
                for source, count in _counted(catalogue)
            ],
        ),
    ]  # fmt: skip
    return "\n\n".join(parts) + "\n"


def _cell(text: str) -> str:
    return text.replace("|", "\\|").replace("\n", " ")


def _table(heading: tuple[str, ...], rows: list[tuple[str, ...]]) -> str:
    lines = [heading, tuple("---" for _ in heading), *rows]
    return "\n".join("| " + " | ".join(map(_cell, line)) + " |" for line in lines)


def _share(catalogue: Catalogue) -> str:
    share = share_published(catalogue)
    rows: list[tuple[str, ...]] = [
        (standing, str(count), str(used)) for standing, count, used in share.by_standing
    ]
    sentence = (
        f"{len(catalogue.crops)} crops, {share.n_facts} rows. Of the {share.n_used} values in use "
        f"{share.n_used_published} ({share.used_pct:.0f} %) end at a publication that was seen "
        f"(read, derived or weak); of all rows {share.facts_pct:.0f} %."
    )
    return "\n\n".join((sentence, _table(("standing", "rows", "in use"), rows), _by_quantity(catalogue)))


def _by_quantity(catalogue: Catalogue) -> str:
    total: Counter[str] = Counter()
    published: Counter[str] = Counter()
    for crop in catalogue.crops.values():
        for fact in crop.facts:
            if fact.used:
                total[fact.quantity] += 1
                published[fact.quantity] += fact.standing in PUBLISHED
    rows: list[tuple[str, ...]] = [
        (quantity.name, quantity.meaning, str(total[quantity.name]), str(published[quantity.name]))
        for quantity in QUANTITIES.values()
    ]
    return _table(("quantity", "meaning", "crops", "of which published"), rows)


def _trade(catalogue: Catalogue) -> str:
    rows: list[tuple[str, ...]] = []
    for name, quantity, words in _TRADE:
        facts = catalogue.crops[name].facts_of(quantity)
        rows.append((name, words, _with_source(facts[0]), "; ".join(map(_with_source, facts[1:]))))
    return _table(("crop", "fact of the trade", "in use", "also listed"), rows)


def _with_source(fact: Fact) -> str:
    return f"{fact_value(fact, 'metric')} ({fact.source_id}, {fact.standing})"


def _decisions(catalogue: Catalogue) -> list[tuple[str, ...]]:
    return [
        (
            crop.name,
            fact.quantity,
            fact_value(fact, "metric"),
            fact.source_id,
            f"{'used' if fact.used else 'left'}: {fact.reason}",
        )
        for crop in catalogue.crops.values()
        for fact in crop.facts
        if fact.reason
    ]


def _counted(catalogue: Catalogue) -> list[tuple[Source, int]]:
    rows = Counter(fact.source_id for crop in catalogue.crops.values() for fact in crop.facts)
    rows.update(finding.source_id for finding in catalogue.neighbours)
    return [(source, rows[source.id]) for source in catalogue.sources.values()]


if __name__ == "__main__":
    sys.stdout.write(sources_page(load_catalogue()))
