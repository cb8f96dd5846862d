"""Check cases kept beside the project: read, and held against what ours gives."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

import pytest

FOLDER = Path(__file__).parents[4] / "shared" / "reference" / "checks"
FILES = ("soil_water", "soil_nutrients", "soil_temperature", "handbook_examples", "fao56_examples")

PRINTED = 0.15
"""A digit and a half of a value printed to a tenth."""

Values = Mapping[str, Any]
"""What ours gives, by the keys of `expected`."""


@dataclass(frozen=True)
class Case:
    """One check case with its source."""

    id: str
    inputs: Mapping[str, Any]
    expected: Mapping[str, Any]
    tolerance: Mapping[str, Any]
    source: str

    def number(self, name: str) -> float:
        """One input as a number, in the unit of the case."""
        return float(plain(self.inputs[name]))

    def day(self, name: str) -> date:
        """One input as a day."""
        return date.fromisoformat(plain(self.inputs[name]))


Runner = Callable[[Case], Values]


def read_cases(name: str) -> tuple[Case, ...]:
    """All cases of one file."""
    found = json.loads((FOLDER / f"{name}.json").read_text(encoding="utf-8"))["examples"]
    return tuple(
        Case(each["id"], each["inputs"], each["expected"], each["tolerance"], each["source"])
        for each in found
    )


def plain(value: Any) -> Any:
    """A value without its unit."""
    return value["value"] if isinstance(value, dict) and "value" in value else value


def differences(case: Case, ours: Values) -> list[str]:
    """Where ours and the case differ by more than its tolerance, in words."""
    found = []
    for key, value in case.expected.items():
        wanted = plain(value)
        if key not in ours:
            found.append(f"{case.id}: {key} was not worked out")
        elif not _agree(ours[key], wanted, _tolerance(case, key, wanted)):
            found.append(f"{case.id}: {key} is {ours[key]}, expected {wanted} ({case.source})")
    return found


def _agree(got: Any, wanted: Any, tolerance: float) -> bool:
    if isinstance(wanted, bool) or isinstance(got, bool | str):
        return bool(got == wanted)
    if isinstance(wanted, str):
        return abs((date.fromisoformat(str(got)) - date.fromisoformat(wanted)).days) <= tolerance
    if isinstance(wanted, list) and not isinstance(got, list | tuple):
        # A range where sources differ: ours lies inside.
        return bool(wanted[0] - tolerance <= got <= wanted[1] + tolerance)
    if isinstance(wanted, list):
        return len(got) == len(wanted) and all(
            _agree(one, other, tolerance) for one, other in zip(got, wanted, strict=True)
        )
    return bool(got == pytest.approx(wanted, abs=max(tolerance, 1e-9)))


def _tolerance(case: Case, key: str, wanted: Any) -> float:
    """In the unit of the value; words such as `10 percent` are read."""
    rules = case.tolerance
    for name, rule in rules.items():
        if key.startswith(name) or name.startswith(f"absolute_{key}"):
            return _size(rule, wanted)
    if "relative" in rules and not isinstance(wanted, list | str):
        return float(rules["relative"]) * abs(float(wanted))
    if rules.keys() & {"absolute", "days", "exact", "exact_band", "inside_range"}:
        return float(rules.get("absolute", rules.get("days", 0.0)))
    # Other values of a case with tolerances by name are held to the digit they are printed to.
    return PRINTED


def _size(rule: Any, wanted: Any) -> float:
    if not isinstance(rule, str):
        return float(rule)
    size, unit = rule.split()
    return float(size) / 100 * abs(float(wanted)) if unit == "percent" else float(size)
