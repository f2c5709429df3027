"""How wide the letters of Source Sans are, so that a label's room can be known without opening a font.

Advance widths in thousandths of the type size, from the `hmtx` table of SourceSansPro-Regular as the package
font-source-sans-pro brings it, for Latin with its accents and the signs of measures. tests/render/test_letter_widths.py
reads the font again and compares.
"""

from __future__ import annotations

import tomllib
from pathlib import Path

_TABLE = Path(__file__).with_suffix(".toml").read_text(encoding="utf-8")
LETTER_WIDTHS: dict[str, int] = {
    letter: int(wide) for wide, letters in tomllib.loads(_TABLE).items() for letter in letters
}

OTHER_LETTER = 600
"""A guess on the wide side for a letter the table does not hold."""


def width_of(text: str) -> float:
    """The width of a text set without kerning, as a multiple of its type size."""
    widths = LETTER_WIDTHS
    return sum([widths.get(letter, OTHER_LETTER) for letter in text]) / 1000
