"""What the typesetter is spared changes nothing of what it makes: held against the typesetter left as it is."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import ExitStack
from typing import Any
from unittest import mock

import pytest
from hypothesis import given
from hypothesis import strategies as st
from weasyprint import HTML
from weasyprint.css import INITIAL_VALUES, ComputedStyle
from weasyprint.svg.path import path
from weasyprint.svg.utils import size

from foldwright.render.paper import sparing
from foldwright.render.paper.typesetting import font_configuration, typeset

_coordinates = st.decimals(-9999, 9999, places=2).map(str) | st.integers(-99, 9999).map(str)
_points = st.tuples(_coordinates, _coordinates).map(" ".join)


@st.composite
def _straight_paths(draw: st.DrawFn) -> str:
    """Lines open and closed, as drawings of ours write them."""
    lines = draw(st.lists(st.tuples(st.lists(_points, min_size=2, max_size=5), st.booleans()), min_size=1, max_size=4))
    return "".join("M" + "L".join(line) + ("Z" if closed else "") for line, closed in lines)


@given(_straight_paths())
def test_a_straight_path_is_written_as_the_typesetter_writes_it(words: str) -> None:
    assert sparing._STRAIGHT.fullmatch(words)
    assert list(sparing.straight_path(words)) == _written_as_usual(words)


@pytest.mark.parametrize(
    "words", ["", "M1 1", "M1 1Z", "M0 0l1 1", "M0 0A1 1 0 0 1 2 2", "M0 0L1,1", "M0 0 L1 1", "M0 0H3", "M.5 0L1 1"]
)
def test_any_other_path_is_left_to_the_typesetter(words: str) -> None:
    assert not sparing._STRAIGHT.fullmatch(words)


def _written_as_usual(words: str) -> Sequence[bytes]:
    import pydyf

    stream = pydyf.Stream()
    node = mock.Mock(vertices=[], get=lambda name, default=None: words if name == "d" else default)
    drawing = mock.Mock(stream=stream, point=lambda x, y, _font_size: (size(x), size(y)))
    path(drawing, node, 12)
    return stream.stream


# --- styles that no page shows ----------------------------------------------------------------------------------------

PAGE = """<!doctype html><html lang="en"><head><title>A page</title></head><body><h1>A page</h1>
<p>Some <em>words</em></p><ul><li>one<li>two<ol><li>three</ol></ul><table><tr><td>a<td>b</table>
<p class="aside">Beside</p><q>said</q><br><hr></body>"""


@pytest.mark.parametrize(
    ("style", "whole"),
    [
        ("p{color:red}", False),
        ("ol{counter-reset:list-item}li::before{content:counter(list-item)}.note{color:blue}", False),
        (".aside{display:list-item;margin-left:2em}", True),
        (".aside{float:footnote}", True),
        (".aside{display:var(--as)}:root{--as:list-item}", True),
    ],
)
def test_pages_come_out_as_with_all_the_typesetter_has_to_say_of_every_element(style: str, whole: bool) -> None:
    page = sparing.page_class()(string=PAGE)
    page.styles = (style,)
    assert (page._ua_stylesheets() == HTML(string=PAGE)._ua_stylesheets()) is whole
    spared = typeset(PAGE, style).pdf()
    with mock.patch.object(sparing, "_own_sheet", return_value=HTML(string=PAGE)._ua_stylesheets()[0]):
        assert typeset(PAGE, style).pdf() == spared


def test_far_fewer_styles_are_worked_out() -> None:
    from weasyprint import css

    def styled(sheet: Any) -> int:
        with (
            mock.patch.object(sparing, "_own_sheet", sheet),
            mock.patch.object(css, "ComputedStyle", wraps=css.ComputedStyle) as made,
        ):
            typeset(PAGE, "p{margin:0}")
        return made.call_count

    font_configuration()
    assert 3 * styled(sparing._own_sheet) < styled(lambda: HTML(string=PAGE)._ua_stylesheets()[0])


SAYING = """:root{--wide:7px;color:#234;text-decoration:underline}
h1{margin:2em 0;margin-block-start:var(--wide);page:first;font-size:calc(10px + 1em)}
p{border:1px solid;border-inline-start-width:5px;letter-spacing:.5px;width:50%;inline-size:40%}
ul{direction:rtl;padding-inline-start:30px;border-inline-end:2px dotted red;text-decoration:line-through}
em{font-style:initial;color:inherit;position:relative;inset-block-start:3px}
.aside{all:initial;float:right;border-top-left-radius:4px;border-end-end-radius:9px;background:tan}
table{border-collapse:collapse}td{padding:4px;border:1px solid currentColor}
q::before{content:"<" attr(class);margin-left:var(--none,4px)}"""


def test_what_no_rule_says_of_an_element_is_as_the_typesetter_has_it() -> None:
    spared = typeset(PAGE, SAYING)
    with (
        mock.patch.object(sparing, "_told_by", return_value={}),
        mock.patch.object(sparing, "_at_first", return_value=({}, {})),
    ):
        whole = typeset(PAGE, SAYING)
    assert spared.pdf() == whole.pdf()
    ours, theirs = (list(made.boxes[-1].descendants()) for made in (spared, whole))
    assert len(ours) == len(theirs) > 20
    for one, other in zip(ours, theirs, strict=True):
        # Whatever was asked for is the same; and so is all that was not. Boxes of no element have nothing of their own.
        for name in INITIAL_VALUES if isinstance(one.style, ComputedStyle) else ():
            assert one.style[name] == other.style[name], (one.element_tag, name)


# --- boxes and lines --------------------------------------------------------------------------------------------------

WRITING = """p{width:40mm;margin:0 5% 1em;padding:1mm 2pt;border-left:.4pt solid;text-align:justify;letter-spacing:.2px}
h1{box-sizing:border-box;width:50%;min-width:3cm;padding:4mm;max-height:calc(20mm - 1em)}
em{text-decoration:underline}ul{white-space:pre-line;height:25mm}li{min-height:20%}
table{border-collapse:collapse;width:100%}td{padding:3px;border:1px solid}
.aside{position:absolute;right:10%;width:9em;overflow-wrap:anywhere}.aside::first-letter{font-size:2em}
.short{text-overflow:ellipsis;overflow:hidden;white-space:nowrap;word-spacing:1mm}"""
WORDS = """<!doctype html><html lang="en"><head><title>A page</title></head><body><h1>Of words \u05d0\u05d1\u05d2</h1>
<p>Some <em>words underlined</em> that go on over a few lines, as <b>words</b> do, until nothing is left of them.</p>
<ul><li>one\ntwo\u2029three<li>four</ul><table><tr><td>a<td>b and more of it</table>
<p class="aside">Beside-with-a-long-word-that-breaks-anywhere</p><p class="short">More than there is room for here</p>
<svg width="80" height="20"><text x="40" y="10" text-anchor="middle">1\u20442 in</text></svg></body>"""


def test_boxes_and_lines_are_measured_and_drawn_as_the_typesetter_does_it() -> None:
    from weasyprint.layout import block, inline
    from weasyprint.text import line_break

    def pages() -> list[bytes]:
        return [typeset(page, style).pdf() for page in (PAGE, WORDS) for style in (WRITING, SAYING)]

    spared = pages()
    as_it_is = [(block, "resolve_percentages"), (inline, "resolve_percentages"), (line_break, "get_font_description")]
    as_it_is += [(line_break.Layout, name) for name in ("set_text", "deactivate", "reactivate")]
    with ExitStack() as usual:
        for holder, name in as_it_is:
            usual.enter_context(mock.patch.object(holder, name, getattr(holder, name).__wrapped__))
        assert pages() == spared


def test_a_line_is_shaped_once() -> None:
    """As often as its text is set, that is: what Pango shapes it from."""
    from weasyprint.text import line_break

    style = "p{width:200mm}"
    page = '<!doctype html><html lang="en"><head><title>A</title></head><body><p>A line of words</p></body></html>'
    typeset(page, style)
    with mock.patch.object(line_break, "unicode_to_char_p", wraps=line_break.unicode_to_char_p) as written:
        typeset(page, style).pdf()
    assert [call.args[0] for call in written.call_args_list].count("A line of words") == 1


def test_what_is_measured_in_parts_of_its_surroundings_is_left_to_the_typesetter() -> None:
    from weasyprint.css import properties

    assert all(map(sparing._stands_alone, (0, 1.5, "auto", properties.Dimension(3, "px"))))
    assert not any(map(sparing._stands_alone, (properties.Dimension(3, "%"), None, object())))
