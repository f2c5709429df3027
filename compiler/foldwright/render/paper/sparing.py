"""What the typesetter (WeasyPrint 70) is spared: work whose result no page of ours can show. The pages are the same."""

from __future__ import annotations

import re
from copy import copy
from functools import cache, lru_cache
from typing import Any

from foldwright.render.paper.page_tree import tree_of

_EVERYWHERE = frozenset({"marker", "footnote-call", "footnote-marker", "note-call", "note-marker", "note-callback"})
"""What the typesetter's own sheet says something of in every element. Each is a style of its own to work out, six to an
element, which is most of the time that styles take; and without a footnote only items of lists show any of them."""
_MAY_SHOW = re.compile(r"(?:display|float|position)\s*:[^;}]*(?:list-item|note|var\()")
"""Where a style says one of these, more than items of lists may have a marker, or a call of a note."""
_WORKED_OUT = {"page", "position", "float", "display"}
"""Properties that are more than what a rule or the parent says of them."""


@cache
def page_class() -> Any:
    """The class of pages; made on first use, since its parent is slow to load."""
    from weasyprint import HTML, cssselect2

    class Page(HTML):  # type: ignore[misc]
        """`styles` are the texts of all its style sheets."""

        styles: tuple[str, ...] = ()

        def __init__(self, string: str, url_fetcher: Any = None) -> None:
            tree = tree_of(string)
            if tree is None:
                super().__init__(string=string, url_fetcher=url_fetcher)
            else:
                self.base_url, self.media_type, self.url_fetcher = None, "print", url_fetcher
                self.wrapper_element = cssselect2.ElementWrapper.from_html_root(tree, content_language=None)
                self.etree_element = tree

        def _ua_stylesheets(self, forms: bool = False) -> list[Any]:
            told = any(_MAY_SHOW.search(style) for style in self.styles)
            return super()._ua_stylesheets(forms) if told or forms else [_own_sheet()]

    return Page


@cache
def _own_sheet() -> Any:
    """The typesetter's own sheet, with markers for items of lists alone and nothing of notes."""
    from weasyprint.html import UA_STYLESHEET

    sheet, matcher = copy(UA_STYLESHEET), copy(UA_STYLESHEET.matcher)
    everywhere = [one for one in matcher.other_selectors if one[3] in _EVERYWHERE]
    markers = [one for one in everywhere if one[3] == "marker"]
    of_names = matcher.lower_local_name_selectors
    matcher.other_selectors = [one for one in matcher.other_selectors if one not in everywhere]
    matcher.lower_local_name_selectors = {**of_names, "li": [*of_names.get("li", ()), *markers]}
    sheet.matcher = matcher
    return sheet


@cache
def spare_styles() -> None:
    """Have what no rule says of an element taken from its parent, or as it is at first, without asking more; for each
    of two hundred properties the typesetter looks at all that might have been said."""
    from weasyprint.css import INHERITED, INITIAL_VALUES, ComputedStyle

    as_usual = ComputedStyle.__missing__

    def missing(style: Any, name: str) -> Any:
        names = _told_by().get(name)
        if names is None or style.parent_style is None or not names.isdisjoint(style.cascaded):
            return as_usual(style, name)
        value = style[name] = style.parent_style[name] if name in INHERITED else INITIAL_VALUES[name]
        return value

    ComputedStyle.__missing__ = missing


@cache
def _told_by() -> dict[str, frozenset[str]]:
    """Of each property that comes to its parent's or its first value where no rule says anything of it: the names under
    which a rule would."""
    from weasyprint.css import INHERITED, INITIAL_NOT_COMPUTED, INITIAL_VALUES, PHYSICAL_FUNCTIONS

    told_by = {}
    for name in INITIAL_VALUES.keys() - _WORKED_OUT:
        if name in INHERITED or not (name in INITIAL_NOT_COMPUTED or name.startswith("text_decoration_")):
            flowing = PHYSICAL_FUNCTIONS.get(name)
            ways = [flowing(block="ttb", inline=inline) for inline in ("ltr", "rtl")] if flowing else []
            told_by[name] = frozenset((name, *ways))
    return told_by


# --- drawings ---------------------------------------------------------------------------------------------------------

_POINT = r"-?\d+(?:\.\d+)? -?\d+(?:\.\d+)?"
_STRAIGHT = re.compile(rf"(?:M{_POINT}(?:L{_POINT})+Z?)+")
"""A path as drawings of ours have them: straight, whole words, nothing left out."""
_DOING = re.compile(rf"([MLZ])(?:({_POINT}))?")
_OPERATORS = {"M": b"m", "L": b"l", "Z": b"h"}


@cache
def spare_drawings() -> None:
    """Have straight paths written as they stand, and addresses and values taken apart once; what the typesetter does
    for every kind of path takes half the time of a drawing."""
    from weasyprint import svg

    as_usual = svg.TAGS["path"]

    def path(drawing: Any, node: Any, font_size: float) -> None:
        words = node.get("d", "")
        if not _STRAIGHT.fullmatch(words) or any(name.startswith("marker") for name in node.attrib):
            as_usual(drawing, node, font_size)
        else:
            drawing.stream.stream.extend(straight_path(words))

    svg.TAGS["path"] = path
    svg.parse_url = lru_cache(maxsize=256)(svg.parse_url)
    svg.utils.normalize = lru_cache(maxsize=4096)(svg.utils.normalize)


@lru_cache(maxsize=4096)
def straight_path(words: str) -> tuple[bytes, ...]:
    """The instructions of a PDF for a straight path, with the move to nowhere that every path begins with."""
    done = _DOING.findall(words)
    return (b"0 0 m", *(b" ".join((*map(_number, point.split()), _OPERATORS[letter])) for letter, point in done))


@lru_cache(maxsize=8192)
def _number(word: str) -> bytes:
    """As the typesetter writes it: six places at most, no noughts behind."""
    value = float(word)
    return (str(int(value)) if value.is_integer() else f"{value:f}".rstrip("0")).encode("ascii")
