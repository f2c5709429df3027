"""The pieces: what is cut from which supply, how it is divided, folded, pierced and joined."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from foldwright.finding import Finding, Place, Strength
from foldwright.measure.length import Unit
from foldwright.measure.reading import read_number
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.facts.amounts import read_thickness
from foldwright.recipe.facts.complaints import Complaints, nearest
from foldwright.recipe.facts.entries import first_of_each, named_entries
from foldwright.recipe.facts.known import Fact, Known, gather, spellings_in, split_at_commas
from foldwright.recipe.facts.limits import MOST_PIECES
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.facts.structure import Node
from foldwright.recipe.facts.values import (
    choice_of,
    dims_of,
    length_of,
    read_with,
    row_of,
    said_value,
    text_of,
    whole_of,
    yes_of,
)
from foldwright.recipe.model import DrawnLine, Flaps, Fold, PanelFact, Piece, Said, Supply
from foldwright.recipe.pieces.holes import read_holes
from foldwright.recipe.pieces.panels import read_row, row_said
from foldwright.recipe.pieces.placements import OUTER_PANELS, PlaceNames, read_gluings, read_held, read_placements
from foldwright.recipe.pieces.remarks import ROSETTE, read_remarks
from foldwright.recipe.pieces.sizes import read_band, read_inside, read_size, size_following, units_of

PIECE_WORDS = Known(
    spellings_in(
        """from: supply, made from; count; stacked: stack, layers;
        size; across; down; inside: inside size; flaps: flap; corners: corner;
        fold: folds; holes: hole; lines: line; outline; goes on: covers;
        goes round: goes around, wraps round, wraps around,
        wrapped round, wrapped around; fits over: goes over; slides in: slides into;
        woven with: weaves with, woven through, woven into, woven; glued: glued to; holds; grain;
        this way up: way up; thickness; finished: finished size; optional; note: notes"""
    ),
    rows=frozenset(
        (
            "flaps",
            "fold",
            "holes",
            "lines",
            "goes on",
            "goes round",
            "fits over",
            "slides in",
            "woven with",
            "glued",
            "holds",
        )
        + ("size", "inside")
    ),
)
FORM_SPELLINGS = spellings_in(
    """tray: box; lid; sleeve: matchbox, band, belly band, wrapper; card: half fold;
    tri-fold: trifold, tri fold, letter fold; accordion: concertina;
    gate: gatefold, gate fold; envelope; pyramid; hexagonal box: hexagon box; octagonal box: octagon box;
    cube; prism; hinged box: hinged-lid box;
    tuck box: tuck-end box, tuck carton, tuck-end carton; gable-top: gable top, gable-top carton;
    pillow box: pillow; gift bag: bag, paper bag; pocket; case: book cover, book case;
    turned in: turn in, turned-in, turn-in; tube: cylinder, roll, ring, loop;
    cone: hat, lampshade, cut-off cone, truncated cone; rosette: paper rosette; flat: none"""
)
FORMS = tuple(form for form in dict.fromkeys(FORM_SPELLINGS.values()) if form != "flat")
CORNERS = spellings_in("cut away: cut off, cut out, removed, none")
GRAINS = spellings_in(
    """along the fold: along the folds, with the fold, along; across the fold; across; down; long; short; any: either"""
)
_JOINED = re.compile(r"(?:joined\s+to|on|stay(?:ing)?\s+on|left\s+on)\s+(?:the\s+)?", re.IGNORECASE)
_TRIMMED = re.compile(r"trim(?:med)?\b(?:\s+by)?\s*:?\s*(?P<length>.*)", re.IGNORECASE | re.DOTALL)
_LYING = re.compile(
    r"(?:glued |stuck |taped |tucked |folded |lying )?(?:on the |to the )?(?:in|out)side", re.IGNORECASE
)
_ANGLE = re.compile(
    r"(?P<sign>[-−–]\s?)?(?P<number>[0-9][^\s°]*)\s*(?:°|deg(?:rees)?)?(?:\s+(?P<way>up|down))?", re.IGNORECASE
)
_ANGLES = re.compile(r"[|,;\n]|\s/\s")
_ITSELF = frozenset({"itself", "each other", "one another", "themselves", "the others"})
_FLATTEST = 180
"""Degrees: paper folded right over."""


class _Measured(Struct, frozen=True):
    """A piece with its measures: all that must be known of every piece before places on it can be read.

    `units` are those of bare numbers, across and down.
    """

    piece: Piece
    facts: Mapping[str, Fact]
    units: tuple[Unit | None, ...]
    whole: tuple[Phrase, ...]
    """All that is said of it, and what a size says of it."""


def read_pieces(
    section: Node | None,
    supplies: Sequence[Supply],
    complaints: Complaints,
    unit: Unit | None,
    changes: Mapping[str, Node],
) -> tuple[Piece, ...]:
    """The pieces; `unit` is that of bare numbers, `changes` are what a size says of them, by name in small letters."""
    if section is None:
        return ()
    measured = [
        _measure(name, node, changes.get(name.plain.casefold()), unit, complaints)
        for name, node in named_entries(section, complaints)
    ]
    panels = {one.piece.name.value: _panel_names((*one.piece.across, *one.piece.down)) for one in measured}
    names = PlaceNames.of(panels, (supply.name.value for supply in supplies))
    return first_of_each(_read_piece(one, names, complaints) for one in measured)


def _measure(name: Phrase, node: Node, change: Node | None, usual: Unit | None, complaints: Complaints) -> _Measured:
    facts = gather(node, PIECE_WORDS, complaints)
    anew: Mapping[str, Fact] = {}
    if change is not None:
        anew = gather(change, PIECE_WORDS, complaints)
        facts = _changed(facts, anew)
    said = said_value(facts.get("size"), complaints)
    band = read_band(said, facts, usual, complaints)
    size, relative = read_size(None if band else said, facts, usual, complaints)
    inside, inside_relative = read_inside(said_value(facts.get("inside"), complaints), usual, complaints)
    units = (band.value.unit,) if band else units_of(size, relative, inside, facts)
    across = read_row(row_said(facts.get("across"), complaints), "across", units[0], complaints, usual)
    down = read_row(row_said(facts.get("down"), complaints), "down", units[-1], complaints, usual)
    if size and anew and "size" not in anew:
        size = size_following(size, anew.keys(), (across, down))
    whole = (node.whole, *([change.whole] if change else []))
    piece = Piece(
        name=Said(name.plain, name.place),
        size=size,
        relative=relative,
        band=band,
        inside=inside,
        inside_relative=inside_relative,
        across=across,
        down=down,
        across_place=facts["across"].value.place if "across" in facts else None,
        down_place=facts["down"].value.place if "down" in facts else None,
    )
    return _Measured(piece, facts, tuple(unit or usual for unit in units), whole)


def _changed(facts: Mapping[str, Fact], anew: Mapping[str, Fact]) -> dict[str, Fact]:
    """The facts with those that a size gives anew. An inside pushes out the size and its panels, and they it."""
    out: tuple[str, ...] = ("size", "across", "down") if "inside" in anew else ()
    if not anew.keys().isdisjoint(("size", "across", "down")):
        out = ("inside",)
    return {**{word: fact for word, fact in facts.items() if word not in out}, **anew}


def _lines_drawn(value: Phrase | None, unit: Unit | None, complaints: Complaints) -> tuple[Said[DrawnLine], ...]:
    if value is None:
        return ()
    # Few recipes draw lines, and the patterns of that form take longer to prepare than a whole recipe to read.
    from foldwright.recipe.pieces.drawn import read_lines_drawn

    return read_lines_drawn(value, unit, complaints)


def _panel_names(panels: Sequence[PanelFact]) -> frozenset[str]:
    return OUTER_PANELS.union(panel.name.casefold() for panel in panels if panel.name)


def _read_piece(measured: _Measured, names: PlaceNames, complaints: Complaints) -> Piece:
    facts, unit = measured.facts, measured.units[0]

    def value(word: str) -> Phrase | None:
        return said_value(facts.get(word), complaints)

    on, count = value("goes on"), whole_of(value("count"), "count", MOST_PIECES, complaints)
    stacked = whole_of(value("stacked"), "stacked", MOST_PIECES, complaints)
    if on and on.plain.casefold() in _ITSELF:
        on, stacked, count = None, stacked or count, count if stacked else None
    piece = replace(
        measured.piece,
        supply=text_of(facts.get("from"), complaints),
        count=_in_all(count, stacked),
        stacked=stacked,
        finished=dims_of(value("finished"), "finished", complaints, (1, 2, 3), unit),
        flaps=_flaps(value("flaps"), unit, complaints),
        corners=choice_of(facts.get("corners"), CORNERS, complaints),
        fold=_fold(value("fold"), complaints),
        outline=text_of(facts.get("outline"), complaints),
        holes=read_holes(value("holes"), unit, complaints),
        lines=_lines_drawn(value("lines"), unit, complaints),
        goes_on=read_placements(on, names, unit),
        goes_round=read_placements(value("goes round"), names, unit),
        fits_over=read_placements(value("fits over"), names),
        slides_in=read_placements(value("slides in"), names),
        woven_with=read_placements(value("woven with"), names, unit),
        glued=read_gluings(value("glued"), measured.piece.name.value, names),
        holds=read_held(value("holds"), names),
        grain=choice_of(facts.get("grain"), GRAINS, complaints),
        upright=_upright(facts.get("this way up")),
        thickness=read_with(value("thickness"), "thickness", read_thickness, complaints),
        optional=yes_of(facts.get("optional"), complaints),
        note=text_of(facts.get("note"), complaints),
    )
    return replace(piece, unread=_unread(measured, complaints.findings))


def _in_all(count: Said[int] | None, stacked: Said[int] | None) -> Said[int] | None:
    """How many are cut: those of every stack."""
    if stacked is None:
        return count
    return Said(stacked.value * (count.value if count else 1), (count or stacked).place)


def _unread(measured: _Measured, findings: Sequence[Finding]) -> frozenset[str]:
    """The facts in which something could not be read, those whose word is misspelt with them."""
    unread: set[str] = set()
    for finding in findings:
        if finding.strength is not Strength.FAULT or finding.place is None:
            continue
        if finding.code == "unknown-word":
            meant = PIECE_WORDS.word_of(str(dict(finding.facts)["nearest"])) or ""
            if meant not in measured.facts and any(_holds(phrase, finding.place) for phrase in measured.whole):
                unread.add(meant)
        elif finding.code == "yaml-alias" and any(_holds(phrase, finding.place) for phrase in measured.whole):
            unread.update(PIECE_WORDS.words)
        else:
            unread.update(word for word, fact in measured.facts.items() if _holds(fact.value, finding.place))
    return frozenset(unread)


def _holds(phrase: Phrase, place: Place) -> bool:
    return phrase.file == place.file and phrase.start <= place.start and place.end <= phrase.end


def _flaps(value: Phrase | None, unit: Unit | None, complaints: Complaints) -> Said[Flaps] | None:
    """`joined to front and back, trimmed 1/16 in`; `glued outside` when they do not lie inside the walls."""
    if value is None:
        return None
    joined: list[str] = []
    trim = None
    outside = False
    for part in split_at_commas(value):
        trimmed = _TRIMMED.fullmatch(part.text)
        if _LYING.fullmatch(part.text):
            outside = "outside" in part.text.casefold()
        elif trimmed:
            trim = length_of(part.part(trimmed.start("length")), "flaps", complaints, unit)
        elif part.text:
            opening = _JOINED.match(part.text)
            joined += [name.plain.removeprefix("the ") for name in row_of(part.part(opening.end() if opening else 0))]
    if not joined:
        complaints.fault("flaps-joined-to-nothing", value)
        return None
    return Said(Flaps(tuple(joined), trim.value if trim else None, outside), value.place)


def _fold(value: Phrase | None, complaints: Complaints) -> Said[Fold] | None:
    """A form and the facts after it, or an angle for each score line."""
    if value is None:
        return None
    parts = list(value.split(_ANGLES))
    if _ANGLE.fullmatch(parts[0].text):
        angles = [_angle(part, complaints) for part in parts if part.text]
        return Said(Fold("", tuple(angle for angle in angles if angle is not None)), value.place)
    form, *remarks = (part for part in split_at_commas(value) if part.text)
    name = FORM_SPELLINGS.get(form.plain.lower(), form.plain.lower())
    if name == ROSETTE:
        # An accordion whose ends are glued together, and that is pressed flat.
        said = read_remarks("accordion", remarks, complaints)
        return Said(Fold("accordion", (), (ROSETTE, *said)), value.place)
    if form.plain.lower() in FORM_SPELLINGS:
        return Said(Fold(name, (), read_remarks(name, remarks, complaints)), value.place)
    near = nearest(form.plain, FORM_SPELLINGS)
    complaints.thought("new-form-near" if near else "new-form", form, nearest=near, known=FORMS)
    return Said(Fold(name, (), tuple(remark.plain for remark in remarks)), value.place)


def _angle(part: Phrase, complaints: Complaints) -> Fraction | None:
    """Degrees, positive up (towards you), negative or `down` away."""
    match = _ANGLE.fullmatch(part.text)
    number = read_number(match["number"]) if match else Unreadable("no-number", (("text", part.plain),))
    if isinstance(number, Unreadable):
        complaints.unreadable(number, part, word="fold")
        return None
    if number > _FLATTEST:
        complaints.fault("angle-too-wide", part, most=_FLATTEST)
        return None
    away = match is not None and (bool(match["sign"]) != ((match["way"] or "").lower() == "down"))
    return -number if away else number


def _upright(fact: Fact | None) -> Said[str] | None:
    """`this way up`, or a word more: `this way up: yes`."""
    if fact is None or fact.value.plain.lower() in ("no", "any", "false"):
        return None
    return Said(fact.value.plain or "yes", (fact.value if fact.value.text else fact.key).place)
