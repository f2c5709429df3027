"""A picture over words is found, and words in a drawing are not taken for covered ones."""

from __future__ import annotations

from printed.covered import covered
from printed.making import made

DRAWN = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="30mm" height="20mm" viewBox="0 0 30 20" style="position:absolute;'
    'left:0;top:{top}mm"><title>a square</title><rect width="30" height="20" fill="none" stroke="black"/>'
    '<text x="5" y="12" font-size="5">5 in</text></svg>'
)


def page(top: float) -> bytes:
    return made(f"<h1>Boat</h1><div style='position:relative'><p>Fold it.</p>{DRAWN.format(top=top)}</div>")


def test_words_under_a_picture_are_found() -> None:
    assert covered(page(20)) == []
    assert covered(page(2)) == ["page 1: a picture lies over “Fold”", "page 1: a picture lies over “it.”"]
