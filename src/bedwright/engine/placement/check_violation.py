"""One rule that a plan breaks."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Violation:
    """One rule that a plan breaks."""

    kind: str
    bed_code: str
    codes: tuple[str, ...]
    """Plantings or rows concerned."""
    actual: float | str
    needed: float | str
    unit: str

    def __str__(self) -> str:
        named = " and ".join(self.codes)
        return (
            f"{self.kind}: {named} in bed {self.bed_code}: is {_words(self.actual)}, "
            f"should be {_words(self.needed)} {self.unit}"
        ).rstrip()


def _words(value: float | str) -> str:
    return value if isinstance(value, str) else f"{value:.3g}"
