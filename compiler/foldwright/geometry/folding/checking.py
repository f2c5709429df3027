"""All that does not work about a piece once it is folded, as findings."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from math import dist

from foldwright.finding import Finding, Place
from foldwright.geometry.flat.blank import GLUE_FLAP, Blank, Strip
from foldwright.geometry.flat.forms.round import ROLLED
from foldwright.geometry.flat.inside import TRAYS
from foldwright.geometry.flat.panels import ROWS_WANTED, fits_form
from foldwright.geometry.flat.thickness import Thickness
from foldwright.geometry.folding.folded import Folded, fold
from foldwright.geometry.folding.forms import misplaced_glue_flaps, scores_of
from foldwright.geometry.folding.laps import FoldingFacts, check_laps, strip_name
from foldwright.geometry.folding.loose import half_moon, loose_part
from foldwright.geometry.folding.meeting import closing_gap, collisions, covered_openings, near_misses
from foldwright.geometry.folding.net import MEETS, Crease, Net
from foldwright.geometry.folding.overhanging import long_flaps
from foldwright.geometry.folding.popping import moves_freely, pop_up_trouble
from foldwright.geometry.folding.turning import turned_folds
from foldwright.geometry.lengths import LengthId
from foldwright.measure.length import Length, Unit
from foldwright.recipe.model import Piece

_RULER_MM = 0.8
"""How far two sizes measured with a ruler may be apart: half a millimetre or a thirty-second of an inch, and a hair."""


def check_folding(piece: Piece, blank: Blank, net: Net | None, unit: Unit, card: Thickness | None) -> Iterator[Finding]:
    """What is the matter with a piece that folds. `net` is None where its form says nothing of how; lengths are told
    in `unit`."""
    place = (piece.fold or piece.name).place
    known = FoldingFacts(piece, blank, place, unit)
    yield from _wrong_panels(known)
    yield from _wrong_angles(known)
    yield from _wrong_moons(known)
    if net is None:
        return
    yield from _wrong_lines(known, net)
    if not net.dangling:
        # What a fold that stops midway leaves cannot be folded as it was meant: it has been told.
        yield from _wrong_shape(fold(net), known, card)
    yield from check_laps(known)


def unit_of(blank: Blank, lengths: Mapping[LengthId, Length]) -> Unit:
    """The unit a piece's lengths are told in: that of its first."""
    return next((length.unit for name, length in lengths.items() if name.piece == blank.piece), Unit.MILLIMETRE)


def _wrong_shape(folded: Folded, known: FoldingFacts, card: Thickness | None) -> Iterator[Finding]:
    """What can be seen on the folded shape alone."""
    inwards = _folded_wrong_way(folded, known)
    if inwards is not None:
        yield inwards
        return
    pop_ups = list(_pop_ups(folded, known))
    # Where a pop-up cannot shut, that is why its ring does not close either.
    apart = [*(_torn(folded, known) if not pop_ups else ()), *_open(folded, known)]
    long = [] if apart else list(_flaps_stand_out(folded, known))
    # A flap that stands out makes the whole as much larger: it is the flap that is told.
    yield from long or _finished(folded, known, card)
    yield from apart
    yield from _covered(folded, known)
    yield from pop_ups
    # The gables of a carton that is deeper than wide are told of with its sizes (`flat.forms`).
    for one, other in collisions(folded) if not _gables_meet(known.blank) else ():
        yield known.misfit("panels-collide", **_names(folded.net, one, other))


def _flaps_stand_out(folded: Folded, known: FoldingFacts) -> Iterator[Finding]:
    """The worst of the flaps that are too long. Those of trays and sleeves are told with their sums (`laps`)."""
    blank = known.blank
    if blank.boxed or blank.form == "sleeve" or blank.made:
        # What is worked out has its own room where one flap lies on another.
        return
    long = max(long_flaps(folded), key=lambda one: one.over, default=None)
    if long is not None:
        yield known.misfit("flap-stands-out", _place_of(known, long.crease), over=known.length(long.over))


def _gables_meet(blank: Blank) -> bool:
    return blank.form == "gable-top" and bool(blank.made) and blank.made[1][1] > blank.made[0][1]


def _name(net: Net, panel: int) -> str:
    return net.panels[panel].name or str(panel + 1)


def _names(net: Net, one: int, other: int) -> dict[str, object]:
    """Two panels by name, for a message."""
    return {"one": _name(net, one), "other": _name(net, other)}


def _place_of(known: FoldingFacts, crease: Crease) -> Place | None:
    """Where a line of its own is said; None for a score."""
    return known.piece.place_of_line(crease.source.number) if crease.source.side == "line" else None


def _wrong_panels(known: FoldingFacts) -> Iterator[Finding]:
    """A form that its panels cannot be folded to."""
    blank = known.blank
    counts = {"across": len(blank.across), "down": len(blank.down)}
    if blank.form in TRAYS and not blank.boxed:
        yield known.misfit("box-wants-rows", **counts)
    if blank.form == "sleeve" and misplaced_glue_flaps(blank.main_row[1]):
        yield known.misfit("glue-flap-misplaced")
    if blank.form in ROWS_WANTED and not fits_form(blank):
        least, most = ROWS_WANTED[blank.form]
        code = "form-wants-panels" if most is not None else "form-wants-more-panels"
        yield known.misfit(code, form=blank.form, wanted=least, **counts)


def _wrong_angles(known: FoldingFacts) -> Iterator[Finding]:
    """As many angles as there are scores and folds, and none against what its line says."""
    piece, blank = known.piece, known.blank
    fold_said = piece.fold.value if piece.fold else None
    if fold_said and fold_said.angles:
        drawn = {line.number for line in blank.drawn if line.kind in ("score", "valley", "mountain")}
        scores = len(scores_of(blank)) + len(drawn)
        if scores != len(fold_said.angles):
            yield known.misfit("angles-and-scores", given=len(fold_said.angles), scores=scores)
    for line in blank.drawn:
        against = line.angle is not None and (
            (line.kind == "valley" and line.angle < 0) or (line.kind == "mountain" and line.angle > 0)
        )
        if against and line.number:
            yield known.misfit("angle-against-its-line", piece.place_of_line(line.number), kind=line.kind)


def _wrong_lines(known: FoldingFacts, net: Net) -> Iterator[Finding]:
    """Folds that stop in mid-panel, and more cut off than stays."""
    piece = known.piece
    for line in net.dangling:
        if line.source.side == "line":
            yield known.misfit("fold-stops-midway", piece.place_of_line(line.source.number), kind=line.kind)
    cut = next((line for line in known.blank.drawn if line.kind == "cut" and line.number), None)
    loose = loose_part(net, known.blank)
    if loose is not None and cut is not None and not half_moon(known.blank):
        yield known.thought("piece-falls-apart", piece.place_of_line(cut.number), panel=_name(net, loose))


def _wrong_moons(known: FoldingFacts) -> Iterator[Finding]:
    """A half-moon that is cut all round. Where the piece holds something by it, that is lost."""
    moon = half_moon(known.blank)
    if moon:
        tell = known.misfit if known.piece.holds else known.thought
        yield tell("half-moon-falls-out", known.piece.place_of_line(moon))


def _finished(folded: Folded, known: FoldingFacts, card: Thickness | None) -> Iterator[Finding]:
    """The size it has when made, as the author says it in any order, beside that of the folded shape."""
    piece = known.piece
    if piece.finished is None or (piece.size is None and not piece.across and not piece.down):
        return
    if known.blank.form in ROLLED or known.blank.pressed or known.blank.made:
        # What is worked out has the size it was asked for. What is rolled is compared where it is rolled
        # (`flat.rolling`), by the formulas of what it comes to.
        return
    said = sorted((float(length.mm) for length in piece.finished.value.lengths), reverse=True)
    spots = [spot for number, panel in folded.panels if panel.name != "flap" for spot in folded.corners(number)]
    sizes = [max(axis) - min(axis) for axis in zip(*spots, strict=True)]
    made = sorted(sizes, reverse=True)[: len(said)]
    # Between scores, inside or outside: the card makes that much of a difference on either side.
    tolerance = _RULER_MM + 2 * float(card.length.mm if card else 0)
    if any(abs(one - other) > tolerance for one, other in zip(said, made, strict=True)):
        across, down, high = (known.length(size) for size in sizes)
        facts = {"across": across, "down": down, **({"high": high} if high.mm else {})}
        yield known.misfit("finished-differs" if high.mm else "finished-differs-flat", piece.finished.place, **facts)


def _folded_wrong_way(folded: Folded, known: FoldingFacts) -> Finding | None:
    """Folds that, turned the other way, would close the shape; told at the first of them."""
    found = turned_folds(folded) if not known.blank.form else None
    if found is None:
        return None
    first, where = found.creases[0], _place_of(known, found.creases[0])
    kind, right = ("valley", "mountain") if first.angle > 0 else ("mountain", "valley")
    if len(found.creases) > 1:
        return known.misfit("folds-the-other-way", where, kind=kind, right=right, number=len(found.creases))
    return known.misfit(
        "fold-the-other-way", where, kind=kind, right=right, **_names(folded.net, first.one, first.other)
    )


def _torn(folded: Folded, known: FoldingFacts) -> Iterator[Finding]:
    """Rings of panels that cannot close at their angles; the worst of each piece."""
    worst = max(folded.opened, key=lambda one: one.apart, default=None)
    if worst is not None and moves_freely(folded, known.blank):
        yield known.thought("pop-up-angles", _place_of(known, worst.crease))
    elif worst is not None:
        names = _names(folded.net, worst.crease.one, worst.crease.other)
        where = _place_of(known, worst.crease)
        yield known.misfit("ring-does-not-close", where, **names, gap=known.length(worst.apart))


def _open(folded: Folded, known: FoldingFacts) -> Iterator[Finding]:
    piece, blank = known.piece, known.blank
    if blank.bends:
        # Its facets meet as the curve does that they stand for; its ends are glued wherever they come to lie.
        return
    place = piece.across_place or piece.down_place or piece.name.place
    if blank.form == "sleeve":
        yield from _open_sleeve(folded, known, place)
        return
    if blank.form in TRAYS or blank.made:
        # Walls that meet at a corner begin at one fold; where they differ in height, that is how they were meant.
        # What is worked out has its own room where one layer lies on another.
        return
    # One panel that is too short stays apart from all its neighbours: the widest gap is told, once.
    miss = max(near_misses(folded), key=lambda one: one.apart, default=None)
    if miss is not None:
        names = _names(folded.net, miss.one, miss.other)
        where = _odd_line(folded.net, miss.one, miss.other, known) or (piece.fold.place if piece.fold else place)
        yield known.misfit("edges-nearly-meet", where, **names, gap=known.length(miss.apart))


def _odd_line(net: Net, one: int, other: int, known: FoldingFacts) -> Place | None:
    """The drawn fold of two panels that is least as long as the others are: that side is too short, or too long."""
    lengths = sorted(_long(crease) for crease in net.creases)
    usual = lengths[len(lengths) // 2]
    own = [crease for crease in net.creases if {one, other} & {crease.one, crease.other}]
    odd = max(own, key=lambda crease: abs(_long(crease) - usual), default=None)
    return _place_of(known, odd) if odd is not None and abs(_long(odd) - usual) > MEETS else None


def _long(crease: Crease) -> float:
    return dist(crease.start, crease.end)


def _open_sleeve(folded: Folded, known: FoldingFacts, place: Place) -> Iterator[Finding]:
    side, strips = known.blank.main_row
    walls = [number for number, strip in enumerate(strips) if strip.role != GLUE_FLAP]
    panels = {panel.column if side == "across" else panel.row: number for number, panel in folded.panels}
    if len(walls) < 3 or any(wall not in panels for wall in walls):
        return
    first, last = walls[0], walls[-1]
    gap = closing_gap(folded, panels[first], panels[last], side)
    if gap > MEETS:
        exact = _exact_gap([strips[wall] for wall in walls])
        names = {"one": strip_name(strips[first], first), "other": strip_name(strips[last], last)}
        told = known.length(gap if exact is None else exact)
        yield known.misfit("sleeve-does-not-close", place, **names, gap=told)


def _covered(folded: Folded, known: FoldingFacts) -> Iterator[Finding]:
    """Openings behind flaps, but for the glue flap of a sleeve, which is told with its sums."""
    for one in covered_openings(folded, known.blank) if known.blank.form != "sleeve" else ():
        number = one.opening.sizes[0].number
        where = known.piece.holes[number - 1].place if number else known.place
        facts = {"shape": one.opening.shape, "panel": _name(folded.net, one.panel), "over": known.length(one.over)}
        yield known.misfit("flap-over-opening", where, **facts)


def _pop_ups(folded: Folded, known: FoldingFacts) -> Iterator[Finding]:
    """What is wrong with the pop-ups of a card, told at the fold that is to be moved."""
    trouble = pop_up_trouble(folded, known.blank)
    if trouble is None:
        return
    at = trouble.source.number if trouble.source.side == "line" else 0
    where = known.piece.place_of_line(at) if at else None
    if trouble.code == "v-fold-does-not-shut":
        one, other = (round(angle) for angle in trouble.numbers)
        yield known.misfit(trouble.code, where, one=one, other=other)
        return
    names = ("one", "other", "by") if len(trouble.numbers) == 3 else ("over",)
    lengths = {name: known.length(mm) for name, mm in zip(names, trouble.numbers, strict=False)}
    yield known.misfit(trouble.code, where, **lengths)


def _exact_gap(walls: list[Strip]) -> Fraction | None:
    """For four walls at right angles of which one pair differs: by how much."""
    if len(walls) != 4:
        return None
    one, two, three, four = (wall.long for wall in walls)
    wide, high = abs(one - three), abs(two - four)
    return wide or high if not (wide and high) else None
