"""Widths of letters, so that labels can be placed before the pages are set.

Source: advance widths (table `hmtx`) of IBM Plex Sans Condensed Regular and SemiBold,
characters 32 to 126, in thousandths of the letter size. A test compares them with the font.
"""

from __future__ import annotations

MM_PER_POINT = 25.4 / 72
CAP_HEIGHT = 0.698
"""Height of capitals as a share of the letter size, same source (table `OS/2`)."""
SMALLEST_PT = 7.0
"""Nothing on a paper is set smaller."""

_FIRST = 32
REGULAR = (
    212, 258, 382, 637, 538, 837, 626, 220, 302, 302, 414, 540, 248, 360, 248, 349, 540, 540, 540, 540,
    540, 540, 540, 540, 540, 540, 258, 258, 540, 540, 540, 431, 803, 579, 589, 561, 607, 526, 505, 627,
    637, 362, 462, 574, 453, 730, 637, 638, 548, 638, 578, 525, 516, 611, 549, 808, 555, 534, 524, 286,
    349, 286, 540, 508, 540, 483, 524, 454, 524, 495, 294, 477, 513, 228, 228, 477, 247, 787, 513, 504,
    524, 524, 332, 439, 318, 513, 445, 698, 459, 451, 421, 310, 288, 310, 540,
)  # fmt: skip
SEMI_BOLD = (
    212, 284, 429, 582, 533, 870, 644, 235, 303, 303, 514, 540, 274, 362, 274, 401, 540, 540, 540, 540,
    540, 540, 540, 540, 540, 540, 282, 282, 540, 540, 540, 447, 811, 606, 600, 581, 625, 544, 523, 641,
    651, 387, 494, 614, 473, 737, 651, 642, 583, 642, 601, 546, 524, 624, 583, 861, 595, 566, 540, 299,
    401, 299, 540, 502, 540, 507, 544, 464, 544, 505, 328, 492, 532, 252, 255, 511, 268, 802, 532, 506,
    544, 544, 357, 449, 334, 533, 476, 739, 488, 483, 452, 329, 346, 329, 540,
)  # fmt: skip
_OTHER = 650
"""Generous, for letters outside the table."""


def text_width_mm(text: str, size_pt: float, *, bold: bool = False) -> float:
    """Width of one line of text [mm]."""
    table = SEMI_BOLD if bold else REGULAR
    total = 0
    for letter in text:
        place = ord(letter) - _FIRST
        total += table[place] if 0 <= place < len(table) else _OTHER
    return total / 1000 * size_pt * MM_PER_POINT


def line_height_mm(size_pt: float) -> float:
    """Distance from one baseline to the next [mm]."""
    return size_pt * MM_PER_POINT * 1.15
