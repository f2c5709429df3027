"""A recovered sample as a draft: its pieces as a recipe has them, and what had to be taken for granted."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from foldwright.begin.draft.model import SHEETS, WEIGHTS, Draft, DraftNote, Panels
from foldwright.begin.recover.model import Sample
from foldwright.begin.recover.recovering import Recovered, RecoveredPiece
from foldwright.measure.length import Length

_FEWEST = 4
"""Of three equal panels nobody can say whether they fold to and fro or one over the other."""
_MEETING = Fraction(9, 10)
"""Together a gate's leaves are about as wide as its middle: they meet, or leave a little of it to be seen."""


def draft_of_sample(sample: Sample, recovered: Recovered, title: str) -> tuple[Draft, tuple[DraftNote, ...]]:
    """The draft, and everything that was taken for granted on the way to it."""
    assumed = list(sample.assumed)
    # `card: blue card, 270 g/m2` says more than its name.
    card, _, more = (part.strip() for part in (sample.fact("card") or "white card").partition(","))
    facts = [more, *(f"{word} {said}" for word in ("weight", "thickness") if (said := sample.fact(word)))]
    if not any(facts):
        facts = [f"weight {WEIGHTS[recovered.system]}"]
        assumed.append(DraftNote.of("card-weighs", card=card, weight=WEIGHTS[recovered.system]))
    draft = Draft(
        title=title,
        summary=sample.fact("summary"),
        system=recovered.system,
        card=card,
        card_facts=", ".join(filter(None, facts)),
        sheets=(sample.fact("sheet"),) if sample.fact("sheet") else SHEETS[recovered.system],
        parts=tuple(_part(known, assumed) for known in recovered.pieces),
    )
    return draft, tuple(assumed)


def _part(known: RecoveredPiece, assumed: list[DraftNote]) -> Panels:
    said = dict(known.piece.facts)
    name = known.piece.name
    form = said.get("fold", "").partition(",")[0].strip().casefold()
    if not form and (form := form_of(known.across, known.down)):
        assumed.append(DraftNote.of("folds-to", piece=name, form=form))
        said["fold"] = form
    across, down = (side.names for side in known.piece.sides)
    joined: tuple[str, ...] = ()
    boxed = len(known.across) == 3 and len(known.down) == 3
    if form in ("tray", "lid") and boxed and not said.keys() & {"flaps", "corners"}:
        # The outer panels by their own names where both have one, else by what they answer to.
        own = down[0], down[-1]
        joined = own if all(own) and own[0] != own[1] else ("top", "bottom")
        assumed.append(DraftNote.of("flaps-joined-to", piece=name, panels=joined))
    if form == "sleeve":
        across, down = _with_glue_flap(known.across, across), _with_glue_flap(known.down, down)
    return Panels(name, form, known.across, known.down, across, down, joined, None, tuple(said.items()))


def _with_glue_flap(row: Sequence[Length], names: tuple[str, ...]) -> tuple[str, ...]:
    flap = _glue_flap_in(row)
    if flap is None or any("glue" in name for name in names):
        return names
    return tuple(name or ("glue flap" if number == flap else "") for number, name in enumerate(names))


# --- what it folds to -----------------------------------------------------------------------------------------------


def form_of(across: Sequence[Length], down: Sequence[Length]) -> str:
    """What a blank most likely folds to when nobody says: empty when that is not plain from its panels."""
    if len(across) == 3 and len(down) == 3:
        return "tray"
    if len(across) > 1 and len(down) > 1:
        return ""
    row = across if len(across) > 1 else down
    if _glue_flap_in(row) is not None:
        return "sleeve"
    if len(row) == 2:
        return "card"
    if len(row) == 3 and row[0] == row[2] and _MEETING * row[1].mm <= row[0].mm * 2 <= row[1].mm:
        return "gate"
    if len(row) == 3 and max(row).mm < 2 * min(row).mm:
        return "tri-fold"
    return "accordion" if len(row) >= _FEWEST and len(set(row)) == 1 else ""


def _glue_flap_in(row: Sequence[Length]) -> int | None:
    """Which panel of a row that goes once round is the glue flap, counted from nought; None when it has none."""
    if len(row) == 5:
        for flap, walls in ((4, row[:4]), (0, row[1:])):
            if walls[0] == walls[2] and walls[1] == walls[3] and row[flap].mm < min(walls[0], walls[1]).mm * 2:
                return flap
    return None
