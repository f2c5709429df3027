"""A recovered sample as a draft: its pieces as a recipe writes them, and what had to be taken for granted."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from foldwright.begin.draft.model import Draft, DraftPiece
from foldwright.begin.recover.forms import form_of, glue_flap_in
from foldwright.begin.recover.model import Assumed, Sample
from foldwright.begin.recover.recovering import Recovered, RecoveredPiece
from foldwright.measure.length import Length, System
from foldwright.recipe.facts.writing import write_cross, write_panels, write_row

_GLUED = frozenset({"tray", "lid", "sleeve", "envelope"})
_BOXES = frozenset({"tray", "lid"})
_CARD = {System.IMPERIAL: "100 lb cover", System.METRIC: "270 g/m2"}
"""The card of a sample nobody has weighed."""
_FIRST = ("from", "count", "size", "across", "down", "flaps", "corners")
"""The facts a piece begins with, as the reference lists them."""
_TAPE = {System.IMPERIAL: ("1/4 in", "12 in"), System.METRIC: ("6 mm", "300 mm")}


def draft_of(sample: Sample, recovered: Recovered, title: str, sheet: str) -> tuple[Draft, tuple[Assumed, ...]]:
    """The draft on one sheet, and everything that was assumed on the way to it."""
    assumed: list[Assumed] = []
    # `card: blue card, 270 g/m2` says more than its name.
    card, _, more = (part.strip() for part in (sample.fact("card") or "white card").partition(","))
    weight = sample.fact("weight")
    if not weight and not more and not sample.fact("thickness"):
        weight = _CARD[recovered.system]
        assumed.append(Assumed.of("card-weighs", card=card, weight=weight))
    facts = ["cardstock", more, f"weight {weight}" if weight else "", _thickness(sample), f"sheet {sheet}"]
    parts = tuple(_part(known, card, assumed) for known in recovered.pieces)
    stuck = any(part.form in _GLUED for part in parts)
    width, use = _TAPE[recovered.system]
    draft = Draft(
        title=title,
        summary=sample.fact("summary"),
        system=recovered.system,
        card=card,
        card_facts=", ".join(fact for fact in facts if fact),
        parts=parts,
        tape=use if stuck else "",
        tape_width=width if stuck else "",
        over=tuple(_pairs(parts, "fits over")),
        into=tuple(_pairs(parts, "slides in")),
    )
    return draft, tuple(assumed)


def _pairs(parts: Sequence[DraftPiece], word: str) -> Iterator[tuple[str, str]]:
    """The parts that go over, or into, another part of the sample."""
    names = {part.name.casefold(): part.name for part in parts}
    for part in parts:
        other = names.get(part.fact(word).casefold())
        if other:
            yield part.name, other


def _thickness(sample: Sample) -> str:
    thickness = sample.fact("thickness")
    return f"thickness {thickness}" if thickness else ""


def _part(known: RecoveredPiece, card: str, assumed: list[Assumed]) -> DraftPiece:
    said = dict(known.piece.facts)
    name = known.piece.name
    fold = said.get("fold", "")
    form = fold.partition(",")[0].strip().casefold() if fold else form_of(known.across, known.down)
    if form and not fold:
        assumed.append(Assumed.of("folds-to", piece=name, form=form))
    facts = {"from": card, "size": _size(known), **dict(_rows(known, form)), **said}
    if form:
        facts.setdefault("fold", form)
    boxed = len(known.across) == 3 and len(known.down) == 3
    if form in _BOXES and boxed and not said.keys() & {"flaps", "corners"}:
        names = _called(known.piece.sides[1].names, ("top", "bottom"))
        facts["flaps"] = f"joined to {write_row(names)}"
        assumed.append(Assumed.of("flaps-joined-to", piece=name, panels=names))
    ordered = sorted(facts.items(), key=lambda fact: _FIRST.index(fact[0]) if fact[0] in _FIRST else len(_FIRST))
    return DraftPiece(name, form, tuple(ordered))


def _called(names: Sequence[str], roles: tuple[str, str]) -> tuple[str, ...]:
    """The outer panels of a side: by their own names where both have one, else by what they answer to."""
    own = (names[0], names[-1])
    return own if all(own) and own[0] != own[1] else roles


def _size(known: RecoveredPiece) -> str:
    return write_cross([_sum(known.across), _sum(known.down)])


def _sum(row: Sequence[Length]) -> Length:
    return sum(row[1:], start=row[0])


def _rows(known: RecoveredPiece, form: str) -> Iterator[tuple[str, str]]:
    for side, names in zip(("across", "down"), (side.names for side in known.piece.sides), strict=True):
        row = known.row(side)
        if len(row) > 1:
            yield side, write_panels(row, _with_glue_flap(row, names, form))


def _with_glue_flap(row: Sequence[Length], names: Sequence[str], form: str) -> Sequence[str]:
    flap = glue_flap_in(row) if form == "sleeve" else None
    if flap is None or any("glue" in name for name in names):
        return names
    return [name or ("glue flap" if number == flap else "") for number, name in enumerate(names)]
