"""Reads back what a PDF shows: words, fonts and the paths it draws."""

from __future__ import annotations

import io
from collections.abc import Iterator
from typing import Any

from pypdf import PageObject, PdfReader
from pypdf.generic import ContentStream

MM_PER_POINT = 25.4 / 72
Matrix = tuple[float, float, float, float, float, float]
Path = list[tuple[float, float]]


def reader_of(pdf: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(pdf))


def words_of(pdf: bytes) -> str:
    """All text, pages apart, runs of white space as one blank."""
    return "\n".join(" ".join(page.extract_text().split()) for page in reader_of(pdf).pages)


def _times(one: Matrix, other: Matrix) -> Matrix:
    a, b, c, d, e, f = one
    g, h, i, j, k, m = other
    return (a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j, e * g + f * i + k, e * h + f * j + m)


def paths_mm(page: PageObject) -> list[Path]:
    """Every path drawn on a page, corners in mm from its lower left."""
    return list(_walk(page, page.get_contents(), (1, 0, 0, 1, 0, 0), page.pdf))


def _walk(resources: Any, stream: Any, matrix: Matrix, pdf: Any) -> Iterator[Path]:
    stack: list[Matrix] = []
    path: Path = []
    for operands, operator in ContentStream(stream, pdf).operations:
        numbers = [float(x) for x in operands if isinstance(x, int | float)]
        if operator == b"q":
            stack.append(matrix)
        elif operator == b"Q":
            matrix = stack.pop()
        elif operator == b"cm":
            matrix = _times(tuple(numbers), matrix)  # type: ignore[arg-type]
        elif operator in (b"m", b"l"):
            if operator == b"m" and path:
                yield path
                path = []
            path.append(_place(numbers[0], numbers[1], matrix))
        elif operator in (b"S", b"s", b"f", b"B", b"b", b"n", b"f*", b"B*"):
            if path:
                yield path
            path = []


def _place(x: float, y: float, matrix: Matrix) -> tuple[float, float]:
    a, b, c, d, e, f = matrix
    return ((a * x + c * y + e) * MM_PER_POINT, (b * x + d * y + f) * MM_PER_POINT)


def fonts_of(pdf: bytes) -> dict[str, bool]:
    """Name of every font with whether its letterforms are in the file."""
    found: dict[str, bool] = {}
    for page in reader_of(pdf).pages:
        resources: Any = page["/Resources"]
        fonts = resources.get("/Font", {})
        for font in fonts.values():
            inner = font.get_object()["/DescendantFonts"][0].get_object()
            descriptor = inner["/FontDescriptor"].get_object()
            embedded = any(f"/FontFile{k}" in descriptor for k in ("", "2", "3"))
            found[str(inner["/BaseFont"])] = embedded
    return found
