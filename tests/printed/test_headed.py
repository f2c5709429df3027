"""Headings that stand alone are found; those with their block beside, under or over them are not."""

from __future__ import annotations

import pytest

from printed.headed import alone
from printed.making import made

COLUMNS = "<h1>a</h1><div style='position:absolute;left:0;top:1cm;width:4cm'>{}</div>{}"
RIGHT = "<div style='position:absolute;left:5cm;top:{}cm;width:4cm'>{}</div>"

OVER = """<h1>a</h1><p>b</p><section style='position:relative;height:4cm'>
<h2 style='position:absolute;top:3cm'>under</h2><p style='position:absolute;top:2cm;margin:0'>its line</p></section>"""

PANEL = """<h1>a</h1><p>b</p><section style='position:relative;height:8cm'>
<h2 style='position:absolute;top:7cm'>it</h2>{}</section>"""
PICTURE = """<svg role='img' style='position:absolute;top:{}cm;left:{}cm' width='60' height='60'><title>it</title>
<rect width='60' height='60'/></svg>"""

SIDE_BY_SIDE = """<h1>a</h1><section style='position:relative;height:5cm'><h2>pieces</h2>
<p style='position:absolute;top:4cm;margin:0'>low</p><p style='position:absolute;left:5cm;top:1cm;margin:0'>high</p>
</section>"""


def at(top: float, words: str) -> str:
    return RIGHT.format(top, words)


@pytest.mark.parametrize(
    "body",
    [
        "<h1>a</h1><p>b</p><h2>c</h2><p>d</p>",
        "<h1>a</h1><h2>b</h2><p>c</p>",
        COLUMNS.format("<h2>beside</h2>", at(1, "<p>it</p>")),
        OVER,
        SIDE_BY_SIDE,
        PANEL.format(PICTURE.format(5, 1.5)),
        PANEL.format(PICTURE.format(1, 1.5) + PICTURE.format(5, 1.5)),
    ],
)
def test_headings_with_what_follows_are_well(body: str) -> None:
    assert alone(made(body)) == []


def test_a_file_without_headings_has_none_alone() -> None:
    assert alone(made("<p>a</p>")) == []


def test_at_the_foot_of_a_page() -> None:
    body = "<h1>a</h1><p>b</p><h2>c</h2><p style='break-before:page'>d</p>"
    assert alone(made(body)) == ["page 1: the heading “c” stands alone: page 2 goes on with what follows"]


@pytest.mark.parametrize("place", [(1, 1.5), (5, 5)])
def test_far_under_its_picture_or_beside_its_column(place: tuple[float, float]) -> None:
    body = PANEL.format(PICTURE.format(*place))
    assert alone(made(body)) == ["page 1: the heading “it” stands alone: what follows is further up"]


def test_at_the_foot_of_a_column() -> None:
    body = COLUMNS.format("<p style='height:6cm'>words</p><h2>lost</h2>", at(1, "<p>its words</p>"))
    assert alone(made(body)) == ["page 1: the heading “lost” stands alone: what follows is further up"]


def test_with_nothing_after_it_or_far_from_it() -> None:
    assert alone(made("<h1>a</h1><p>b</p><h2>c</h2>")) == ["page 1: the heading “c” is followed by nothing"]
    far = "<h1>a</h1><p>b</p><h2 style='margin-bottom:3cm'>Your notes</h2><p>d</p>"
    assert alone(made(far)) == ["page 1: the heading “Your notes” stands far above what follows"]
    assert alone(made(far), to_write_under=["Your notes"]) == []
