"""The blank of each plain form round a box of things: every panel a multiple of the step, with the room asked for.

Which layers of card lie where is the rule of `geometry.inside`; here the same sums are rounded up to easy numbers.
"""

from __future__ import annotations

from fractions import Fraction

from foldwright.begin.design.model import DesignWish, Panels, ThingsLying
from foldwright.geometry.flat.inside import flap_layers
from foldwright.measure.length import Length, System, Unit
from foldwright.recipe.facts.writing import write_length

_LOWEST_WALL = {System.IMPERIAL: Length.of(Fraction(3, 8), Unit.INCH), System.METRIC: Length.of(10, Unit.MILLIMETRE)}
"""A lower wall can hardly be folded (common practice, no source)."""
_LID_GAP = {System.IMPERIAL: Length.of(Fraction(1, 8), Unit.INCH), System.METRIC: Length.of(3, Unit.MILLIMETRE)}
"""A lid's floor is wider than its base's by this at least, score to score (common practice, no source)."""
_LID_DEPTH = {System.IMPERIAL: Length.of(Fraction(3, 4), Unit.INCH), System.METRIC: Length.of(20, Unit.MILLIMETRE)}
_SLEEVE_PLAY = {System.IMPERIAL: Length.of(Fraction(1, 16), Unit.INCH), System.METRIC: Length.of(2, Unit.MILLIMETRE)}
"""A sleeve is wider and higher than its drawer by this at least, score to score (common practice, no source)."""
_GLUE_FLAP = {System.IMPERIAL: Length.of(Fraction(1, 2), Unit.INCH), System.METRIC: Length.of(12, Unit.MILLIMETRE)}
_IN_ENVELOPE = {System.IMPERIAL: Length.of(Fraction(1, 4), Unit.INCH), System.METRIC: Length.of(6, Unit.MILLIMETRE)}
"""What an envelope is wider and higher than what goes in, in all (a rule of thumb of the trade)."""
_SIDE_FLAP = {System.IMPERIAL: Length.of(Fraction(3, 4), Unit.INCH), System.METRIC: Length.of(20, Unit.MILLIMETRE)}
_OVERLAP = {System.IMPERIAL: Length.of(Fraction(1, 2), Unit.INCH), System.METRIC: Length.of(12, Unit.MILLIMETRE)}
_EASIER = {System.IMPERIAL: (1, 2, 4), System.METRIC: (1, 5, 10)}


def easier(wish: DesignWish) -> tuple[int, ...]:
    """How many steps numbers are rounded up to, in turn: bigger blanks, but easier numbers."""
    whole = wish.system is System.METRIC and wish.step.mm == 1
    return _EASIER[System.METRIC] if whole else _EASIER[System.IMPERIAL]


def tray_round(
    wish: DesignWish, box: tuple[Fraction, ...], times: tuple[int, ...] = (1, 1, 1), name: str = "tray"
) -> Panels:
    """A tray with the box and the clearance free inside."""
    thick, clear = wish.thickness, wish.clearance.mm
    across, down, high = box
    wall = wish.up(max(high + thick / 2, _LOWEST_WALL[wish.system].mm), times[2])
    plain = wish.up(across + clear + thick, times[0]), wish.up(down + clear + thick, times[1])
    on_short = _on_short(wall.mm, plain[0].mm, plain[1].mm)
    along = 0 if on_short else 1
    layers = flap_layers(wall.mm, plain[1 - along].mm)
    floors = list(plain)
    floors[along] = wish.up((across, down)[along] + clear + thick * (1 + 2 * layers), times[along])
    flaps, trim = _flaps(wish, wall, floors, on_short)
    return Panels(
        name=name,
        form="tray",
        across=(wall, floors[0], wall),
        down=(wall, floors[1], wall),
        across_names=("left", "floor", "right"),
        down_names=("back", "floor", "front"),
        facts=(("flaps", flaps), ("fold", "tray")),
        trim=trim,
    )


def _on_short(wall: Fraction, across: Fraction, down: Fraction) -> bool:
    """Whether the flaps lie on the shorter walls (left and right), or on the longer ones since they would overlap."""
    return 2 * wall <= down or 2 * wall > across


def _flaps(wish: DesignWish, wall: Length, floors: list[Length], on_short: bool) -> tuple[str, str]:
    """What the flaps stay joined to, and what is trimmed off so that they do not overlap."""
    joined = "back and front" if on_short else "left and right"
    over = wall.mm - floors[1 if on_short else 0].mm / 2
    trim = write_length(wish.up(over)) if over > 0 else ""
    return f"joined to {joined}" + (f", trimmed {trim}" if trim else ""), trim


def _layers(tray: Panels) -> tuple[int, int]:
    """How many flaps lie at each end of the floor, across and down."""
    wall = tray.across[0].mm
    on_short = "back" in dict(tray.facts)["flaps"]
    layers = flap_layers(wall, (tray.down if on_short else tray.across)[1].mm)
    return (layers, 0) if on_short else (0, layers)


def room_in(wish: DesignWish, tray: Panels, lying: ThingsLying) -> tuple[Fraction, ...]:
    """What is left round the things, across, down and high (mm)."""
    thick = wish.thickness
    free = [
        row[1].mm - thick * (1 + 2 * layers)
        for row, layers in zip((tray.across, tray.down), _layers(tray), strict=True)
    ]
    return tuple(one - taken for one, taken in zip((*free, tray.across[0].mm - thick / 2), lying.box, strict=True))


def lid_over(wish: DesignWish, base: Panels) -> Panels:
    """A lid over a tray: the card of both, and its own flaps, which lie inside it, counted on every side."""
    thick, gap = wish.thickness, _LID_GAP[wish.system].mm
    depth = wish.up(min(_LID_DEPTH[wish.system].mm, base.across[0].mm))
    on_short = _on_short(depth.mm, base.across[1].mm, base.down[1].mm)
    own = flap_layers(depth.mm, (base.down if on_short else base.across)[1].mm)
    floors = []
    for side, row in enumerate((base.across, base.down)):
        layers = own if on_short == (side == 0) else 0
        floors.append(wish.up(row[1].mm + max(gap, thick * (2 + 2 * layers) + wish.hand)))
    flaps, trim = _flaps(wish, depth, floors, on_short)
    return Panels(
        name="lid",
        form="lid",
        across=(depth, floors[0], depth),
        down=(depth, floors[1], depth),
        across_names=("left", "top", "right"),
        down_names=("back", "top", "front"),
        facts=(("flaps", flaps), ("fold", "lid"), ("fits over", base.name)),
        trim=trim,
    )


def sleeve_round(wish: DesignWish, drawer: Panels) -> Panels:
    """A sleeve as long as the drawer, open at the drawer's short ends."""
    thick, play = wish.thickness, _SLEEVE_PLAY[wish.system].mm
    wide = wish.up(drawer.down[1].mm + max(play, thick * 2 + wish.hand))
    high = wish.up(drawer.down[0].mm + max(play, thick * Fraction(5, 2) + wish.hand))
    flap = wish.up(min(_GLUE_FLAP[wish.system].mm, wide.mm / 2))
    return Panels(
        name="sleeve",
        form="sleeve",
        across=(wide, high, wide, high, flap),
        down=(drawer.across[1],),
        across_names=("top", "left side", "bottom", "right side", "glue flap"),
        facts=(("fold", "sleeve"),),
    )


def envelope_round(wish: DesignWish, box: tuple[Fraction, ...], times: int = 1) -> Panels:
    """An envelope with flaps on four sides; what is thick takes its thickness of the width and of the height."""
    across, down, thick = box
    room = max(_IN_ENVELOPE[wish.system].mm, wish.clearance.mm)
    wide = wish.up(across + room + thick + wish.thickness, times)
    high = wish.up(down + room + thick + wish.thickness, times)
    side = wish.up(min(_SIDE_FLAP[wish.system].mm, wide.mm / 3))
    bottom = wish.up(high.mm * 3 / 5)
    top = wish.up(high.mm - bottom.mm + _OVERLAP[wish.system].mm)
    return Panels(
        name="envelope",
        form="envelope",
        across=(side, wide, side),
        down=(top, high, bottom),
        across_names=("left flap", "body", "right flap"),
        down_names=("top flap", "body", "bottom flap"),
        facts=(("corners", "cut away"), ("fold", "envelope")),
    )


def card_for(envelope: str, front: tuple[Length, Length]) -> Panels:
    """A card that folds once, its front as given, for an envelope of that name."""
    across, down = front
    return Panels(
        name="card",
        form="card",
        across=(across, across),
        down=(down,),
        across_names=("back", "front"),
        facts=(("fold", "card"), ("slides in", envelope)),
    )
