"""What follows a heading: no heading stands alone at the foot of a page or of a column."""

from __future__ import annotations

import math
import re
from collections.abc import Collection

from printed.laid import Laid, laid
from printed.reading import Box

_HEADING = re.compile(r"H[1-6]?$")
_FAR = 4.0
"""Heights of the heading that may be left between it and what it is the heading of."""


def alone(data: bytes, *, to_write_under: Collection[str] = ()) -> list[str]:
    """Headings after which the next thing read stands on another page, or far off, as at the head of the next column.
    What stands beside a heading or right over it follows it as well as what stands under it. Under headings with the
    words `to_write_under` there are but lines to write on."""
    found: list[str] = []
    for heading, rest in _followed(laid(data)):
        if heading.text in to_write_under:
            continue
        following = rest[0] if rest else None
        name = f"page {heading.page}: the heading “{heading.text[:40]}”"
        if following is None:
            found.append(f"{name} is followed by nothing")
        elif following.page != heading.page:
            found.append(f"{name} stands alone: page {following.page} goes on with what follows")
        elif following.box.bottom < heading.box.top and not any(_over(one, heading) for one in rest):
            found.append(f"{name} stands alone: what follows is further up")
        elif following.box.bottom >= heading.box.top and min(_below(one, heading) for one in rest) > _FAR * _high(
            heading.box
        ):
            found.append(f"{name} stands far above what follows")
    return found


def _over(upper: Laid, heading: Laid) -> bool:
    """Whether it stands right over the heading, as a picture over the words of its panel: these begin at the left, so
    that short ones may end before the picture begins. Of several the last one stands there."""
    one, words = upper.box, heading.box
    far = _FAR * _high(words)
    across, down = max(one.x0 - words.x1, words.x0 - one.x1), words.top - one.bottom
    near = across <= far if upper.role == "Figure" else across < 0
    return upper.page == heading.page and near and 0 <= down <= far


def _high(box: Box) -> float:
    return box.bottom - box.top


def _below(one: Laid, heading: Laid) -> float:
    """How far under the heading it begins: of pictures side by side the first need not be the highest."""
    same = one.page == heading.page and one.box.bottom > heading.box.top
    return one.box.top - heading.box.bottom if same else math.inf


def _followed(tops: tuple[Laid, ...]) -> list[tuple[Laid, list[Laid]]]:
    """Every heading and what is read after it, up to the next heading; one right under another is what follows that."""
    order: list[Laid] = []
    for top in tops:
        _flat(top, order)
    places = [at for at, one in enumerate(order) if _HEADING.match(one.role)]
    ends = [*places[1:], len(order)]
    return [(order[at], order[at + 1 : max(end, at + 2)]) for at, end in zip(places, ends, strict=False)]


def _flat(element: Laid, order: list[Laid]) -> None:
    """Headings and pictures whole, everything else in its smallest parts."""
    if _HEADING.match(element.role) or element.role == "Figure" or not element.below:
        order.append(element)
        return
    for one in element.below:
        _flat(one, order)
