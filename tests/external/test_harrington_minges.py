"""Days to emergence against the published table of Harrington & Minges (1954).

Source of every figure: Harrington, J.F. & Minges, P.A. (1954), Vegetable Seed Germination,
California Agricultural Extension; as reproduced from Knott's Handbook for Vegetable Growers
(Maynard & Hochmuth, 4th ed. 1997) in UC Santa Cruz, Teaching Organic Farming & Gardening,
Unit 1.3, Appendix 4. Read in that reproduction, which prints whole days and temperatures of
32, 41, 50 … 104 °F (0, 5, 10 … 40 °C); seed 13 mm deep. N: little or no germination;
-: not in the table, or not tried.

The shares of normal seedlings are from the companion table of Harrington, read second-hand at
highanddryfarm.com/germination-versus-temperature.
"""

from __future__ import annotations

import pytest

from bedwright.catalogue import load_catalogue
from bedwright.model.crop import GerminationPoint

CATALOGUE = load_catalogue()

# Days at 0, 5, 10, 15, 20, 25, 30, 35, 40 °C.
DAYS = """
asparagus      N    N   53   24   15   10   12   20   28
lima bean      -    -    N   31   18    7    7    N    -
bush bean      N    N    N   16   11    8    6    6    N
beet           -   42   17   10    6    5    5    5    -
cabbage        -    -   15    9    6    5    4    -    -
carrot         N   51   17   10    7    6    6    9    N
cauliflower    -    -   20   10    6    5    5    -    -
celery         N   41   16   12    7    N    N    N    -
sweet corn     N    N   22   12    7    4    4    3    N
cucumber       N    N    N   13    6    4    3    3    -
eggplant       -    -    -    -   13    8    5    -    -
lettuce       49   15    7    4    3    2    3    N    N
melon          -    -    -    -    8    4    3    -    -
okra           N    N    N   27   17   13    7    6    7
onion        136   31   13    7    5    4    4   13    N
parsley        -    -   29   17   14   13   12    -    -
parsnip      172   57   27   19   14   15   32    N    N
pea            -   36   14    9    8    6    6    -    -
sweet pepper   N    N    N   25   13    8    8    9    N
radish         N   29   11    6    4    4    3    -    -
spinach       63   23   12    7    6    5    6    N    N
tomato         N    N   43   14    8    6    6    9    N
turnip         N    N    5    3    2    1    1    1    3
watermelon     -    N    -    -   12    5    4    3    -
"""

# Normal seedlings in percent at 5, 10, 15, 20, 25, 30, 35 °C, where days are tabulated too.
SHARES = """
carrot      48  93  95  96  96  95  74
lettuce     98  98  99  99  99  12   0
onion       98  98  98  99  97  91  73
spinach     96  91  82  52  28  32   0
"""


def figures(table: str) -> dict[str, list[str]]:
    rows: dict[str, list[str]] = {}
    for line in table.strip().splitlines():
        words = line.split()
        start = next(i for i, word in enumerate(words) if word in {"N", "-"} or word.isdigit())
        rows[" ".join(words[:start])] = words[start:]
    return rows


def points(crop: str) -> dict[float, GerminationPoint]:
    return {point.soil_temp_c: point for point in CATALOGUE.crops[crop].germination}


@pytest.mark.parametrize("crop", figures(DAYS))
def test_days_to_emergence_are_those_of_the_published_table(crop: str) -> None:
    known = points(crop)
    for step, printed in enumerate(figures(DAYS)[crop]):
        temp_c = 5.0 * step
        if printed == "-":
            assert temp_c not in known
        elif printed == "N":
            assert not known[temp_c].germinates
            assert known[temp_c].days_to_emergence is None
        else:
            # Whole days are printed, so they are kept exactly.
            assert known[temp_c].days_to_emergence == float(printed)


@pytest.mark.parametrize("crop", figures(DAYS))
def test_the_used_days_end_at_harrington_and_minges(crop: str) -> None:
    for fact in CATALOGUE.crops[crop].facts:
        if fact.used and fact.quantity.startswith("days_to_emergence"):
            assert fact.source_id == "HM54_KNOTT97"
            assert fact.standing == "read"


@pytest.mark.parametrize("crop", figures(SHARES))
def test_shares_of_normal_seedlings_are_those_of_the_published_table(crop: str) -> None:
    known = points(crop)
    for step, printed in enumerate(figures(SHARES)[crop], 1):
        assert known[5.0 * step].normal_seedlings_pct == float(printed)


def test_where_a_second_copy_rounds_otherwise_both_stay_listed() -> None:
    # Oregon State's copy prints 8 days for carrot at 95 °F where Knott's copy prints 9.
    facts = CATALOGUE.crops["carrot"].facts_of("days_to_emergence_at_35c")
    assert [(fact.source_id, fact.low, fact.used) for fact in facts] == [
        ("HM54_KNOTT97", 9, True),
        ("OSU_HARR", 8, False),
    ]
