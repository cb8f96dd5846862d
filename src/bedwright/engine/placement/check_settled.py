"""The checker's own look at what was settled before: what stands, and what is pinned."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from bedwright.engine.placement.check_violation import Violation
from bedwright.model.book import Pin
from bedwright.model.season import Planting

PIN_ROUNDING_M = 0.026
PIN_ROUNDING_DAYS = 3
"""A pin is kept to the step of 5 cm and to the date worked out nearest to its day."""


def standing_kept(plantings: Sequence[Planting], standing: Sequence[Planting]) -> Iterator[Violation]:
    """What stands is in the plan, in the same place and rows."""
    now = {planting.code: planting for planting in plantings}
    for before in standing:
        after = now.get(before.code)
        if after is None:
            yield Violation(
                "standing planting gone", before.bed_code, (before.code,), "missing", "as it stands", ""
            )
        elif (after.bed_code, after.rows, after.dates) != (before.bed_code, before.rows, before.dates):
            yield Violation(
                "standing planting moved", before.bed_code, (before.code,), "changed", "as it stands", ""
            )


def own_pins(planting: Planting, pins: Sequence[Pin], asked: Collection[str]) -> list[Pin]:
    """Pins that concern a planting: those of its request."""
    code = planting.request_code or planting.code
    return [pin for pin in pins if _pin_of(pin, asked) == code]


def _pin_of(pin: Pin, asked: Collection[str]) -> str:
    code = pin.planting_code
    return code if code in asked else code.rpartition("-")[0]


def pins_kept(planting: Planting, own: Sequence[Pin]) -> Iterator[Violation]:
    """A planting keeps one of the pins of its request, where there are any."""
    if own and not any(keeps_pin(planting, pin) for pin in own):
        yield Violation(
            "not where or when it is pinned",
            planting.bed_code,
            (planting.code,),
            "elsewhere",
            str(own[0]),
            "",
        )


def keeps_pin(planting: Planting, pin: Pin) -> bool:
    """True if a planting is in the bed, at the place and on the day of a pin."""
    return (
        pin.bed_code in (None, planting.bed_code)
        and (pin.along_m is None or abs(planting.along_m[0] - pin.along_m) <= PIN_ROUNDING_M)
        and (
            pin.in_ground is None or abs((planting.dates.in_ground - pin.in_ground).days) <= PIN_ROUNDING_DAYS
        )
    )
