"""A page's markup as a tree: read as XML, in a thirtieth of the time, where that is sure to give what HTML gives.

A theme may have markup of its own, and HTML has many ways of putting right what is written; whatever they might touch
is left to them.
"""

from __future__ import annotations

import re
from xml.etree.ElementTree import Element, ParseError, fromstring

_OPENING, _CLOSING = "<!doctype html>", "</html>"
_READ_OTHERWISE = re.compile(r'/>|<[!?]|\r|&#(?!(?:3[49]|x27);)|="[^"]*[\n\t]|=[^"]')
"""What XML reads otherwise: ends of elements that HTML goes on with, comments, letters by number (but quotation marks),
lines in a value, and values without quotation marks."""
_EMPTY = re.compile(r"<((?:meta|br|hr|img|wbr)\b[^>]*)>")
"""Elements that HTML ends by itself."""
_ATTRIBUTE = re.compile(r"[a-z-]+")
_IN_HEAD = {"meta", "title"}
_IN_LINE = {"a", "b", "br", "code", "em", "i", "img", "small", "span", "strong", "sub", "sup", "time", "wbr"}
"""What may be in a paragraph or a heading: anything else would end a paragraph."""
_LINES = _IN_LINE | {"p", "h1", "h2", "h3", "h4", "h5", "h6"}
_LISTS = {"ul": {"li"}, "ol": {"li"}, "dl": {"dt", "dd"}}
_BLOCKS = (_LINES | _LISTS.keys()) | {
    *("article", "aside", "blockquote", "body", "dd", "div", "dt", "figcaption", "figure", "footer", "header", "hr"),
    *("li", "main", "nav", "section"),
}
_IN_BLOCKS = _BLOCKS - {"body", "li", "dt", "dd"}


def tree_of(html: str) -> Element | None:
    """The tree of a page as HTML has it; none where it has to be read as HTML to be sure."""
    written = html.removeprefix(_OPENING)
    if written == html or not html.endswith(_CLOSING) or _READ_OTHERWISE.search(written):
        return None
    try:
        root = fromstring(_EMPTY.sub(r"<\1/>", written))
    except ParseError:
        return None
    if root.tag != "html" or [child.tag for child in root] != ["head", "body"]:
        return None
    head, body = root
    beside = (root.text, head.text, head.tail, body.tail, *(child.tail for child in head))
    if any(text and text.strip() for text in beside) or any(child.tag not in _IN_HEAD or len(child) for child in head):
        return None
    if not len(body) or not all(_stands(element) for element in root.iter()) or body.find(".//a//a") is not None:
        return None
    # Space before the head is nobody's, and what is after the body is in it.
    root.text = None
    body[-1].tail = (body[-1].tail or "") + (body.tail or "")
    body.tail = None
    return root


def _stands(element: Element) -> bool:
    """Whether all that is in an element stays there, and its attributes are as they are written."""
    if not all(map(_ATTRIBUTE.fullmatch, element.attrib)):
        return False
    if element.tag in ("html", "head") or element.tag in _IN_HEAD:
        return True
    within = _IN_LINE if element.tag in _LINES else _LISTS.get(element.tag, _IN_BLOCKS)
    return element.tag in _BLOCKS and all(child.tag in within for child in element)
