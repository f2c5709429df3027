"""Laying one piece: from whatever its author gave (a size, rows, a relative size, an inside) to a blank."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from foldwright.finding import Place, Strength
from foldwright.geometry.flat.blank import GLUE_FLAP, Blank
from foldwright.geometry.flat.casing import CASE, case_round
from foldwright.geometry.flat.drawn import lay_lines, lay_outline_lines
from foldwright.geometry.flat.flaps import flaps_inside, with_flaps
from foldwright.geometry.flat.forms.table import made_form, shape_of
from foldwright.geometry.flat.holes import lay_holes, with_notches
from foldwright.geometry.flat.inside import (
    SLEEVES,
    TRAYS,
    Working,
    named,
    room_asked_for,
    rooms,
    sleeve_rows,
    tray_rows,
    workings_of,
)
from foldwright.geometry.flat.panels import faces_called, nearest, split_place, tell_no_panel, whole_face
from foldwright.geometry.flat.places import corners_of, counts_corners
from foldwright.geometry.flat.rows import (
    SIZED,
    Given,
    Row,
    fits_swapped,
    folds_of,
    from_rows,
    known_sum,
    lay_row,
    tell_swapped,
)
from foldwright.geometry.flat.silhouettes import kept_length, proportion_of, size_of, with_outline
from foldwright.geometry.flat.slots import sized, with_slots
from foldwright.geometry.flat.thickness import Thickness
from foldwright.geometry.flat.wrapping import girths_by_name, length_round, row_round, walls_by_name
from foldwright.geometry.lengths import Equal, Ledger, LengthId
from foldwright.geometry.outlines.svg import Outline
from foldwright.measure.length import Length, Unit
from foldwright.measure.writing import plain_cross, write_exact
from foldwright.recipe.model import Dims, Piece, PlaceBeside, Placement, RelativeSize, Said, Supply

_ROUND = ("round", "circle", "disc", "disk")
_SHAPED = SIZED | {"flaps", "corners", "fold", "lines", "finished", "outline"}
"""Facts that say what shape it has and how it folds."""
_TRAY_NAMES = (("left", "floor", "right"), ("back", "floor", "front"))
_LID_NAMES = (("left", "top", "right"), ("back", "top", "front"))


class LaidPiece(Struct, frozen=True):
    """One piece laid: its blank (None when nothing at all is known of its size) and what was noted on the way."""

    blank: Blank | None
    ledger: Ledger
    workings: tuple[Working, ...] = ()


class _Board(Struct, frozen=True):
    """A board that is covered: its size, and how thick it is in millimetres."""

    size: Said[Dims]
    thick: Fraction


class Layer:
    """Lays the pieces of one recipe, each once, those that others are measured from first."""

    def __init__(
        self,
        pieces: Sequence[Piece],
        cards: Mapping[str, Thickness | None],
        outlines: Mapping[str, Outline],
        supplies: Mapping[str, Supply],
    ) -> None:
        self._supplies = supplies
        self._outlines = outlines
        self._pieces = {piece.name.value: piece for piece in pieces}
        self._cards = cards
        self._laid: dict[str, LaidPiece] = {}
        self._open: list[str] = []

    def lay_all(self) -> tuple[LaidPiece, ...]:
        return tuple(self._lay(name) for name in self._pieces)

    def _lay(self, name: str) -> LaidPiece:
        if name not in self._laid:
            self._open.append(name)
            self._laid[name] = self._lay_piece(self._pieces[name])
            self._open.pop()
        return self._laid[name]

    def _lay_piece(self, piece: Piece) -> LaidPiece:
        ledger = Ledger()
        workings: list[Working] = []
        covered = self._covered(piece, ledger)
        card, under = self._cards.get(piece.name.value), covered.thick if covered else Fraction(0)
        known = self._by_another(replace(piece, finished=covered.size) if covered else piece, ledger)
        if known is None:
            return LaidPiece(None, ledger)
        if shaped := shape_of(known, card, self._supplies, ledger, workings, under):
            return LaidPiece(self._with_marks(shaped, piece, ledger), ledger, tuple(workings))
        given = self._given(piece, ledger, workings) if known is piece else None
        blank = _blank(piece, given, ledger) if given else None
        if blank is None:
            return LaidPiece(None, ledger)
        if workings:
            # Every panel, score and size of a piece given by its inside was worked out, not written.
            follow = (name for name in ledger.lengths if name.piece == blank.piece and name.side in ("across", "down"))
            ledger.worked_out.update(follow, (working.length for working in workings))
            ledger.relations += room_asked_for(blank, workings)
        blank = with_flaps(blank, piece, ledger)
        drawn = self._outlines.get(piece.name.value)
        blank = self._with_marks(with_outline(blank, piece, drawn, ledger), piece, ledger)
        if drawn and blank.outline:
            blank = replace(blank, drawn=(*blank.drawn, *lay_outline_lines(blank, piece, drawn, ledger)))
        return LaidPiece(blank, ledger, tuple(workings))

    def _given(self, piece: Piece, ledger: Ledger, workings: list[Working]) -> Given | None:
        if piece.inside or piece.inside_relative:
            return self._from_inside(piece, ledger, workings)
        if piece.goes_round and piece.size is None and piece.relative is None:
            return self._round(piece, ledger)
        if piece.relative:
            size = self._relative(piece, piece.relative, ledger)
            return Given(size[0], size[1], piece.across, piece.down) if size else from_rows(piece, ledger)
        drawn = self._outlines.get(piece.name.value)
        if piece.size is None and drawn and not piece.across and not piece.down:
            return Given(*size_of(drawn), (), ())
        if piece.size is None:
            return from_rows(piece, ledger)
        lengths = piece.size.value.lengths
        across, down = lengths[0], lengths[-1]
        if len(lengths) == 1 and piece.outline:
            down = self._in_proportion(piece, piece.outline.value, across, ledger)
        if fits_swapped(piece, across, down):
            tell_swapped(piece, across, down, ledger)
            across, down = down, across
        rows = piece.across or piece.down
        round_ = piece.outline is not None and piece.outline.value.casefold() in _ROUND and across == down and not rows
        return Given(across, down, piece.across, piece.down, round_)

    def _in_proportion(self, piece: Piece, outline: str, across: Length, ledger: Ledger) -> Length:
        """How far down an outline reaches that is so wide across, by its own proportions."""
        drawn = self._outlines.get(piece.name.value)
        high = (drawn.height / drawn.width) if drawn else proportion_of(outline)
        ledger.worked_out.add(LengthId(piece.name.value, "down", "size"))
        return kept_length(float(across.mm) * high, across.unit)

    def _relative(self, piece: Piece, said: Said[RelativeSize], ledger: Ledger) -> tuple[Length, Length] | None:
        """A size that follows from the face of another piece."""
        relative = said.value
        found = self._other(piece, relative.other, said.place, ledger)
        if found is None:
            return None
        other, panel = found
        faces = faces_called(other, panel) if panel else (whole_face(other),)
        if not faces:
            tell_no_panel(other, panel, said.place, ledger, Strength.FAULT)
            return None
        face = faces[0]
        by, unit = relative.by.mm * (2 if relative.every_side else 1), relative.by.unit
        across, down = Length(face.wide + by, unit), Length(face.high + by, unit)
        if across.mm <= 0 or down.mm <= 0:
            ledger.misfit("nothing-left-of-piece", said.place, piece=piece.name.value, other=relative.other)
            return None
        noted = self._laid[other.piece].ledger
        size = noted.lengths[LengthId(other.piece, "across", "size")]
        if unit.system is not size.unit.system or noted.worked_out & {face.across, face.down}:
            ledger.worked_out.update(LengthId(piece.name.value, side, "size") for side in ("across", "down"))
        return across, down

    def _covered(self, piece: Piece, ledger: Ledger) -> _Board | None:
        """The board that a piece covers which is turned in over its edges; None when it says its own size."""
        if piece.fold is None or piece.fold.value.form != "turned in" or not piece.goes_on or piece.finished:
            return None
        said = piece.goes_on[0]
        found = self._other(piece, said.value.piece, said.place, ledger)
        if found is None:
            return None
        board, card = found[0], self._cards.get(found[0].piece)
        unit = self._laid[board.piece].ledger.lengths[LengthId(board.piece, "across", "size")].unit
        size = Dims((Length(board.width, unit), Length(board.height, unit)))
        return _Board(Said(size, said.place), card.length.mm if card else Fraction(0))

    def _other(self, piece: Piece, said: str, place: Place, ledger: Ledger) -> tuple[Blank, str] | None:
        """The blank a relative size speaks of and the panel's name; tells what is wrong when there is none."""
        split = split_place(said, self._pieces)
        own = piece.name.value
        if split is None:
            others = [name for name in self._pieces if name != own]
            near = nearest(said, others) or nearest(said.split()[0] if said.split() else said, others)
            code = "measured-from-what" if near else "measured-from-nothing"
            word = " ".join(said.split()[: len(near.split())])
            ledger.fault(code, place, piece=own, other=said, nearest=near, word=word)
            return None
        name, panel = split
        if self._in_a_circle(piece, name, place, ledger):
            return None
        other = self._lay(name).blank
        return (other, panel) if other is not None else None

    def _in_a_circle(self, piece: Piece, other: str, place: Place, ledger: Ledger) -> bool:
        """Whether the other piece is itself waiting for this one; that is told."""
        if other not in self._open:
            return False
        others = (*self._open[self._open.index(other) :], other)
        ledger.fault("measured-in-a-circle", place, piece=piece.name.value, others=others)
        return True

    def _round(self, piece: Piece, ledger: Ledger) -> Given | None:
        """A band as long as it takes to go round something; its row may name the flap (`rest | 14 glue flap`)."""
        said = piece.goes_round[0]
        if piece.fold and piece.fold.value.form == CASE and not piece.across and not piece.down:
            return self._case(piece, said, ledger)
        wide = piece.band.value if piece.band else known_sum(piece.down)
        if wide is None:
            return from_rows(piece, ledger)
        if known_sum(piece.across):
            return Given(None, None if piece.down else wide, piece.across, piece.down)
        name = said.value.piece.casefold()
        own = next((one for one in self._pieces if one.casefold() == name), "")
        if self._in_a_circle(piece, own, said.place, ledger):
            return None
        other = self._lay(own).blank if own else None
        others, form = ({name: other} if other else {}), (piece.fold.value.form if piece.fold else "")
        if form in SLEEVES and not piece.across:
            walls = walls_by_name(name, others, self._cards, self._supplies)
            row = row_round(walls, said.value.remark, self._cards.get(piece.name.value), wide.unit, said.place)
            if row:
                return Given(None, None if piece.down else wide, row, piece.down)
        bands = piece.count.value if piece.count else 1
        girths = girths_by_name(name, others, self._cards, self._supplies, bands)
        flaps = sum((panel.length.mm for panel in piece.across if panel.length), Fraction(0))
        length = length_round(girths, said.value.remark, self._cards.get(piece.name.value), wide.unit, flaps)
        if length is None:
            if not own or (other is not None and not other.doubtful):
                ledger.fault("round-what-size", said.place, piece=piece.name.value, other=said.value.piece)
            return None
        return Given(length, None if piece.down else wide, piece.across, piece.down)

    def _case(self, piece: Piece, said: Said[Placement], ledger: Ledger) -> Given | None:
        """The cover of a book box, by the tray that is glued in it."""
        found = self._other(piece, said.value.piece, said.place, ledger)
        if found is None:
            return from_rows(piece, ledger)
        tray = found[0]
        cards = self._cards.get(piece.name.value), self._cards.get(tray.piece)
        unit = self._laid[tray.piece].ledger.lengths[LengthId(tray.piece, "across", "size")].unit
        row = case_round(tray, cards, unit, said.place)
        if row is None:
            ledger.fault("case-round-what", said.place, piece=piece.name.value, other=tray.piece)
            return None
        return Given(None, row[1], row[0], ())

    def _from_inside(self, piece: Piece, ledger: Ledger, workings: list[Working]) -> Given | None:
        place = (piece.inside or piece.inside_relative or piece.name).place
        name = piece.name.value
        form = piece.fold.value.form if piece.fold else ""
        inside = piece.inside.value.lengths if piece.inside else self._inside_relative(piece, ledger)
        if inside is None:
            return from_rows(piece, ledger)
        if form not in TRAYS and form not in SLEEVES:
            if "fold" not in piece.unread and made_form(piece) is None:
                known = (*sorted(TRAYS), *sorted(SLEEVES))
                ledger.fault("inside-of-what-form", place, piece=name, form=form, known=known)
            return from_rows(piece, ledger)
        if len(inside) != 3:
            said = plain_cross([write_exact(one) for one in inside])
            ledger.fault("inside-wants-three", place, piece=name, said=said)
            return from_rows(piece, ledger)
        card = self._cards.get(name)
        if card is None:
            ledger.misfit("how-thick", place, piece=name)
        elif card.estimated:
            ledger.thought("thickness-estimated", place, piece=name, thickness=card.length)
        thickness = card.length if card else Length(Fraction(0), Unit.MILLIMETRE)
        estimated = card is None or card.estimated
        if form in SLEEVES:
            flap = next((panel.length for panel in piece.across if panel.name.casefold() == GLUE_FLAP), None)
            row = sleeve_rows(inside, thickness, flap, place)
            workings += workings_of(name, "across", row, estimated)
            return Given(None, inside[2], row.panels, ())
        names = _LID_NAMES if form == "lid" else _TRAY_NAMES
        across, down = tray_rows(inside, thickness, flaps_inside(piece), place)
        workings += workings_of(name, "across", across, estimated)
        workings += [
            working for working in workings_of(name, "down", down, estimated) if working.terms != across.sums[0]
        ]
        return Given(None, None, named(across, names[0]), named(down, names[1]))

    def _by_another(self, piece: Piece, ledger: Ledger) -> Piece | None:
        """A form's inside that another piece gives, in numbers; None, and told, where it cannot be known."""
        form = made_form(piece)
        if piece.inside_relative is None or form is None or not form.layers:
            return piece
        inside = self._inside_relative(piece, ledger, form.sides)
        said = Said(Dims(inside), piece.inside_relative.place) if inside else None
        return replace(piece, inside=said, inside_relative=None) if said else None

    def _inside_relative(
        self, piece: Piece, ledger: Ledger, sides: Sequence[str] = ("across", "down", "high")
    ) -> tuple[Length, ...] | None:
        """`1/16 in bigger on every side than base outside`: every flap layer of the other piece counted."""
        said = piece.inside_relative
        assert said is not None
        relative = said.value
        found = self._other(piece, relative.other, said.place, ledger)
        if found is None:
            return None
        other, face = found
        card = self._cards.get(other.piece)
        known = {room.side: room for room in rooms(other, card.length.mm if card else Fraction(0))}
        wanted = ["deep" if side == "high" else side for side in sides]
        if not known.keys() >= set(wanted):
            ledger.fault("inside-than-what", said.place, piece=piece.name.value, other=relative.other)
            return None
        outer = "inside" not in face
        by, unit = relative.by.mm * (2 if relative.every_side else 1), relative.by.unit
        sizes = [known[side].outside if outer else known[side].inside for side in wanted]
        *level, deep = sizes
        # What is worked out from three sizes is shut all round, and has room above as well.
        above = by if len(sides) > 2 and made_form(piece) else 0
        return (*(Length(size + by, unit) for size in level), relative.depth or Length(deep + above, unit))

    def _with_marks(self, blank: Blank, piece: Piece, ledger: Ledger) -> Blank:
        """The blank with the lines its author drew and its holes, which may be measured from those."""
        bare = blank
        if piece.lines:
            blank = replace(blank, drawn=(*blank.drawn, *lay_lines(bare, piece.lines, ledger)))
        if piece.holes:
            holes = sized(piece, self._pieces, self._supplies, ledger)
            lines = {line.number: line for line in reversed(blank.drawn) if line.number}
            blank = replace(blank, openings=(*blank.openings, *lay_holes(bare, holes, lines, ledger)))
            blank = with_slots(with_notches(blank, holes, ledger), holes, ledger)
        places = [point for said in piece.lines for point in said.value.points if isinstance(point, PlaceBeside)]
        places += [said.value.position.at for said in piece.holes if said.value.position.at]
        return replace(blank, corners=corners_of(bare)) if any(map(counts_corners, places)) else blank


def _blank(piece: Piece, given: Given, ledger: Ledger) -> Blank | None:
    name = piece.name.value
    for side, size in (("across", given.across), ("down", given.down)):
        if size is not None:
            ledger.lengths[LengthId(name, side, "size")] = size
    across = lay_row(name, "across", given.row_across, given.across, piece.across_place or piece.name.place, ledger)
    down = lay_row(name, "down", given.row_down, given.down, piece.down_place or piece.name.place, ledger)
    if across.size is None or down.size is None or not across.strips or not down.strips:
        return None
    form = piece.fold.value.form if piece.fold else ""
    if form in SLEEVES and piece.goes_round and len(across.strips) == len(down.strips) == 1:
        # A band round something without corners has no panels.
        form = ""
    blank = Blank(
        name,
        piece.count.value if piece.count else 1,
        across.size.mm,
        down.size.mm,
        across.strips,
        down.strips,
        doubtful=frozenset(side for side, row in (("across", across), ("down", down)) if row.doubtful)
        | {f"{word} unread" for word in piece.unread & _SHAPED}
        | ({"size missing"} if given.guessed else set()),
        form=form,
        folds_across=folds_of(piece.fold, len(across.strips) - 1),
        folds_down=folds_of(piece.fold, len(down.strips) - 1),
        round=given.round,
        stacked=piece.stacked.value if piece.stacked and not piece.fold else 1,
    )
    _note_equal_sides(blank, across, down, ledger)
    return blank


def _note_equal_sides(blank: Blank, across: Row, down: Row, ledger: Ledger) -> None:
    """A square stays square, and the walls of a tray that meet at its corners stay equally high."""
    if across.size == down.size and not blank.doubtful:
        ledger.relations.append(Equal(LengthId(blank.piece, "across", "size"), LengthId(blank.piece, "down", "size")))
    if blank.form not in TRAYS or not blank.boxed:
        return
    outer = blank.across[0], blank.across[-1]
    for strip in (blank.down[0], blank.down[-1]):
        same = next((one for one in outer if one.long == strip.long), None)
        if same is not None:
            ledger.relations.append(Equal(same.length, strip.length))
