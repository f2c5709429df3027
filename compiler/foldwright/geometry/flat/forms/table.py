"""Every form that is worked out from its finished size or its inside, and the blank of a piece of such a form."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from msgspec.structs import replace

from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.forms.cartons import gable_top
from foldwright.geometry.flat.forms.envelope import envelope
from foldwright.geometry.flat.forms.making import Asked, Form
from foldwright.geometry.flat.forms.pillow import pillow_box
from foldwright.geometry.flat.forms.round import cone, tube
from foldwright.geometry.flat.forms.solids import hexagonal_box, pyramid
from foldwright.geometry.flat.inside import SumTerm, Working
from foldwright.geometry.flat.thickness import Thickness
from foldwright.geometry.lengths import AtLeast, Ledger, LengthId
from foldwright.measure.length import Length
from foldwright.recipe.model import Piece

MADE_FORMS = {
    "envelope": Form(envelope, ("across", "down")),
    "pyramid": Form(pyramid, ("across", "down", "high")),
    "hexagonal box": Form(hexagonal_box, ("across", "high"), (1, 1)),
    "gable-top": Form(gable_top, ("across", "down", "high"), (1, 2, 2)),
    "pillow box": Form(pillow_box, ("across", "down", "high")),
    "tube": Form(tube, ("diameter", "long"), (1, 0)),
    "cone": Form(cone, ("diameter", "high"), longer=("diameter", "upper", "high")),
}
"""By its word. The glue flap of a carton lies behind one wall, and its floor is two layers of flaps."""


def made_form(piece: Piece) -> Form | None:
    """The form, when the piece is one that is worked out and not laid in rows."""
    found = MADE_FORMS.get(piece.fold.value.form) if piece.fold else None
    # A strip that is rolled up as it is.
    given = piece.size is not None and found is not None and found.maker is tube
    return None if piece.across or piece.down or given else found


def wants_finished(piece: Piece) -> bool:
    """Whether its form is worked out from its finished size or its inside alone."""
    return made_form(piece) is not None and piece.fold is not None and piece.fold.value.form != "envelope"


def shape_of(piece: Piece, card: Thickness | None, ledger: Ledger, workings: list[Working]) -> Blank | None:
    """The blank of a piece whose form is worked out; None when it is laid in rows like others, or cannot be known.

    The sums behind sizes that follow from the inside are added to `workings`.
    """
    form = made_form(piece)
    if form is None or piece.inside_relative or piece.fold is None:
        return None
    word = piece.fold.value.form
    if piece.finished is None and not (piece.inside and form.layers):
        if wants_finished(piece) and "finished" not in piece.unread:
            ledger.fault("finished-wanted", piece.fold.place, piece=piece.name.value, form=word)
        return None
    said = piece.finished or piece.inside
    assert said is not None
    lengths = said.value.lengths
    sides = form.named(len(lengths))
    if len(lengths) != len(sides):
        ledger.fault("finished-wants", said.place, form=word, count=len(form.sides), sides=form.sides)
        return None
    thickness = card.length.mm if card else Fraction(0)
    if piece.finished is None:
        sums = tuple(_with_layers(lengths, form, card))
        estimated = card is None or card.estimated
        for side, terms in zip(form.sides, sums, strict=True):
            total = Length(sum((term.mm for term in terms), Fraction(0)), terms[0].length.unit)
            workings.append(Working(LengthId(piece.name.value, "made", side), terms, total, estimated))
        lengths = tuple(working.total for working in workings)
        ledger.worked_out.update(working.length for working in workings)
        ledger.relations += (AtLeast(working.length, working.total.mm) for working in workings)
    asked = Asked(piece, lengths, thickness, ledger, sides)
    blank = form.maker(asked)
    return replace(blank, layers=tuple(zip(form.sides, form.layers, strict=False))) if blank else None


def _with_layers(lengths: Sequence[Length], form: Form, card: Thickness | None) -> Iterator[tuple[SumTerm, ...]]:
    """The sum of each size: what is to be free inside, and the layers of card."""
    for length, count in zip(lengths, form.layers, strict=True):
        inside = SumTerm("inside", length)
        yield (inside, SumTerm("layers", card.length, Fraction(count))) if card and count else (inside,)
