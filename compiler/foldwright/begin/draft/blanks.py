"""The blank of each plain form: every panel a multiple of the step, with the room that is asked for.

Which layers of card lie where is the rule of `geometry.flat.inside`; here the same sums are rounded up to easy numbers.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil, pi

from msgspec import Struct
from msgspec.structs import replace

from foldwright.begin.draft.model import Panels
from foldwright.geometry.flat.inside import flap_layers
from foldwright.geometry.together.hands import ERROR
from foldwright.measure.length import Length, System, Unit

STEPS = {System.IMPERIAL: Length.of(Fraction(1, 8), Unit.INCH), System.METRIC: Length.of(1, Unit.MILLIMETRE)}
"""Numbers that are easy to set a trimmer to (common practice, no source)."""
CLEARANCES = {System.IMPERIAL: Length.of(Fraction(1, 16), Unit.INCH), System.METRIC: Length.of(1, Unit.MILLIMETRE)}
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

_NARROWER = {System.IMPERIAL: Length.of(Fraction(1, 16), Unit.INCH), System.METRIC: Length.of(2, Unit.MILLIMETRE)}
"""How much narrower the leaf is that is folded in first (common practice, no source)."""
_PLEAT = {System.IMPERIAL: Length.of(Fraction(3, 8), Unit.INCH), System.METRIC: Length.of(10, Unit.MILLIMETRE)}
_ROUND = 1.025
"""The pleats of a rosette, and how much longer they are than its rim, so that it lies flat (common practice, no
source)."""


class BlankRules(Struct, frozen=True):
    """What a blank is made by. `step` is what every number is a multiple of, in the unit all numbers come out in.

    `clearance` is the room to spare in each direction, in all; `thickness` how thick the card is (mm); `hand_error`
    how far a cut or a score of the studio's may be off (mm; None: the usual).
    """

    step: Length
    clearance: Length
    thickness: Fraction
    hand_error: Fraction | None = None

    @property
    def unit(self) -> Unit:
        """The unit all numbers come out in."""
        return self.step.unit

    @property
    def system(self) -> System:
        """The system of that unit."""
        return self.unit.system

    @property
    def hand(self) -> Fraction:
        """What a joint made by hand takes besides the card (mm): twice the error, so that nine in ten go together."""
        return 2 * (ERROR[self.system] if self.hand_error is None else self.hand_error)

    def up(self, mm: Fraction, times: int = 1) -> Length:
        """The least multiple of the step (or so many times the step) that is no less."""
        step = self.step.mm * times
        return Length(-(-mm // step) * step, self.unit)


def tray_round(rules: BlankRules, box: tuple[Fraction, ...], times: tuple[int, ...] = (1, 1, 1)) -> Panels:
    """A tray with the box (across, down, high in mm) and the clearance free inside.

    `times` are how many steps its panels across, down and up are rounded up to.
    """
    thick, clear = rules.thickness, rules.clearance.mm
    across, down, high = box
    wall = rules.up(max(high + thick / 2, _LOWEST_WALL[rules.system].mm), times[2])
    plain = rules.up(across + clear + thick, times[0]), rules.up(down + clear + thick, times[1])
    on_short = _on_short(wall, *plain)
    along = 0 if on_short else 1
    floors = list(plain)
    floors[along] = rules.up(
        (across, down)[along] + clear + thick * (1 + 2 * flap_layers(wall.mm, plain[1 - along].mm)), times[along]
    )
    return _tray(rules, (floors[0], floors[1], wall), "tray", on_short)


def tray_of(rules: BlankRules, panels: tuple[Length, Length, Length], name: str = "tray") -> Panels:
    """A tray of these panels: its floor across and down, score to score, and its walls."""
    across, down, wall = panels
    return _tray(rules, panels, name, _on_short(wall, across, down))


def _tray(rules: BlankRules, panels: tuple[Length, Length, Length], name: str, on_short: bool) -> Panels:
    """Flaps that lie on the short walls stay joined to the long ones; what would overlap is trimmed off."""
    across, down, wall = panels
    over = wall.mm - (down if on_short else across).mm / 2
    return Panels(
        name=name,
        form="tray",
        across=(wall, across, wall),
        down=(wall, down, wall),
        across_names=("left", "floor", "right"),
        down_names=("back", "floor", "front"),
        joined=("back", "front") if on_short else ("left", "right"),
        trim=rules.up(over) if over > 0 else None,
        facts=(("fold", "tray"),),
    )


def _on_short(wall: Length, across: Length, down: Length) -> bool:
    """Whether the flaps lie on the left and right walls, the shorter ones; not where they would only overlap there."""
    return 2 * wall.mm <= down.mm or 2 * wall.mm > across.mm


def flaps_on_floor(tray: Panels) -> tuple[int, int]:
    """How many flaps lie at each end of the floor, across and down."""
    wall = tray.across[0].mm
    if "back" in tray.joined:
        return flap_layers(wall, tray.down[1].mm), 0
    return 0, flap_layers(wall, tray.across[1].mm)


def lid_over(rules: BlankRules, base: Panels) -> Panels:
    """A lid over a tray: the card of both, and its own flaps, which lie inside it, counted on every side."""
    thick, gap = rules.thickness, _LID_GAP[rules.system].mm
    depth = rules.up(min(_LID_DEPTH[rules.system].mm, base.across[0].mm))
    on_short = _on_short(depth, base.across[1], base.down[1])
    own = flap_layers(depth.mm, (base.down if on_short else base.across)[1].mm)
    across, down = (
        rules.up(row[1].mm + max(gap, thick * (2 + 2 * layers) + rules.hand))
        for row, layers in ((base.across, own if on_short else 0), (base.down, 0 if on_short else own))
    )
    return replace(
        _tray(rules, (across, down, depth), "lid", on_short),
        form="lid",
        across_names=("left", "top", "right"),
        down_names=("back", "top", "front"),
        facts=(("fold", "lid"), ("fits over", base.name)),
    )


def sleeve_round(rules: BlankRules, drawer: Panels) -> Panels:
    """A sleeve as long as the drawer, open at the drawer's short ends."""
    thick, play = rules.thickness, _SLEEVE_PLAY[rules.system].mm
    wide = rules.up(drawer.down[1].mm + max(play, thick * 2 + rules.hand))
    high = rules.up(drawer.down[0].mm + max(play, thick * Fraction(5, 2) + rules.hand))
    return sleeve_of(rules, (wide, drawer.across[1], high))


def sleeve_of(rules: BlankRules, panels: tuple[Length, Length, Length]) -> Panels:
    """A sleeve so wide, so long and so high, score to score, with its glue flap."""
    wide, long, high = panels
    flap = rules.up(min(_GLUE_FLAP[rules.system].mm, wide.mm / 2))
    return Panels(
        name="sleeve",
        form="sleeve",
        across=(wide, high, wide, high, flap),
        down=(long,),
        across_names=("top", "left side", "bottom", "right side", "glue flap"),
        facts=(("fold", "sleeve"),),
    )


def envelope_round(rules: BlankRules, box: tuple[Fraction, ...], times: int = 1) -> Panels:
    """An envelope with flaps on four sides; what is thick takes its thickness of the width and of the height."""
    across, down, thick = box
    room = max(_IN_ENVELOPE[rules.system].mm, rules.clearance.mm)
    wide = rules.up(across + room + thick + rules.thickness, times)
    high = rules.up(down + room + thick + rules.thickness, times)
    side = rules.up(min(_SIDE_FLAP[rules.system].mm, wide.mm / 3))
    bottom = rules.up(high.mm * 3 / 5)
    top = rules.up(high.mm - bottom.mm + _OVERLAP[rules.system].mm)
    return Panels(
        name="envelope",
        form="envelope",
        across=(side, wide, side),
        down=(top, high, bottom),
        across_names=("left flap", "body", "right flap"),
        down_names=("top flap", "body", "bottom flap"),
        facts=(("corners", "cut away"), ("fold", "envelope")),
    )


def card_of(front: tuple[Length, Length]) -> Panels:
    """A card that folds once, its front (across and down) as given."""
    across, down = front
    return Panels("card", "card", (across, across), (down,), ("back", "front"), facts=(("fold", "card"),))


def gate_of(front: tuple[Length, Length]) -> Panels:
    """A card whose two leaves, half as wide as its front, meet in the middle."""
    across, down = front
    leaf = across * Fraction(1, 2)
    names = ("left leaf", "middle", "right leaf")
    return Panels("card", "gate", (leaf, across, leaf), (down,), names, facts=(("fold", "gate"),))


def tri_fold_of(rules: BlankRules, front: tuple[Length, Length]) -> Panels:
    """A card of three leaves, the one that goes in first a little narrower."""
    across, down = front
    row = (across, across, across - _NARROWER[rules.system])
    return Panels("card", "tri-fold", row, (down,), ("front", "middle", "inner leaf"), facts=(("fold", "tri-fold"),))


def rosette_of(rules: BlankRules, wide: Length) -> Panels:
    """A strip half as wide as the rosette, with as many pleats as reach once round its rim and one for glue."""
    pleat, high = _PLEAT[rules.system], wide * Fraction(1, 2)
    count = ceil(2 * pi * float(high.mm) * _ROUND / float(pleat.mm)) + 1
    return Panels("rosette", "rosette", (pleat,) * (count + count % 2), (high,), facts=(("fold", "rosette"),))
