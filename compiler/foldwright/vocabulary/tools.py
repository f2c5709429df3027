"""Tools: the names people give them and what they can do to a hand."""

from __future__ import annotations

import re
from functools import lru_cache

from msgspec import Struct

from foldwright.vocabulary.names import KnownNames, names_in, rows_of


class ToolKind(Struct, frozen=True):
    """`name` is the plain name, `forms` other names for it, `hazards` codes of what it can do."""

    name: str
    forms: tuple[str, ...] = ()
    hazards: tuple[str, ...] = ()


_LIST = """
paper trimmer | trimmer, paper cutter, rotary trimmer, guillotine, guillotine trimmer, card trimmer | trimmer-blade
scoring blade | scoring wheel, creasing blade, creasing wheel
scoring board | score board, scoring mat, creasing board, scoring tray
scoring tool | stylus, embossing stylus, ball tool, empty ballpoint pen, scoring stylus
craft knife | knife, knives, craft knives, scalpel, hobby knife, utility knife, trimming knife, snap off knife, box
  cutter, cutter, blade, paper knife | blade
rotary cutter | roller cutter | blade
circle cutter | compass cutter | blade
wire cutters | side cutters, pliers, wire snips | pinch, sharp-ends
scissors | pair of scissors, shears, fancy scissors | scissors
bone folder | folder, folding bone, burnisher, creaser, nonstick folder, non-stick folder
ruler | metal ruler, steel ruler, steel rule, straightedge, straight edge, safety ruler
set square | try square, right angle
cutting mat | self healing mat
pencil | soft pencil
eraser | rubber eraser
pen | marker, felt pen, fine liner, fineliner, ballpoint, gel pen, brush pen
crayon | colouring pencil, coloured pencil, colored pencil, chalk, pastel
brush | paint brush, paintbrush, glue brush, glue spreader, spatula
hole punch | punch, paper punch, circle punch, round punch, corner punch, corner rounder, edge punch | pinch
eyelet setter | eyelet pliers, setting tool | pinch
die | cutting die, die set, steel die
die-cutting machine | die cutting press, die machine, rolling press, die cutter | rollers
embossing folder | embossing plate
cutting plotter | plotter, cutting machine, digital cutter, electronic cutter, vinyl cutter | cutting-machine
laser cutter | laser, laser engraver, laser machine | laser
hot glue gun | glue gun, hot melt gun, hot glue pistol, glue pistol, glue pot | hot-glue
heat tool | heat gun, hot air gun, embossing heat tool, heat press, hot plate | heat
iron | flat iron, craft iron | heat
laminator | laminating machine | heat
soldering iron | solder gun, soldering gun, soldering station | solder
sandpaper | sanding block, sanding sponge, emery board, emery paper, sander | dust
airbrush | spray gun | spray
awl | bradawl, pricking tool, paper piercer, piercer, pin tool | point
needle | sewing needle, bookbinding needle, darning needle | point
stapler | long arm stapler | pinch, sharp-ends
stamp | rubber stamp, clear stamp, stamping block, acrylic block, stamp set
brayer | ink roller, roller
stencil | mask, template
tape dispenser | tape gun, tape runner | pinch
compass | pair of compasses | point
protractor
clip | paper clip, spring clip, binder clip, clothes peg, peg, clamp
tweezers | pair of tweezers | point
tongs | sugar tongs
weight | heavy book, book press
sponge | blending tool, dauber
printer | inkjet printer, laser printer
toothpick | cocktail stick, skewer | point
coin
"""
TOOLS = tuple(ToolKind(name, names_in(forms), names_in(hazards)) for name, forms, hazards in rows_of(_LIST, 3))

_NAMES = KnownNames.of((tool, (tool.name, *tool.forms)) for tool in TOOLS)
_AFTER_HEAD = re.compile(r"\bwith\b|\bfor\b|\bto\b|[,;(]")


@lru_cache(maxsize=1024)
def tool_of(name: str) -> ToolKind | None:
    """The tool a name means: what stands before `with`, `for`, `to` counts first ("trimmer with scoring blade")."""
    head = _AFTER_HEAD.split(name, maxsplit=1)[0]
    return _NAMES.best_in(head) or _NAMES.best_in(name)


@lru_cache(maxsize=1024)
def tools_in(name: str) -> tuple[ToolKind, ...]:
    """Every tool a line names, in order: `pencil and ruler`, `paper trimmer with scoring blade`."""
    return _NAMES.all_in(name)
