"""Slips between pieces that spoil the work, each told once and at its place; of what is meant nothing is said.

Sums are plain subtraction, written beside each case.
"""

from __future__ import annotations

from math import hypot

import pytest

from foldwright.finding import Finding, Strength
from foldwright.geometry.pieces import lay_flat
from foldwright.pipeline import check_recipe
from foldwright.recipe.reading import read_recipe

HEAD = """---
title: T
makes: 1 box
measured in: millimetres
supplies:
  card: cardstock, thickness 0.3 mm, sheet A4
  board: cardstock, thickness {thick} mm, sheet A4
  foil: acetate, sheet A4
  {envelope}
  {more}
tools:
  - scissors
pieces:
"""
LID = """  lid:
    from: card
    size: 166 x 146 mm
    across: 20 left | 126 top | 20 right
    down: 20 back | 106 top | 20 front
    flaps: joined to front and back, trimmed 1 mm
    fold: lid
    holes: window 86 x 66 mm, centred on top
"""
KNOWN = ("layer-", "glue-over", "glued-over", "too-thick-for-the", "envelope-", "words-name-", "loose-in", "goes-into")


def text_of(
    pieces: str,
    words: str = "Words.",
    envelope: str = "pin: pin, use 1",
    thick: str = "3",
    more: str = "nail: pin, use 1",
) -> str:
    return f"{HEAD.format(envelope=envelope, thick=thick, more=more)}{pieces}---\n\n{words}\n"


def told(text: str) -> list[Finding]:
    return [one for one in check_recipe(text, "r.md", "r").findings if one.code.startswith(KNOWN)]


def codes(text: str) -> list[str]:
    return [one.code for one in told(text)]


def line_of(finding: Finding, text: str) -> str:
    assert finding.place is not None
    return text[: finding.place.end].rsplit("\n", 1)[-1].strip()


# --- panes and patches ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("supply", "size", "slip"),
    [
        ("foil", "106 x 86 mm", False),
        ("foil", "80 x 60 mm", True),
        # Wide enough, but not high enough; as large as the window, it has nothing to hold on by.
        ("foil", "106 x 60 mm", True),
        ("foil", "86 x 66 mm", True),
        # Laid on its side it closes the window.
        ("foil", "86.5 x 106 mm", False),
        # A strip of paper across the window is meant; a patch that falls through it is not.
        ("card", "106 x 20 mm", False),
        ("card", "60 x 40 mm", True),
    ],
)
@pytest.mark.parametrize("said", ["    goes on: inside of lid top, centred\n", ""])
def test_a_pane_closes_its_window(supply: str, size: str, slip: bool, said: str) -> None:
    pane = f"  pane:\n    from: {supply}\n    size: {size}\n{said}"
    text = text_of(LID + pane, "## Pane\n\ndo: tape pane to lid\n\nTape it.")
    findings = told(text)
    if supply == "card" and not said:
        # Nobody says where it lies, and nothing about card says that it is a pane.
        assert findings == []
        return
    assert [one.code for one in findings] == (["layer-smaller-than-opening"] if slip else [])
    assert all(one.strength is Strength.MISFIT and line_of(one, text) == f"size: {size}" for one in findings)


def test_a_pane_on_the_outside_is_no_cover() -> None:
    assert (
        codes(text_of(LID + "  pane:\n    from: foil\n    size: 106 x 86 mm\n    goes on: outside of lid top\n")) == []
    )


# --- glue -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("area", "slip"),
    [
        # The window lies from 40 to 126 mm across and from 40 to 106 mm down.
        ("30 across 30 down to 136 across 30 down to 136 across 116 down to 30 across 116 down", True),
        ("25 across 30 down to 39 across 30 down to 39 across 116 down to 25 across 116 down", False),
    ],
)
def test_glue_needs_paper(area: str, slip: bool) -> None:
    text = text_of(LID + f"    lines:\n      - glue area from {area}\n")
    findings = told(text)
    assert [one.code for one in findings] == (["glue-over-opening"] if slip else [])
    assert all("glue area" in line_of(one, text) for one in findings)


TRAY = """  tray:
    from: card
    size: 140 x 180 mm
    across: 25 left | 90 floor | 25 right
    down: 25 back | 130 floor | 25 front
    flaps: joined to back and front, trimmed 1 mm
    fold: tray
    glued: tray floor to inside of cover back board, tray left to inside of cover spine
  cover:
    from: card
    size: {whole} x 132 mm
    across: 93 front board | {spine} spine | {back} back board
    fold: 90, 90
"""


@pytest.mark.parametrize(
    ("spine", "back", "over"),
    [
        # 90 mm of floor on 92 mm of board, 25 mm of wall on 27 mm of spine: both lie within.
        (27, 92, []),
        (20, 92, [5]),
        (20, 80, [5, 10]),
    ],
)
def test_what_is_glued_whole_lies_within(spine: int, back: int, over: list[int]) -> None:
    findings = told(text_of(TRAY.format(whole=93 + spine + back, spine=spine, back=back)))
    assert {one.code for one in findings} <= {"glued-over-the-edge"}
    assert sorted(int(dict(one.facts)["over"].mm) for one in findings) == over  # type: ignore[attr-defined]
    assert all(one.strength is Strength.MISFIT for one in findings)


# --- envelopes ------------------------------------------------------------------------------------------------------

CARD = """  base:
    from: {supply}
    size: 200 x 140 mm
    across: 100 back | 100 front
    fold: card
    slides in: envelope
"""


@pytest.mark.parametrize(
    ("thick", "size", "slip"),
    [
        # Two leaves of 1 mm: 2 mm of the width and of the height. 104 - 100 and 144 - 140 leave 4 mm.
        ("1", "104 x 144 mm", False),
        # Two leaves of 2 mm take all of the 4 mm; of 3 mm, more.
        ("2", "104 x 144 mm", True),
        ("3", "104 x 144 mm", True),
        ("3", "104 x 160 mm", True),
        ("3", "107 x 147 mm", False),
    ],
)
def test_what_is_thick_takes_room_both_ways(thick: str, size: str, slip: bool) -> None:
    text = text_of(CARD.format(supply="board"), envelope=f"envelope: envelope, size {size}, use 1", thick=thick)
    findings = [one for one in told(text) if one.code.startswith("too-thick-for-the")]
    assert [one.strength for one in findings] == ([Strength.MISFIT] if slip else [])
    assert all(line_of(one, text) == "slides in: envelope" for one in findings)


def test_a_raised_panel_takes_less_than_its_height() -> None:
    """The thread round a card of 100 mm, 0.6 thick, with a panel 40 mm wide whose top lies at 0.6 + 0.3 + 6 mm.

    Half of it: 100 / 2 + 0.6 + root((50 - 20)2 + 6.3 2) + 20 (Pythagoras), against the 100 mm of the card.
    """
    panel = "  panel:\n    from: card\n    size: 40 x 60 mm\n    goes on: outside of base front, centred\n"
    text = text_of(
        CARD.format(supply="card") + panel,
        envelope="envelope: envelope, size 112 x 152 mm, use 1",
        more="foam pad: foam adhesive, thickness 6 mm, use 4",
    )
    recipe = read_recipe(text, "r.md", "r").recipe
    assert recipe is not None
    across, down = lay_flat(recipe).gaps
    assert across.with_card is not None
    assert down.with_card is not None
    wide = 50 + 0.6 + hypot(30, 6.3) + 20
    high = 70 + 0.6 + hypot(40, 6.3) + 30
    assert float(across.with_card.mm) == pytest.approx(112 - wide, abs=1e-3)
    assert float(down.with_card.mm) == pytest.approx(152 - high, abs=1e-3)


@pytest.mark.parametrize(
    ("envelope", "slides", "words", "expected"),
    [
        # ISO 269: C6 is 114 x 162 mm, DL 110 x 220 mm.
        ("envelope: C6 envelope, size 114 x 162 mm, use 1", "envelope", "A C6 envelope.", []),
        ("envelope: C6 envelope, size 162 x 114 mm, use 1", "envelope", "", []),
        ("envelope: C6 envelope, size 110 x 220 mm, use 1", "envelope", "", ["envelope-named-otherwise"]),
        ("envelope: envelope, size 114 x 162 mm, use 1", "C6 envelope", "Put it in 10 envelopes.", []),
        ("envelope: envelope, size 110 x 220 mm, use 1", "C6 envelope", "", ["envelope-not-the-one-bought"]),
        ("envelope: envelope, size 114 x 162 mm, use 1", "envelope", "A DL envelope.", ["words-name-another-envelope"]),
    ],
)
def test_an_envelope_is_the_size_its_name_says(envelope: str, slides: str, words: str, expected: list[str]) -> None:
    card = CARD.format(supply="card").replace("200 x 140", "212 x 156").replace("100", "106")
    text = text_of(card.replace("in: envelope", f"in: {slides}"), f"## In\n\ndo: insert base\n\n{words}", envelope)
    assert [code for code in codes(text) if "named" in code or "bought" in code or "name-" in code] == expected


@pytest.mark.parametrize(
    ("size", "expected"),
    [
        # A card of 106 x 156 mm for C6 (114 x 162): in C5 (162 x 229) it has 56 and 73 mm to spare.
        ("114 x 162 mm", []),
        ("162 x 229 mm", ["loose-in-envelope"]),
    ],
)
def test_a_card_that_slips_about_is_told_of_the_envelope_that_fits(size: str, expected: list[str]) -> None:
    card = CARD.format(supply="card").replace("200 x 140", "212 x 156").replace("100", "106")
    findings = told(text_of(card, envelope=f"envelope: envelope, size {size}, use 1"))
    assert [one.code for one in findings] == expected
    assert all(dict(one.facts)["name"] == "C6" for one in findings)
