"""Every form that is worked out from its finished size or its inside, and the blank of a piece of such a form."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from msgspec.structs import replace

from foldwright.finding import Place
from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.forms.bag import gift_bag
from foldwright.geometry.flat.forms.cartons import gable_top
from foldwright.geometry.flat.forms.envelope import envelope
from foldwright.geometry.flat.forms.hinged import hinged_box
from foldwright.geometry.flat.forms.making import Asked, Form
from foldwright.geometry.flat.forms.pillow import pillow_box
from foldwright.geometry.flat.forms.pocket import pocket
from foldwright.geometry.flat.forms.prism import cube, prism
from foldwright.geometry.flat.forms.round import cone, tube
from foldwright.geometry.flat.forms.sided import flap_layers, hexagonal_box, octagonal_box
from foldwright.geometry.flat.forms.solids import pyramid
from foldwright.geometry.flat.forms.tuck import more_layers, tuck_box
from foldwright.geometry.flat.forms.turned_in import turned_in
from foldwright.geometry.flat.inside import SumTerm, Working
from foldwright.geometry.flat.points import kept
from foldwright.geometry.flat.thickness import Thickness
from foldwright.geometry.lengths import AtLeast, Ledger, LengthId
from foldwright.measure.length import Length, System, Unit
from foldwright.recipe.model import Piece, Supply

MADE_FORMS = {
    "envelope": Form(envelope, ("across", "down")),
    "pyramid": Form(pyramid, ("across", "down", "high")),
    "hexagonal box": Form(hexagonal_box, ("across", "high"), (1, 1), flap_layers),
    "octagonal box": Form(octagonal_box, ("across", "high"), (1, 1), flap_layers),
    "gable-top": Form(gable_top, ("across", "down", "high"), (1, 2, 2)),
    "cube": Form(cube, ("side",), (3,)),
    "prism": Form(prism, ("side", "high")),
    "hinged box": Form(hinged_box, ("across", "down", "high"), (1, 3, 1)),
    "tuck box": Form(tuck_box, ("across", "down", "high"), (1, 3, 3), more_layers),
    "pillow box": Form(pillow_box, ("across", "down", "high")),
    "tube": Form(tube, ("diameter", "long"), (1, 0)),
    "cone": Form(cone, ("diameter", "high"), longer=("diameter", "upper", "high")),
    "gift bag": Form(gift_bag, ("across", "down", "high"), (3, 4, 4)),
    "turned in": Form(turned_in, ("across", "down")),
    "pocket": Form(pocket, ("across", "down"), (1, 1), fits=True),
}
"""By its word. The glue flap of a carton lies behind one wall, and its floor is two layers of flaps."""

_NOTHING = Fraction(0)
_EASE = {System.METRIC: Length.of(3, Unit.MILLIMETRE), System.IMPERIAL: Length.of(Fraction(1, 8), Unit.INCH)}
"""How much wider and longer than a thing the pocket is that it slides into (common practice, no source)."""


def made_form(piece: Piece) -> Form | None:
    """The form, when the piece is one that is worked out and not laid in rows."""
    found = MADE_FORMS.get(piece.fold.value.form) if piece.fold else None
    # A strip that is rolled up as it is.
    given = piece.size is not None and found is not None and found.maker is tube
    return None if piece.across or piece.down or given else found


def wants_finished(piece: Piece) -> bool:
    """Whether its form is worked out from its finished size or its inside alone."""
    return made_form(piece) is not None and piece.fold is not None and piece.fold.value.form != "envelope"


def shape_of(
    piece: Piece,
    card: Thickness | None,
    supplies: Mapping[str, Supply],
    ledger: Ledger,
    workings: list[Working],
    under: Fraction = _NOTHING,
) -> Blank | None:
    """The blank of a piece whose form is worked out; None when it is laid in rows like others, or cannot be known.

    The sums behind sizes that follow from the inside, or from what it holds, are added to `workings`. `under` is how
    thick what it covers is (mm).
    """
    form = made_form(piece)
    if form is None or piece.fold is None:
        return None
    word = piece.fold.value.form
    said = piece.finished or (piece.inside if form.layers else None)
    sums: Sequence[tuple[SumTerm, ...]] = ()
    lengths = _once(said.value.lengths, form) if said is not None else ()
    sides = form.named(len(lengths)) if said is not None else form.sides
    if said is not None and len(lengths) != len(sides):
        ledger.fault("finished-wants", said.place, form=word, count=len(form.sides), sides=form.sides)
        return None
    layers = form.layers_of(piece)
    if piece.finished is None and said is not None:
        sums = tuple(_with_layers([(SumTerm("inside", length),) for length in lengths], layers, card))
    elif said is None and form.fits:
        sums = tuple(_with_layers(_of_thing(piece, supplies), layers, card))
    if said is None and not sums:
        if wants_finished(piece) and word == "turned in":
            ledger.fault("covers-what", piece.fold.place, piece=piece.name.value)
        elif wants_finished(piece) and not piece.unread & {"finished", "inside", "holds"}:
            _tell_wanted(piece, piece.fold.place, word, form, ledger)
        return None
    if sums:
        _tell_thickness(piece.name.value, card, (said or piece.fold).place, ledger)
        lengths = tuple(_worked_out(piece.name.value, form, sums, card, ledger, workings))
    blank = form.maker(Asked(piece, lengths, card.length.mm if card else _NOTHING, ledger, sides, under))
    if blank is not None:
        _tell_unused(piece, blank, ledger)
    if blank is None or blank.layers:
        return blank
    return replace(blank, layers=tuple(zip(form.sides, layers, strict=False)))


def _tell_wanted(piece: Piece, place: Place, word: str, form: Form, ledger: Ledger) -> None:
    """A form without a size; or with that of its inside, where what its card takes is no whole number of layers."""
    inside = piece.inside or piece.inside_relative
    if inside and not form.layers:
        ledger.fault("finished-not-inside", inside.place, piece=piece.name.value, form=word, sides=form.sides)
    else:
        code = "finished-or-held-wanted" if form.fits else "finished-wanted"
        ledger.fault(code, place, piece=piece.name.value, form=word)


def _tell_unused(piece: Piece, blank: Blank, ledger: Ledger) -> None:
    """What was said of a piece as well, and another than what follows from its finished size."""
    assert piece.fold is not None
    facts = {"piece": piece.name.value, "form": piece.fold.value.form}
    if piece.inside and piece.finished:
        ledger.misfit("inside-and-finished", piece.inside.place, **facts)
    if piece.size and {length.mm for length in piece.size.value.lengths} != {blank.width, blank.height}:
        unit = piece.size.value.lengths[0].unit
        across, down = (Length(kept(float(mm)), unit) for mm in (blank.width, blank.height))
        ledger.misfit("size-is-worked-out", piece.size.place, **facts, across=across, down=down)


def _once(lengths: tuple[Length, ...], form: Form) -> tuple[Length, ...]:
    """The sizes as they were said; of a form that is as long every way, once."""
    alike = len(form.sides) == 1 and len({length.mm for length in lengths}) == 1
    return lengths[:1] if alike else lengths


def _tell_thickness(piece: str, card: Thickness | None, place: Place, ledger: Ledger) -> None:
    """What rests on the thickness of a card should not rest on a guess."""
    if card is None:
        ledger.misfit("how-thick", place, piece=piece)
    elif card.estimated:
        ledger.thought("thickness-estimated", place, piece=piece, thickness=card.length)


def _worked_out(
    piece: str,
    form: Form,
    sums: Sequence[tuple[SumTerm, ...]],
    card: Thickness | None,
    ledger: Ledger,
    workings: list[Working],
) -> Iterator[Length]:
    """The sizes from fold to fold that sums come to, noted: none may be printed smaller."""
    estimated = card is None or card.estimated
    for side, terms in zip(form.sides, sums, strict=True):
        total = Length(sum((term.mm for term in terms), Fraction(0)), terms[0].length.unit)
        own = LengthId(piece, "made", side)
        workings.append(Working(own, terms, total, estimated))
        ledger.lengths[own] = total
        ledger.worked_out.add(own)
        ledger.relations.append(AtLeast(own, total.mm))
        yield total


def _with_layers(
    insides: Sequence[tuple[SumTerm, ...]], layers: Sequence[int], card: Thickness | None
) -> Iterator[tuple[SumTerm, ...]]:
    """The sum of each size: what is to be free inside, and the layers of card."""
    for inside, count in zip(insides, layers, strict=False):
        yield (*inside, SumTerm("layers", card.length, Fraction(count))) if card and count else inside


def _of_thing(piece: Piece, supplies: Mapping[str, Supply]) -> Sequence[tuple[SumTerm, ...]]:
    """What a flat thing takes across and down: its own thickness too, since the paper goes round it, and some ease."""
    held = [supplies[said.value.casefold()] for said in piece.holds if said.value.casefold() in supplies]
    sizes = [supply.size.value.lengths for supply in held if supply.size and len(supply.size.value.lengths) > 1]
    if len(sizes) != 1 or len(held) != 1:
        return ()
    across, down, *thick = sizes[0]
    ease = SumTerm("ease", _EASE[across.unit.system])
    around = tuple(SumTerm("thing-thick", length) for length in thick)
    return (SumTerm("thing", across), *around, ease), (SumTerm("thing", down), *around, ease)
