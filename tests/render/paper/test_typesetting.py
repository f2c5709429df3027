"""The typesetter's faces: there as long as their process is."""

from __future__ import annotations

from pathlib import Path

from weasyprint.formatting_structure.boxes import LineBox, TextBox

from foldwright.cli.workers import pool_of
from foldwright.render.paper.typesetting import Typeset, font_configuration, typeset
from printed.reading import read


def test_a_worker_that_ends_takes_no_face_from_the_process_it_came_from() -> None:
    """It did: faces that had not been read by then left holes, so that a label in another look had no words."""
    typeset("<p>Fold</p>", "p{font-family:'Foldwright Sans'}")
    with pool_of(1, on_paper=True) as pool:
        assert pool.submit(letters, "Fold").result() == "Fold"
    assert Path(font_configuration()._folder).is_dir()
    assert letters("Fold") == "Fold"


def test_no_line_is_parted_after_its_first_word_where_a_measurement_follows() -> None:
    """At some width the words before it fit and the space after them does not."""
    words = 'Glue the flap to the edge that is <span class="n">5 <span class="fr on">1/16</span> in</span> long'
    style = "p{font:10pt 'Foldwright Sans';margin:0;width:%spt}.n{white-space:nowrap}"
    for half_points in range(250, 340):
        page = f"<html lang=en><title>Page</title><h1>Box</h1><p>{words}</p>"
        first = lines_of(typeset(page, style % (half_points / 2)))[1]
        assert len(first.split()) > 4, first


def lines_of(page: Typeset) -> list[str]:
    lines = (box for box in page.boxes[0].descendants() if isinstance(box, LineBox))
    return ["".join(box.text for box in line.descendants() if isinstance(box, TextBox)) for line in lines]


def letters(words: str) -> str:
    page = typeset(
        f"<html lang=en><title>Page</title><h1>{words}</h1>", "h1{font:italic 12pt 'Foldwright Serif'}"
    ).pdf()
    return "".join(glyph.text for glyph in read(page)[0].glyphs)
