"""A page read as XML is the page that an independent reader of HTML finds (tinyhtml5, after the WHATWG's standard)."""

from __future__ import annotations

from random import Random
from typing import Any
from unittest import mock
from xml.etree.ElementTree import Element

import pytest
from tinyhtml5 import parse
from weasyprint import HTML

from foldwright.measure.length import System
from foldwright.render.paper import sparing
from foldwright.render.paper.card import Proof
from foldwright.render.paper.page_tree import tree_of
from foldwright.render.paper.papers import A4
from workbench.compiled import demo
from workbench.long import tries


def _page(body: str, head: str = '<meta charset="utf-8">\n<title>A &amp; B</title>') -> str:
    return f'<!doctype html>\n<html lang="en">\n<head>\n{head}\n</head>\n{body}\n</html>'


def _all_of(root: Element) -> list[tuple[Any, ...]]:
    return [(one.tag, dict(one.attrib), one.text, one.tail) for one in root.iter()]


def _as_html(page: str) -> list[tuple[Any, ...]]:
    return _all_of(parse(page, namespace_html_elements=False))


ORDINARY = (
    '<body class="card">\n<div class="a" style="">\n<h1>Fold &lt;it&gt;</h1>\n<p>Words<br>and <em>more <strong>of'
    "</strong></em> them.</p>\n<ul><li>one <p>two</p></li>\n"
    '<li><img src="asset:1" alt="A &#34;box&#39;s&#x27;"></li></ul>\n'
    "<hr><dl><dt>a</dt><dd><ol><li>b</li></ol></dd></dl></div>\n\n</body>"
)


def test_an_ordinary_page_is_read_as_it_stands() -> None:
    root = tree_of(_page(ORDINARY))
    assert root is not None
    assert _all_of(root) == _as_html(_page(ORDINARY))
    page, usual = sparing.page_class()(_page(ORDINARY)), HTML(string=_page(ORDINARY))
    assert page.etree_element is not None
    assert (page.base_url, page.media_type) == (usual.base_url, usual.media_type)
    assert vars(page).keys() == vars(usual).keys()


@pytest.mark.parametrize(
    "inside",
    [
        "<p>a<div>b</div></p>",
        "<p>a<ul><li>b</li></ul></p>",
        "<p><span><p>b</p></span></p>",
        "<h1>a<h2>b</h2></h1>",
        "<ul><li>a<li>b</ul>",
        "<ul><li>a<div><li>b</li></div></li></ul>",
        "<table><tr><td>a</td></tr></table>",
        '<p><a href="x">a<em><a href="y">b</a></em></a></p>',
        "<div/><p>a</p>",
        "<p>a<!-- b -->c</p>",
        "<p>a&#150;b</p>",
        "<p>a&nbsp;b</p>",
        '<p class="a\nb">c</p>',
        "<p class=a>b</p>",
        "<p hidden>b</p>",
        '<P CLASS="a">b</P>',
        '<p xml:lang="de">b</p>',
        "<p>a<script>1 < 2</script></p>",
        "<p>a & b</p>",
        "<pre>\na</pre>",
        '<div><svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0"/></svg></div>',
        "<p><em>a<strong>b</em>c</strong></p>",
        "<div>a<body>b</body></div>",
    ],
)
def test_what_html_may_have_otherwise_is_left_to_it(inside: str) -> None:
    assert tree_of(_page(f"<body>{inside}</body>")) is None


@pytest.mark.parametrize(
    "page",
    [
        "<p>a</p>",
        _page("<body></body>"),
        _page("<body><p>a</p></body>more"),
        _page("more<body><p>a</p></body>"),
        _page("<body><p>a</p></body>", head="more"),
        _page("<body><p>a</p></body>", head="<style>p &gt; a{}</style>"),
        _page("<body><p>a</p></body>") + "\n",
        _page("<body><p>a</p></body>").replace("<html ", '<html xmlns="http://www.w3.org/1999/xhtml" '),
        _page("<body><p>a</p></body>").replace("<!doctype html>", '<!doctype html [<!ENTITY a "b">]>'),
    ],
)
def test_so_are_pages_that_are_not_as_ours(page: str) -> None:
    assert tree_of(page) is None


_NAMES = ("p", "div", "em", "a", "ul", "ol", "li", "h1", "span", "section", "dl", "dt", "dd", "figure", "strong")
_WORDS = ("fold", " it ", "\n", "&lt;", "&#34;", "<br>", "<hr>", "", " ")


def _soup(random: Random, deep: int) -> str:
    parts = []
    for _ in range(random.randint(0, 3)):
        parts.append(random.choice(_WORDS))
        if deep:
            name = random.choice(_NAMES)
            parts.append(f"<{name}>{_soup(random, deep - 1)}</{name}>")
    return "".join(parts)


def test_markup_at_random_is_read_alike_or_left_alone() -> None:
    random, read = Random(20), 0
    for _ in range(tries(1500, 30_000)):
        page = _page(f"<body><div>{_soup(random, random.randint(1, 3))}</div></body>")
        root = tree_of(page)
        if root is not None:
            assert _all_of(root) == _as_html(page), page
            read += any(len(one) for one in root.iterfind("body/div"))
    assert read > 100


def test_galleys_and_cards_of_ours_are_read_as_they_stand() -> None:
    """Else they would be right, but take their time."""
    with mock.patch.object(sparing, "tree_of", side_effect=tree_of) as asked:
        Proof(demo("twine-tag"), System.METRIC, "almanac", {}).card(A4)
    pages = [call.args[0] for call in asked.call_args_list]
    assert len(pages) == 2
    for page in pages:
        root = tree_of(page)
        assert root is not None
        assert _all_of(root) == _as_html(page)
