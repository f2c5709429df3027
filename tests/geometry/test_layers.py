"""Thoughts about layers: across a fold, over a hole, over the edge; and none about what is meant."""

from __future__ import annotations

import pytest

from geometry.laid import codes, inch, laid, the_finding

CARD = "  card:\n    from: card\n    size: 8 1/2 x 5 1/2 in\n    across: 4 1/4 back | 4 1/4 front\n    fold: card\n"
WINDOW = CARD + "    holes: window 1 x 1 in, edge 1 in from the top, centred on front\n"
BOX = """\
  base:
    from: card
    size: 5 x 4 1/4 in
    across: 3/4 left end | 3 1/2 floor | 3/4 right end
    down: 1 3/4 back | 3/4 floor | 1 3/4 front
    flaps: joined to front and back, trimmed 1/16 in
    fold: tray
"""


def with_label(under: str, size: str, goes_on: str, more: str = "") -> list[str]:
    label = f"  label:\n    from: card\n    size: {size}\n    goes on: {goes_on}\n{more}"
    flat = laid(under + label)
    return [code for code in codes(flat.findings) if code.startswith("layer")]


@pytest.mark.parametrize(
    ("under", "size", "goes_on", "more", "told"),
    [
        (CARD, "4 x 2 in", "outside of card, centred", "", ["layer-across-fold"]),
        (CARD, "4 x 2 in", "outside of card front, centred", "", []),
        (CARD, "4 x 2 in", "outside of card, lined up 1/8 in from the left", "", []),
        (CARD, "5 x 2 in", "outside of card front", "", ["layer-overhangs"]),
        (CARD, "4 1/4 x 2 in", "outside of card front", "", []),
        # Said to be in the middle, it is meant to stand over, as the cover of a concertina is.
        (CARD, "5 x 2 in", "outside of card front, centred", "", []),
        # As it stands, the bottom of the front is its fold: what stands above the wall lies on no other panel.
        (BOX, "3 1/2 x 4 in", "outside of base front, lined up at the bottom", "", []),
        (BOX, "3 x 3 in", "outside of base, centred", "", ["layer-across-fold"]),
        (BOX, "3 x 1/2 in", "inside of base floor, centred", "", []),
        (WINDOW, "4 x 5 in", "outside of card front, centred", "", ["layer-over-opening"]),
        (WINDOW, "4 x 5 in", "inside of card front, centred", "", []),
        (WINDOW, "4 x 1/2 in", "outside of card front, lined up at the bottom", "", []),
        (WINDOW, "4 x 5 in", "outside of card front, centred", "    holes: window 1 x 1 in, centred\n", []),
    ],
)
def test_a_layer_where_it_should_not_be(under: str, size: str, goes_on: str, more: str, told: list[str]) -> None:
    assert with_label(under, size, goes_on, more) == told


def test_how_far_it_stands_over_is_told() -> None:
    flat = laid(CARD + "  label:\n    from: card\n    size: 5 x 2 in\n    goes on: outside of card front\n")
    over = the_finding(flat, "layer-overhangs")["over"]
    assert over.mm == inch("3/8")  # type: ignore[attr-defined]
