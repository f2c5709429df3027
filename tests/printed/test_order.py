"""The order of reading is the structure's, wherever things stand on the page."""

from __future__ import annotations

import pikepdf

from printed.making import element, made, spoilt
from printed.order import reading_order


def test_blocks_in_order_with_their_words() -> None:
    assert reading_order(made()) == [
        ("H1", "Paper boat"),
        ("P", "A boat in half an hour."),
        ("LBody", "1 Cut the sheet to 4 1/2 in."),
        ("H2", "Hull"),
        ("P", "Fold it."),
        ("Figure", "A square and its size"),
        ("P", "See the page."),
    ]


def test_places_on_the_page_do_not_matter() -> None:
    columns = "".join(
        f"<li style='position:absolute;left:{left}mm;top:{top}mm'>step {number}</li>"
        for number, (left, top) in enumerate([(50, 40), (0, 40), (50, 10), (0, 10)], 1)
    )
    said = reading_order(made(f"<ol style='position:relative'>{columns}</ol>"))
    assert said == [("LBody", f"step {number}") for number in (1, 2, 3, 4)]


def test_the_structure_and_not_the_order_of_drawing_is_read() -> None:
    def turn_round(file: pikepdf.Pdf) -> None:
        document = element(file, "Document")
        document.K = pikepdf.Array(reversed(list(document.K)))

    body = "<h1>a</h1><p>b</p><p>c</p>"
    assert reading_order(made(body)) == [("H1", "a"), ("P", "b"), ("P", "c")]
    assert reading_order(spoilt(made(body), turn_round)) == [("P", "c"), ("P", "b"), ("H1", "a")]


def test_lines_and_divided_words_are_put_together() -> None:
    narrow = "<p style='width:20mm'>Score the extra&shy;ordinarily long flap, tab-like, by half.</p>"
    assert reading_order(made(narrow)) == [("P", "Score the extraordinarily long flap, tab-like, by half.")]


def test_pieces_that_touch_are_one_word() -> None:
    touching = "<p>x<sup style='font-size:8pt'>2</sup>, <b>bold</b>ly (<em>slanted</em>)</p>"
    assert reading_order(made(touching)) == [("P", "x2, boldly (slanted)")]


def test_markers_are_read_before_their_entries() -> None:
    marked = made("<ol><li>one<li>two<ul><li>inner</ul></ol>", "ol,ul{list-style:decimal;padding-left:8mm}")
    assert reading_order(marked) == [
        ("Lbl", "1."),
        ("LBody", "one"),
        ("Lbl", "2."),
        ("LBody", "two"),
        ("Lbl", "1."),
        ("LBody", "inner"),
    ]


def test_a_block_that_goes_on_comes_again() -> None:
    assert reading_order(made("<div>before<p>inside</p>after</div>")) == [
        ("Div", "before"),
        ("P", "inside"),
        ("Div", "after"),
    ]


def test_text_that_is_no_content_is_not_read() -> None:
    foot = made("<p>x</p>", "@page{@bottom-center{content:'foot';font:8pt Face}}")
    assert reading_order(foot) == [("P", "x")]
