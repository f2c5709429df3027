"""The pieces of a recipe in another size, each written anew once, what others follow from first.

What holds things together stays as it is: glue flaps, what is trimmed off flaps, the gap of a lid and the play of a
drawer, the borders of mats, the holes of a punch. All else is scaled and rounded to easy numbers; what follows from
another piece follows, by what that measures once it is laid flat anew. What is bought ready-made keeps its size.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from foldwright.begin.draft.model import DraftNote
from foldwright.begin.resize.bought import bought_again, envelopes_for, ready_made, renamed
from foldwright.begin.resize.following import (
    Led,
    circled,
    flaps_of,
    leaders_of,
    leaves_meeting,
    led_by_drawer,
    row_along,
    stays_with,
)
from foldwright.begin.resize.growth import Growth, Stretch, nearest, on_ruler
from foldwright.begin.resize.lying import Lie, factor, laid_anew
from foldwright.begin.resize.model import Resized
from foldwright.begin.resize.rewriting import Rewriter, with_joints, with_rows
from foldwright.geometry.flat.blank import Blank, BlankFace
from foldwright.geometry.flat.inside import rooms
from foldwright.geometry.flat.panels import faces_meant, split_place, whole_face
from foldwright.geometry.flat.points import floats
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.outlines.shapes import SHAPES
from foldwright.geometry.outlines.svg import Outline
from foldwright.geometry.pieces import Flat, lay_flat
from foldwright.geometry.together.lying import read_lying, with_distances
from foldwright.measure.length import Length, Unit
from foldwright.recipe.facts.writing import write_length
from foldwright.recipe.model import Dims, Piece, Recipe, RelativeSize, Said, Supply

_SIDES = ("across", "down")
_NARROW = Fraction(1, 8)
"""A difference in size of no more than this part of the shorter side is a border, and stays (a reasoned guess)."""


class Resizing:
    """Writes every piece anew, each once, what others follow from first. `given` pieces are so already.

    `exactly` names pieces that are not rounded. What is drawn beside an outline in a file never is.
    """

    def __init__(
        self,
        recipe: Recipe,
        flat: Flat,
        growth: Growth,
        supplies: Sequence[Supply],
        given: Iterable[Piece] = (),
        exactly: Collection[str] = (),
    ) -> None:
        self._recipe = recipe
        self._flat = flat
        self._usual = self._growth = growth
        self._exactly = exactly
        self._supplies = tuple(supplies)
        self._pieces = {piece.name.value.casefold(): piece for piece in recipe.pieces}
        self._new = {piece.name.value.casefold(): piece for piece in given}
        self._open: set[str] = set()
        self._notes: list[DraftNote] = []
        self._laid: Flat | None = None
        self._outlines = {piece.name.value: outline for piece in recipe.pieces if (outline := self._outline(piece))}

    def result(self) -> Resized:
        """Every piece written anew, and what is to be said of it."""
        for name in self._pieces:
            self._settle(name)
        now = self._now()
        envelopes, notes = envelopes_for(self._recipe, self._flat, now, self._growth.step.unit)
        pieces = tuple(renamed(self._new[name], envelopes) for name in self._pieces)
        supplies = tuple(bought_again(supply, envelopes) for supply in self._supplies)
        self._notes += (*notes, *ready_made(self._recipe, pieces))
        return Resized(pieces, supplies, tuple(dict.fromkeys(self._notes)))

    def _settle(self, name: str) -> None:
        """A piece and, before it, those it is fitted to."""
        key = name.casefold()
        if key in self._new or key in self._open or key not in self._pieces:
            return
        self._open.add(key)
        piece = self._pieces[key]
        for leader in leaders_of(piece, self._flat, self._recipe):
            self._settle(leader)
        # While it is written anew, no other piece is.
        drawn = bool(piece.lines) and piece.name.value in self._outlines
        exact = drawn or piece.name.value in self._exactly
        self._growth = replace(self._usual, exact=exact)
        if exact and self._usual.scale != 1:
            self._notes.append(DraftNote.of("not-rounded", piece=piece.name.value))
        self._new[key] = with_joints(self._anew(piece), self._growth)
        self._laid = None

    def _now(self) -> Flat:
        """All pieces laid flat, those that are settled in their new size."""
        if self._laid is None:
            pieces = tuple(self._new.get(name, piece) for name, piece in self._pieces.items())
            self._laid = lay_flat(replace(self._recipe, pieces=pieces, supplies=self._supplies), self._outlines)
        return self._laid

    def _outline(self, piece: Piece) -> Outline | None:
        """The outline of a piece whose shape is in a file, from its blank."""
        blank = self._flat.blank(piece.name.value)
        if piece.outline is None or piece.outline.value.casefold() in SHAPES or blank is None or not blank.outline:
            return None
        inner = tuple(floats(ring) for ring in blank.inner)
        return Outline(float(blank.width), float(blank.height), floats(blank.outline), inner)

    # --- one piece ----------------------------------------------------------------------------------------------------

    def _anew(self, piece: Piece) -> Piece:
        blank = self._flat.blank(piece.name.value)
        if blank is None:
            return piece
        if supply := stays_with(piece, self._recipe):
            self._notes.append(DraftNote.of("stays-with", piece=piece.name.value, thing=supply))
            return self._round_a_supply(piece, blank)
        if piece.relative:
            return self._relative(piece, blank, piece.relative)
        worked_out = blank.made and not (piece.size or piece.across or piece.down)
        if piece.inside or piece.inside_relative or (piece.finished and worked_out):
            return self._by_room(piece, blank)
        if piece.band:
            return self._marked(replace(piece, band=self._said(piece.band)), blank, {})
        if len(blank.across) == len(blank.down) == 1 and piece.size:
            return self._plain(piece, blank, piece.size)
        return self._in_rows(piece, blank)

    def _said(self, said: Said[Length]) -> Said[Length]:
        return Said(self._growth.grown(said.value), said.place)

    def _marked(self, piece: Piece, blank: Blank, new: Mapping[LengthId, Fraction]) -> Piece:
        """With its holes and lines. Of what is worked out, all of it is so many times as large."""
        stretches = {}
        for side, strips in zip(_SIDES, (blank.across, blank.down), strict=True):
            panels = [(strip.long, new.get(strip.length, strip.long * self._growth.scale)) for strip in strips]
            size = new.get(LengthId(blank.piece, side, "size"))
            stretches[side] = Stretch(tuple(panels) if len(panels) > 1 or size is None else ((panels[0][0], size),))
        made = Rewriter(blank, stretches, self._growth, self._recipe.supplies).marks(piece)
        for hole, now in zip(piece.holes, made.holes, strict=True):
            if hole.value.shape == "round" and hole.value.size != now.value.size:
                self._notes.append(DraftNote.of("hole-is-scaled", piece=piece.name.value, size=hole.value.size))
        return made

    def _relative(self, piece: Piece, blank: Blank, said: Said[RelativeSize]) -> Piece:
        """A narrow border stays, a wide one is scaled: whatever is left of the face follows by itself."""
        relative = said.value
        border = abs(relative.by.mm) / (1 if relative.every_side else 2)
        stays = border <= _NARROW * min(blank.width, blank.height)
        by = relative.by
        if not stays and self._growth.scale != 1:
            grown = self._growth.grown(Length(abs(by.mm), by.unit))
            by = Length(grown.mm if by.mm > 0 else -grown.mm, by.unit)
        elif stays and border:
            code = "keeps-border" if by.mm < 0 else "keeps-overhang"
            facts = {"under": relative.other, "border": (Length(border, by.unit),)}
            self._notes.append(DraftNote.of(code, piece=piece.name.value, **facts))
        new: dict[LengthId, Fraction] = {}
        name = piece.name.value
        split = split_place(relative.other, [one.name.value for one in self._recipe.pieces])
        other = self._now().blank(split[0]) if split else None
        if split and other is not None:
            face = self._face(other, split[1])
            twice = by.mm * (2 if relative.every_side else 1)
            sides = {} if face is None else {"across": face.wide + twice, "down": face.high + twice}
            new = {LengthId(name, side, "size"): mm for side, mm in sides.items()}
        return self._marked(replace(piece, relative=Said(replace(relative, by=by), said.place)), blank, new)

    def _by_room(self, piece: Piece, blank: Blank) -> Piece:
        """Given by the room inside, or by its finished size: as its partner asks, else scaled."""
        if piece.inside_relative:
            relative = piece.inside_relative.value
            depth = self._growth.grown(relative.depth) if relative.depth else None
            said = Said(replace(relative, depth=depth), piece.inside_relative.place)
            return self._marked(replace(piece, inside_relative=said), blank, {})
        led = self._led(blank)
        card = self._flat.cards.get(blank.piece)
        measured = [name for name, _ in blank.made] or [
            *(room.score_to_score for room in rooms(blank, card.length.mm if card else Fraction(0)))
        ]
        if blank.form == "sleeve":
            measured.append(LengthId(blank.piece, "down", "size"))

        def anew(number: int, old: Length) -> Length:
            name = measured[number] if number < len(measured) else None
            if name is None or name not in led:
                return self._growth.grown(old)
            return Length(on_ruler(old.mm + led[name], old.unit, larger=True), old.unit)

        def all_anew(said: Said[Dims] | None) -> Said[Dims] | None:
            if said is None:
                return None
            lengths = (anew(number, old) for number, old in enumerate(said.value.lengths))
            return Said(replace(said.value, lengths=tuple(lengths)), said.place)

        return self._marked(replace(piece, inside=all_anew(piece.inside), finished=all_anew(piece.finished)), blank, {})

    def _led(self, blank: Blank) -> Led:
        """What of a piece follows what goes into it or lies under it, and by how much it is longer."""
        gaps = {gap.outer: self._grown_by(gap.inner) for gap in self._flat.gaps if gap.outer.piece == blank.piece}
        return {**led_by_drawer(blank, self._flat, self._grown_by), **gaps}

    def _grown_by(self, name: LengthId) -> Fraction:
        """How much longer a length of another piece is now."""
        now = self._now().lengths.by_id.get(name)
        return now.mm - self._flat.lengths.by_id[name].mm if now else Fraction(0)

    def _face(self, blank: Blank, panel: str) -> BlankFace | None:
        if not panel:
            return whole_face(blank)
        return next(iter(faces_meant(blank, panel)), None)

    # --- in rows ------------------------------------------------------------------------------------------------------

    def _in_rows(self, piece: Piece, blank: Blank) -> Piece:
        if blank.piece in self._outlines:
            # A drawing is never stretched: here nothing is rounded.
            new = {strip.length: strip.long * self._growth.scale for strip in (*blank.across, *blank.down)}
        else:
            new = self._strips(piece, blank)
        for side, strips in zip(_SIDES, (blank.across, blank.down), strict=True):
            new[LengthId(blank.piece, side, "size")] = sum((new[strip.length] for strip in strips), Fraction(0))
        return self._marked(with_rows(piece, blank, new, self._growth.scale), blank, new)

    def _strips(self, piece: Piece, blank: Blank) -> dict[LengthId, Fraction]:
        now = self._now()
        changed = replace(self._recipe, supplies=self._supplies)
        led = {**self._led(blank), **circled(piece, blank, self._recipe, changed, self._flat, now)}
        new: dict[LengthId, Fraction] = {}
        for strips in (blank.across, blank.down):
            flaps = flaps_of(strips, blank, {said.value.own_panel.casefold() for said in piece.glued})
            new |= row_along(strips, led, self._growth, self._unit(blank), flaps)
            new |= leaves_meeting(strips, new) if blank.form in ("gate", "envelope") and not led else {}
        return new

    def _unit(self, blank: Blank) -> Unit:
        return self._flat.lengths.by_id[blank.across[0].length].unit

    def _round_a_supply(self, piece: Piece, blank: Blank) -> Piece:
        """What goes round something that is bought follows that alone."""
        still = Resizing(self._recipe, self._flat, Growth(Fraction(1), self._growth.step), self._supplies)
        return still._in_rows(piece, blank) if piece.size else piece

    # --- flat pieces --------------------------------------------------------------------------------------------------

    def _plain(self, piece: Piece, blank: Blank, size: Said[Dims]) -> Piece:
        """A flat piece: as what it lies on asks, in the shape it has."""
        unit = size.value.lengths[0].unit
        lain = self._lain(piece, blank) or self._free(piece, blank)
        sides, alone = lain.sides, False
        if piece.outline and lain.times and lain.times != 1:
            sides, alone = self._in_shape(piece, blank, lain, unit)
        new = {LengthId(blank.piece, side, "size"): sides[side] for side in _SIDES}
        piece = with_rows(piece, blank, new, self._growth.scale)
        if alone:
            piece = replace(piece, size=Said(Dims((Length(sides["across"], unit),)), size.place))
        if lain.remark:
            places = (Said(replace(said.value, remark=lain.remark), said.place) for said in piece.goes_on)
            piece = replace(piece, goes_on=tuple(places))
        return self._marked(piece, blank, new)

    def _free(self, piece: Piece, blank: Blank) -> _Lain:
        """It lies on nothing."""
        new = self._strips(piece, blank)
        return _Lain({side: new[LengthId(blank.piece, side, "size")] for side in _SIDES}, self._growth.scale)

    def _lain(self, piece: Piece, blank: Blank) -> _Lain | None:
        """As it lies on the first face it is on; None where it lies on none."""
        said = next((one.value for one in piece.goes_on if one.value.piece.casefold() in self._pieces), None)
        under = self._flat.blank(self._pieces[said.piece.casefold()].name.value) if said else None
        over = self._now().blank(under.piece) if under else None
        if said is None or under is None or over is None or under.piece == blank.piece:
            return None
        old, new = (next(iter(faces_meant(one, said.panel)), None) for one in (under, over))
        if old is None or new is None:
            return None
        own, was = {"across": blank.width, "down": blank.height}, {"across": old.wide, "down": old.high}
        lie, face = Lie(own, was, read_lying(said.remark), self._unit(blank)), {"across": new.wide, "down": new.high}
        lies = laid_anew(lie, face, self._growth)
        sides = {"across": lies.across, "down": lies.down}
        self._tell_lying(blank, under.piece, lie, lies.border, sides)
        away = {edge: write_length(Length(mm, lie.unit)) for edge, mm in lies.away}
        remark = with_distances(said.remark, away) if away else ""
        if lies.border is not None and len(lie.held) == len(lie.borders) and blank.piece not in self._outlines:
            # A mat in the shape of what it lies on.
            return _Lain(sides, None, remark=remark)
        for side in _SIDES:
            if lie.follows(side):
                return _Lain(sides, sides[side] / own[side], side, remark)
        return _Lain(sides, factor(lie, face, self._growth), remark=remark)

    def _in_shape(self, piece: Piece, blank: Blank, lain: _Lain, unit: Unit) -> tuple[dict[str, Fraction], bool]:
        """The sides of an outline that keeps its shape, and whether only its width is said: a drawing in a file is
        never stretched, and so as high as it is drawn where that is on no mark."""
        assert lain.times is not None
        assert piece.outline is not None
        mark = self._growth.mark(unit)
        sides = {"across": blank.width * lain.times, "down": blank.height * lain.times}
        for side in _SIDES:
            if side != lain.follows:
                sides[side] = nearest(sides[side], mark)
        if blank.piece not in self._outlines:
            return sides, False
        sides["down"] = blank.height * sides["across"] / blank.width
        if self._growth.exact:
            return sides, False
        alone = on_ruler(sides["down"], unit, larger=False) != sides["down"]
        if alone:
            facts = {"file": piece.outline.value, "across": (Length(sides["across"], unit),)}
            self._notes.append(DraftNote.of("as-drawn", piece=blank.piece, **facts))
        return sides, alone

    def _tell_lying(
        self, blank: Blank, under: str, lie: Lie, border: Fraction | None, sides: Mapping[str, Fraction]
    ) -> None:
        names = {"piece": blank.piece, "under": under}
        if border is None and any(sides[side] != lie.own[side] for side in _SIDES):
            size = tuple(Length(sides[side], lie.unit) for side in _SIDES)
            code = "label" if min(lie.borders.values()) >= 0 else "sticks-out"
            self._notes.append(DraftNote.of(code, **names, size=size))
        elif border:
            code = "keeps-border" if border > 0 else "keeps-overhang"
            self._notes.append(DraftNote.of(code, **names, border=(Length(abs(border), lie.unit),)))


class _Lain(Struct, frozen=True):
    """The sides of a flat piece (mm), and how many times as large it is where it keeps its shape (None: it does not).

    `follows` is the side that is as long as its face is, `remark` how it lies, where that is said in another way now.
    """

    sides: Mapping[str, Fraction]
    times: Fraction | None
    follows: str = ""
    remark: str = ""
