"""Every check case kept beside the project on water, soil, soil temperature and trade arithmetic.

The cases carry their sources; values recalled or computed elsewhere say so in the file. Without the folder
the tests are skipped aloud, in continuous integration they fail.
"""

from __future__ import annotations

import os
import re

import pytest

from tests.external.reference.air_cases import AIR_RUNNERS
from tests.external.reference.cases import FILES, FOLDER, Case, differences, read_cases
from tests.external.reference.soil_cases import SOIL_RUNNERS
from tests.external.reference.water_cases import WATER_RUNNERS

MISSING = (
    "The folder shared/reference/checks does not stand beside the project, so its check cases on water, soil "
    "and trade arithmetic were not run."
)

NOT_OURS = {
    "fao56_kcini_interpolation": "Eq. 59 belongs to the single crop coefficient, which is not used",
}
"""Cases of quantities the engine does not work out here."""

RUNNERS = AIR_RUNNERS | SOIL_RUNNERS | WATER_RUNNERS


@pytest.fixture(scope="module")
def cases() -> tuple[Case, ...]:
    if FOLDER.is_dir():
        return tuple(case for name in FILES for case in read_cases(name))
    if os.environ.get("CI"):
        pytest.fail(MISSING, pytrace=False)
    pytest.skip(MISSING)


@pytest.mark.parametrize("pattern", RUNNERS)
def test_ours_gives_what_the_cases_say(cases: tuple[Case, ...], pattern: str) -> None:
    mine = [case for case in cases if re.fullmatch(pattern, case.id)]
    assert mine
    assert [text for case in mine for text in differences(case, RUNNERS[pattern](case))] == []


def test_no_case_is_left_out(cases: tuple[Case, ...]) -> None:
    left = [case.id for case in cases if not any(re.fullmatch(pattern, case.id) for pattern in RUNNERS)]
    assert sorted(set(left)) == sorted(NOT_OURS)
