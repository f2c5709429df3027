"""Where things stand on a label: the look's own frame, the picture of the finished thing, and the room for texts."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from foldwright.event.document.model import LabelText
from foldwright.render.paper.placing import BoxFrame, PlacedPanel, PlacedRule, Specimen, StampSpot

_INSETS = 14
"""No inset takes more than this part of a side."""
_BESIDE = 1.25
"""A label so many times wider than high has its picture at one side, another one at its head."""
_BESIDE_SHARES, _ABOVE_SHARES = (0.4, 0.34, 0.28), (0.5, 0.4, 0.32)
"""Of the width, or of the height, for the picture: the largest first."""
_LEAST_PICTURE = 11.0
"""Millimetres of its longer side: a smaller one shows nothing (a reasoned guess, no source)."""
NAME_LINE = 8.0
"""Millimetres of height in which a name can be written by hand (common practice, no source)."""


class LabelPlace(Struct, frozen=True):
    """Where a label is set: in what frame, with what picture; `ruled` with a line for a name that it has not.

    Texts stand `left` and `right` of the insets further in, and begin at `top`.
    """

    look: Specimen
    frame: BoxFrame
    width: float
    height: float
    ruled: bool
    panels: tuple[PlacedPanel, ...] = ()
    picture: StampSpot | None = None
    left: float = 0.0
    right: float = 0.0
    over: float = 0.0

    @property
    def room(self) -> float:
        return self.width - 2 * self.frame.inset_across - self.left - self.right

    @property
    def top(self) -> float:
        return self.frame.inset_down + self.over + (NAME_LINE if self.ruled else 0.0)

    @property
    def rules(self) -> tuple[PlacedRule, ...]:
        line = PlacedRule(self.frame.inset_across + self.left, self.top - 1.0, self.room)
        return (line,) if self.ruled else ()


def plain_place(
    label: LabelText, look: Specimen, size: tuple[Fraction, Fraction], lined: bool, name_line: bool
) -> LabelPlace:
    """The theme's frame in a size; on a small label what stands in it comes nearer to the edge."""
    width, height = map(float, size)
    frame = look.frames["label"]
    across, down = min(frame.inset_across, width / _INSETS), min(frame.inset_down, height / _INSETS)
    own = replace(frame, inset_across=across, inset_down=down, line=frame.line if lined else 0.0)
    place = LabelPlace(look, own, width, height, name_line and not label.name)
    edge, inner = _edge(place), look.frames["frame"]
    if not inner.line:
        return place
    return replace(place, panels=(PlacedPanel(edge, edge, width - 2 * edge, height - 2 * edge, inner),))


def _edge(place: LabelPlace) -> float:
    """How far the inner frame keeps from the edge: half way to the texts at most."""
    return min(place.look.frames["frame"].margin, min(place.frame.inset_across, place.frame.inset_down) / 2)


def places_with_picture(plain: LabelPlace, name: str, ratio: float) -> Iterator[LabelPlace]:
    """The same with the picture of that name, the largest first; `ratio` is its height as a part of its width."""
    beside = plain.width > _BESIDE * plain.height
    for share in _BESIDE_SHARES if beside else _ABOVE_SHARES:
        one = (_beside if beside else _above)(plain, name, ratio, share)
        if one.picture and max(one.picture.width, one.picture.height) >= _LEAST_PICTURE:
            yield one


def _beside(plain: LabelPlace, name: str, ratio: float, share: float) -> LabelPlace:
    """The picture in a panel as high as the label, at the side its theme floats it to."""
    hero, edge = plain.look.frames["hero"], _edge(plain)
    wide, high = min(share * plain.width, 1.15 * plain.height), plain.height - 2 * edge
    left = plain.width - edge - wide if hero.at_right else edge
    taken = edge + wide + 0.8 * plain.frame.inset_across - plain.frame.inset_across
    panel, spot = _panel(hero, left, edge, wide, high, name, ratio)
    sides = (0.0, taken) if hero.at_right else (taken, 0.0)
    return replace(plain, panels=(*plain.panels, panel), picture=spot, left=sides[0], right=sides[1])


def _above(plain: LabelPlace, name: str, ratio: float, share: float) -> LabelPlace:
    """The picture in a panel as wide as the label, over the texts."""
    hero, edge = plain.look.frames["hero"], _edge(plain)
    wide, high = plain.width - 2 * edge, share * plain.height
    panel, spot = _panel(hero, edge, edge, wide, high, name, ratio)
    return replace(
        plain, panels=(*plain.panels, panel), picture=spot, over=max(0.0, edge + high - 0.2 * plain.frame.inset_down)
    )


def _panel(
    look: BoxFrame, left: float, top: float, wide: float, high: float, name: str, ratio: float
) -> tuple[PlacedPanel, StampSpot]:
    """A panel, and the picture in the middle of it, as large as its insets let it be."""
    inset = min(look.inset_across, wide / _INSETS * 1.5, high / _INSETS * 1.5)
    across = min(wide - 2 * inset, (high - 2 * inset) / ratio)
    down = across * ratio
    spot = StampSpot(name, left + (wide - across) / 2, top + (high - down) / 2, across, down)
    return PlacedPanel(left, top, wide, high, look), spot
