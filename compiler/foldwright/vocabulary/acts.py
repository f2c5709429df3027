"""Acts: what is done to paper, in which order, with what, and how long it takes when nobody says."""

from __future__ import annotations

from collections.abc import Iterator
from enum import IntEnum
from functools import lru_cache

from msgspec import Struct

from foldwright.vocabulary.names import names_in, rows_of


class Phase(IntEnum):
    """The order in which work on one piece goes: a later phase undoes or hinders an earlier one."""

    PLAN = 0
    CUT = 1
    SCORE = 2
    PIERCE = 3
    DECORATE = 4
    FOLD = 5
    JOIN = 6
    FINISH = 7
    ANY = 8
    """At any time: it has no place of its own."""


class Act(Struct, frozen=True):
    """`name` is the plain form; `forms` all others. `tools` are names of tools that can do it, empty when hands can.

    `seconds` is hands-on time for one piece, `waiting` the time nobody is busy after it; both are common practice, no
    source, and are printed as estimates. `on_paper` acts change the shape of a piece and get a drawn picture.
    """

    name: str
    phase: Phase
    seconds: int
    forms: tuple[str, ...] = ()
    takes_length: bool = False
    tools: tuple[str, ...] = ()
    hazards: tuple[str, ...] = ()
    waiting: int = 0
    on_paper: bool = False


_TOOLS = {
    "knives": "paper trimmer, craft knife, scissors, rotary cutter, cutting plotter",
    "nippers": "scissors, craft knife, paper trimmer",
    "scorers": "scoring blade, scoring board, scoring tool, bone folder, craft knife, paper trimmer",
}
"""Tools that do the same, by the word for them in the list."""
_LIST = """
# measuring and drawing
measure | plan | 30 | measures, measuring, measured | length | ruler
mark | plan | 30 | marks, marking, marked | length | pencil, pen
trace | plan | 60 | traces, tracing, traced, draw round, draw around | | pencil, pen
draw | plan | 60 | draws, drawing, drew, drawn, rule | length | pencil, pen, crayon
print | plan | 60 | prints, printing, printed
# cutting
cut | cut | 45 | cuts, cutting, cut out, cuts out, cutting out, recut | length, paper | knives
trim | cut | 30 | trims, trimming, trimmed | length, paper | knives
slice | cut | 45 | slices, slicing, sliced | length, paper | knives
tear | cut | 20 | tears, tearing, tore, torn | length, paper
die cut | cut | 60 | die cuts, die cutting, die-cut | paper, rollers | die-cutting machine, die
laser cut | cut | 60 | laser cuts, laser cutting, laser-cut | paper, laser | laser cutter
# scoring
score | score | 45 | scores, scoring, scored | length, paper | scorers
perforate | score | 45 | perforates, perforating, perforated | length, paper | scoring tool, craft knife, rotary
  cutter
# cuts that belong to a scored piece, and holes
slit | pierce | 60 | slits, slitting | length, paper | nippers
snip | pierce | 30 | snips, snipping, snipped | length, paper | nippers
notch | pierce | 30 | notches, notching, notched | length, paper | scissors, craft knife, hole punch
punch | pierce | 20 | punches, punching, punched | paper | hole punch, eyelet setter, awl
pierce | pierce | 20 | pierces, piercing, pierced, prick, pricks, pricking | paper, point | awl, needle, compass,
  toothpick
round | pierce | 20 | rounds, rounding, rounded | paper | hole punch, scissors
remove | pierce | 20 | removes, removing, removed, cut away, cut off | length
# decorating
emboss | decorate | 60 | embosses, embossing, embossed | | embossing folder, heat tool, scoring tool
stamp | decorate | 60 | stamps, stamping, stamped | | stamp
ink | decorate | 45 | inks, inking, inked
stencil | decorate | 90 | stencils, stencilling, stencilled, stenciling, stenciled | | stencil
colour | decorate | 180 | colours, colouring, coloured, color, colors, coloring, colored, colour in
paint | decorate | 180 | paints, painting, painted | wait 900 | brush, sponge
write | decorate | 60 | writes, writing, wrote, written, letter, letters, lettering | | pen, pencil, crayon
decorate | decorate | 180 | decorates, decorating, decorated
# folding
fold | fold | 45 | folds, folding, folded, fold up, fold in, fold over | length, paper
crease | fold | 30 | creases, creasing, creased | length, paper
pleat | fold | 60 | pleats, pleating, pleated | length, paper
bend | fold | 20 | bends, bending, bent | paper
roll | fold | 30 | rolls, rolling, rolled, curl, curls, curling, curled | paper
burnish | fold | 20 | burnishes, burnishing, burnished, rub down | paper | bone folder
# joining
glue | join | 60 | glues, gluing, glueing, glued, paste, pastes, pasting, pasted
hot glue | join | 45 | hot glues, hot gluing, hot glued, hot-glue | hot-glue | hot glue gun
tape | join | 60 | tapes, taping, taped
stick | join | 45 | sticks, sticking, stuck, stick down, mount, mounts, mounting, mounted, adhere, layer, layers,
  layering, layered
attach | join | 45 | attaches, attaching, attached, fix, fixes, fixing, fixed, fasten, fastens, fastening, fastened,
  join, joins, joining, joined
staple | join | 20 | staples, stapling, stapled | pinch, sharp-ends | stapler
sew | join | 300 | sews, sewing, sewed, sewn, stitch, stitches, stitching, stitched | point | needle
insert | join | 20 | inserts, inserting, inserted, slide, slides, sliding, slid, tuck, tucks, tucking, tucked, slot
weave | join | 180 | weaves, weaving, wove, woven, interlace, interlaces, interlacing, interlaced
assemble | join | 120 | assembles, assembling, assembled, build, builds, building, put together
# finishing
thread | finish | 60 | threads, threading, threaded, lace, laces, lacing, laced
wrap | finish | 45 | wraps, wrapping, wrapped, wind, winds, winding, wound
tie | finish | 60 | ties, tying, tied, knot, knots, knotting, knotted
fill | finish | 30 | fills, filling, filled
pack | finish | 30 | packs, packing, packed, bag, bags, bagging
close | finish | 15 | closes, closing, closed, seal, seals, sealing, sealed
# at any time
press | any | 20 | presses, pressing, pressed, flatten, flattens, flattening, flattened
turn | any | 5 | turns, turning, turned, flip, flips, flipping, flipped
lay | any | 15 | lays, laying, laid, place, places, placing, placed, put, puts, putting
check | any | 20 | checks, checking, checked, test, tests, testing, tested, try
dry | any | 0 | dries, drying, dried | wait 600
wait | any | 0 | waits, waiting, waited, rest, rests, resting | wait 600
heat | decorate | 60 | heats, heating, heated, heat emboss, heat embossing, heat embossed, melt, melts, melting | heat
  | heat tool, iron
sand down | decorate | 60 | sands down, sanding, sanding down, sanded, sand smooth, sand the | dust | sandpaper
spray | decorate | 60 | sprays, spraying, sprayed | wait 600, spray
solder | join | 180 | solders, soldering, soldered | solder | soldering iron
collect | plan | 60 | collects, collecting, collected, gather, gathers, gathering, gathered
sort | plan | 60 | sorts, sorting, sorted, choose, chooses, choosing, pick, picks
share out | any | 60 | hand out, hands out, handing out
clean | any | 60 | cleans, cleaning, cleaned, tidy, wipe, wipes, wiping
"""
"""Name, phase, seconds, other forms, what there is to know (anything else is the code of a hazard), tools."""


def _acts() -> Iterator[Act]:
    for name, phase, seconds, forms, marks, tools in rows_of(_LIST, 6):
        known = names_in(marks)
        waits = [mark for mark in known if mark.startswith("wait ")]
        yield Act(
            name,
            Phase[phase.upper()],
            int(seconds),
            names_in(forms),
            takes_length="length" in known,
            tools=names_in(_TOOLS.get(tools, tools)),
            hazards=tuple(mark for mark in known if mark not in ("length", "paper", *waits)),
            waiting=sum(int(mark.removeprefix("wait ")) for mark in waits),
            on_paper="paper" in known,
        )


ACTS = tuple(_acts())

STEP_SECONDS = 120
"""Hands-on time of a step that names no act and gives no time: common practice, no source."""

_FORMS = {form.replace("-", " "): act for act in ACTS for form in (act.name, *act.forms)}
_LONGEST = max(form.count(" ") + 1 for form in _FORMS)


@lru_cache(maxsize=2048)
def act_of(word: str) -> Act | None:
    """The act a word (or two: `die cutting`) is a form of, or None."""
    return _FORMS.get(" ".join(word.casefold().replace("-", " ").split()))


@lru_cache(maxsize=2048)
def leading_act(text: str) -> tuple[Act, int] | None:
    """The longest act at the beginning of a text and how many words it takes: `die cut base` is (die cut, 2)."""
    words = text.casefold().replace("-", " ").split()
    for size in range(min(_LONGEST, len(words)), 0, -1):
        act = _FORMS.get(" ".join(words[:size]))
        if act is not None:
            return act, size
    return None


@lru_cache(maxsize=1)
def length_acts() -> frozenset[str]:
    """Every one-word form of the acts that take a length (`cut`, `cutting`, `scored`): "fold 3 in" is a measure."""
    return frozenset(form for form, act in _FORMS.items() if act.takes_length and " " not in form)
