"""Ink off the page and in the margins."""

from __future__ import annotations

import pytest

from printed.inside import in_margins, off_page
from printed.making import add_content, made, spoilt
from printed.reading import Box, read

MM = 72 / 25.4


def at(left: str, top: str, what: str = "edge") -> bytes:
    return made(f"<body style='margin:0'><p>x</p><p style='position:absolute;left:{left};top:{top}'>{what}</p>")


def test_a_page_in_order() -> None:
    assert off_page(read(made())) == []
    assert in_margins(made(), 8) == []


@pytest.mark.parametrize(("left", "top"), [("-12mm", "20mm"), ("20mm", "-12mm"), ("94mm", "20mm"), ("20mm", "138mm")])
def test_words_over_the_edge_are_found_on_every_side(left: str, top: str) -> None:
    complaints = off_page(read(at(left, top)))
    assert len(complaints) == 1
    assert "“edge”" in complaints[0]


def test_words_that_cannot_be_seen_at_all_are_found() -> None:
    assert in_margins(at("200mm", "20mm"), 8) == []
    assert len(off_page(read(at("200mm", "20mm")))) == 1


def test_strokes_over_the_edge_are_found_with_their_width() -> None:
    def stroke(width: int) -> bytes:
        return spoilt(made(), add_content(b"/Artifact BMC %d w 3 50 m 3 90 l S EMC" % width))

    assert off_page(read(stroke(5))) == []
    assert off_page(read(stroke(8))) == ["page 1: a line reaches 1.0 pt over the edge"]


@pytest.mark.parametrize(
    ("side", "left", "top"),
    [("top", "20mm", "-5mm"), ("right", "86mm", "20mm"), ("bottom", "20mm", "130mm"), ("left", "-3mm", "20mm")],
)
def test_words_in_a_margin_are_found_with_the_side(side: str, left: str, top: str) -> None:
    data = at(left, top)
    (complaint,) = in_margins(data, 8)
    assert f"in the {side} margin" in complaint
    assert off_page(read(data)) == []


def test_each_margin_has_its_own_width() -> None:
    data = at("-3mm", "20mm")
    assert in_margins(data, (8, 8, 8, 4)) == []
    assert len(in_margins(data, (8, 8, 8, 6))) == 1


@pytest.mark.parametrize(("into", "seen"), [("0mm", False), ("-0.15mm", False), ("-0.5mm", True)])
def test_half_a_point_is_the_finest_that_is_seen(into: str, seen: bool) -> None:
    bar = f"<div style='position:absolute;left:{into};top:10mm;width:5mm;height:5mm;background:black'></div>"
    assert bool(in_margins(made(f"<body style='margin:0'>{bar}"), 8)) is seen


@pytest.mark.parametrize("colour", ["black", "#fdd", "#f4f4f4"])
def test_tints_are_ink_too(colour: str) -> None:
    bar = f"<div style='position:absolute;left:-4mm;top:10mm;width:5mm;height:5mm;background:{colour}'></div>"
    assert len(in_margins(made(f"<body style='margin:0'>{bar}"), 8)) == 1


def test_white_and_what_is_clipped_away_are_no_ink() -> None:
    white = "<div style='position:absolute;left:-8mm;top:0;width:50mm;height:50mm;background:white'></div>"
    inner = "<b style='margin-left:-6mm;background:red'>xxxxxxx</b>"
    clipped = f"<div style='width:30mm;height:9mm;overflow:hidden'>{inner}</div>"
    assert in_margins(made(f"<body style='margin:0'>{white}{clipped}"), 8) == []


def test_cut_marks_are_allowed_where_they_are_expected_and_nowhere_else() -> None:
    marked = spoilt(made(), add_content(b"/Artifact BMC 1 w 10 200 m 20 200 l S EMC"))
    height = 148 * MM
    assert len(in_margins(marked, 8)) == 1
    assert in_margins(marked, 8, allowed=[Box(9, height - 202, 21, height - 198)]) == []
    assert len(in_margins(marked, 8, allowed=[Box(9, height - 102, 21, height - 98)])) == 1


def test_every_page_is_looked_at() -> None:
    two = "<body style='margin:0'><p>one</p><p style='break-before:page;margin-left:-4mm'>two</p>"
    (complaint,) = in_margins(made(two), 8)
    assert complaint.startswith("page 2: ink in the left margin")
