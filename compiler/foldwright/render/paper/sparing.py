"""What the typesetter (WeasyPrint 70) is spared: work whose result no page of ours can show. The pages are the same."""

from __future__ import annotations

import re
from copy import copy
from functools import cache, lru_cache, wraps
from types import SimpleNamespace
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
    """Have what no rule says of an element taken as it is at first, or from its parent, without asking more; for each
    of two hundred properties the typesetter looks at all that might have been said."""
    from weasyprint.css import INHERITED, INITIAL_VALUES, AnonymousStyle, ComputedStyle

    begun, begun_anonymous, as_usual = ComputedStyle.__init__, AnonymousStyle.__init__, ComputedStyle.__missing__

    def begin(style: Any, parent_style: Any, cascaded: Any, pseudo_type: Any, *more: Any) -> None:
        begun(style, parent_style, cascaded, pseudo_type, *more)
        # What a style of a first line or letter holds is laid over that of the element.
        if parent_style is not None and pseudo_type is None:
            at_first, telling = _at_first()
            style.update(at_first)
            for name in telling.keys() & cascaded.keys():
                for told in telling[name]:
                    style.pop(told, None)

    def begin_anonymous(style: Any, parent_style: Any) -> None:
        style.update(_at_first()[0])
        begun_anonymous(style, parent_style)

    def missing(style: Any, name: str) -> Any:
        names = _told_by().get(name)
        if names is None or style.parent_style is None or not names.isdisjoint(style.cascaded):
            return as_usual(style, name)
        value = style[name] = style.parent_style[name] if name in INHERITED else INITIAL_VALUES[name]
        return value

    ComputedStyle.__init__, AnonymousStyle.__init__, ComputedStyle.__missing__ = begin, begin_anonymous, missing


@cache
def _at_first() -> tuple[dict[str, Any], dict[str, list[str]]]:
    """What every element begins with that takes nothing from its parent, and by each name a rule may say, what of
    that it is about."""
    from weasyprint.css import INHERITED, INITIAL_VALUES

    own = {name: names for name, names in _told_by().items() if name not in INHERITED}
    telling: dict[str, list[str]] = {}
    for name, names in own.items():
        for told in names:
            telling.setdefault(told, []).append(name)
    return {name: INITIAL_VALUES[name] for name in own}, telling


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


# --- boxes and lines --------------------------------------------------------------------------------------------------

_MEASURES = (
    *(f"{kind}_{side}" for kind in ("margin", "padding") for side in ("left", "right", "top", "bottom")),
    *(f"{bound}{side}" for side in ("width", "height") for bound in ("", "min_", "max_")),
    *(f"border_{side}_width" for side in ("left", "right", "top", "bottom")),
    *("box_sizing", "border_collapse"),
)
"""All that the size of a box follows from, but for what it stands in."""
_FACE = (
    *("font_family", "font_style", "font_stretch", "font_weight", "font_size"),
    *("font_variant_caps", "font_variation_settings"),
)
_NEXT_PARAGRAPH = re.compile("[\n\r\u2029]")


@cache
def spare_boxes() -> None:
    """Have measures that are no parts of others worked out once for all boxes that say the same."""
    from weasyprint import layout

    as_usual = layout.percent.resolve_percentages

    @lru_cache(maxsize=4096)
    def measured(*said: Any) -> dict[str, Any] | None:
        *values, _, collapse = said
        if collapse != "separate" or not all(map(_stands_alone, values)):
            return None
        box = SimpleNamespace(style=dict(zip(_MEASURES, said, strict=True)))
        as_usual(box, (0, 0))
        del box.style
        return vars(box)

    @wraps(as_usual)
    def resolve(box: Any, containing_block: Any) -> None:
        if (used := measured(*map(box.style.__getitem__, _MEASURES))) is None:
            as_usual(box, containing_block)
        else:
            vars(box).update(used)

    for module in vars(layout).values():
        if getattr(module, "resolve_percentages", None) is as_usual:
            module.resolve_percentages = resolve


def _stands_alone(value: Any) -> bool:
    """Whether it is so long whatever the box stands in."""
    return value == "auto" or isinstance(value, int | float) or getattr(value, "unit", "") == "px"


@cache
def spare_lines() -> None:
    """Have a line shaped once, for measuring and for drawing, and its face described once."""
    from weasyprint.text import line_break
    from weasyprint.text.ffi import pango

    layouts, described = line_break.Layout, line_break.get_font_description
    set_text, put_away, take_up = layouts.set_text, layouts.deactivate, layouts.reactivate

    @lru_cache(maxsize=1024)
    def description(*face: Any) -> Any:
        return described(dict(zip(_FACE, face, strict=True)))

    @wraps(set_text)
    def set_one_paragraph(layout: Any, text: str, justify: bool = False) -> None:
        # Who draws a line says so, which has the line shaped anew where it was not said before.
        pango.pango_layout_set_single_paragraph_mode(layout.layout, not _NEXT_PARAGRAPH.search(text))
        set_text(layout, text, justify)

    @wraps(put_away)
    def put_away_when_drawn(layout: Any) -> None:
        if vars(layout).get("measured") or layout.justification_spacing or layout.get_first_line()[1] is not None:
            put_away(layout)
        layout.measured = True

    @wraps(take_up)
    def take_up_if_put_away(layout: Any, style: Any) -> None:
        if vars(layout).get("style") is not style:
            take_up(layout, style)

    @wraps(described)
    def describe(style: Any) -> Any:
        return description(tuple(style["font_family"]), *map(style.__getitem__, _FACE[1:]))

    layouts.set_text, layouts.deactivate, layouts.reactivate = (
        set_one_paragraph,
        put_away_when_drawn,
        take_up_if_put_away,
    )
    line_break.get_font_description = describe


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

    def colour(words: str) -> Any:
        return copy(colour_of(words))

    svg.TAGS["path"] = path
    # A colour that was found may be made more transparent by whoever asked.
    colour_of, svg.color = lru_cache(maxsize=1024)(svg.color), colour
    svg.parse_url = lru_cache(maxsize=256)(svg.parse_url)
    svg.size = lru_cache(maxsize=4096)(svg.size)
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
