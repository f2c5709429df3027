"""Tools: the names people give them and what they can do to a hand."""

from __future__ import annotations

import re
from functools import lru_cache

from msgspec import Struct

from foldwright.vocabulary.names import KnownNames


class ToolKind(Struct, frozen=True):
    """`name` is the plain name, `forms` other names for it, `hazards` codes of what it can do."""

    name: str
    forms: tuple[str, ...] = ()
    hazards: tuple[str, ...] = ()


TOOLS: tuple[ToolKind, ...] = (
    ToolKind(
        "paper trimmer",
        ("trimmer", "paper cutter", "rotary trimmer", "guillotine", "guillotine trimmer", "card trimmer"),
        ("trimmer-blade",),
    ),
    ToolKind("scoring blade", ("scoring wheel", "creasing blade", "creasing wheel")),
    ToolKind("scoring board", ("score board", "scoring mat", "creasing board", "scoring tray")),
    ToolKind("scoring tool", ("stylus", "embossing stylus", "ball tool", "empty ballpoint pen", "scoring stylus")),
    ToolKind(
        "craft knife",
        (
            "knife",
            "knives",
            "craft knives",
            "scalpel",
            "hobby knife",
            "utility knife",
            "trimming knife",
            "snap off knife",
            "box cutter",
            "cutter",
            "blade",
            "paper knife",
        ),
        ("blade",),
    ),
    ToolKind("rotary cutter", ("roller cutter",), ("blade",)),
    ToolKind("circle cutter", ("compass cutter",), ("blade",)),
    ToolKind("wire cutters", ("side cutters", "pliers", "wire snips"), ("pinch", "sharp-ends")),
    ToolKind("scissors", ("pair of scissors", "shears", "fancy scissors"), ("scissors",)),
    ToolKind("bone folder", ("folder", "folding bone", "burnisher", "creaser", "nonstick folder", "non-stick folder")),
    ToolKind("ruler", ("metal ruler", "steel ruler", "steel rule", "straightedge", "straight edge", "safety ruler")),
    ToolKind("set square", ("try square", "right angle")),
    ToolKind("cutting mat", ("self healing mat",)),
    ToolKind("pencil", ("soft pencil",)),
    ToolKind("eraser", ("rubber eraser",)),
    ToolKind("pen", ("marker", "felt pen", "fine liner", "fineliner", "ballpoint", "gel pen", "brush pen")),
    ToolKind("crayon", ("colouring pencil", "coloured pencil", "colored pencil", "chalk", "pastel")),
    ToolKind("brush", ("paint brush", "paintbrush", "glue brush", "glue spreader", "spatula")),
    ToolKind(
        "hole punch",
        ("punch", "paper punch", "circle punch", "round punch", "corner punch", "corner rounder", "edge punch"),
        ("pinch",),
    ),
    ToolKind("eyelet setter", ("eyelet pliers", "setting tool"), ("pinch",)),
    ToolKind("die", ("cutting die", "die set", "steel die")),
    ToolKind("die-cutting machine", ("die cutting press", "die machine", "rolling press", "die cutter"), ("rollers",)),
    ToolKind("embossing folder", ("embossing plate",)),
    ToolKind(
        "cutting plotter",
        ("plotter", "cutting machine", "digital cutter", "electronic cutter", "vinyl cutter"),
        ("cutting-machine",),
    ),
    ToolKind("laser cutter", ("laser", "laser engraver", "laser machine"), ("laser",)),
    ToolKind("hot glue gun", ("glue gun", "hot melt gun", "hot glue pistol", "glue pistol", "glue pot"), ("hot-glue",)),
    ToolKind("heat tool", ("heat gun", "hot air gun", "embossing heat tool", "heat press", "hot plate"), ("heat",)),
    ToolKind("iron", ("flat iron", "craft iron"), ("heat",)),
    ToolKind("laminator", ("laminating machine",), ("heat",)),
    ToolKind("soldering iron", ("solder gun", "soldering gun", "soldering station"), ("solder",)),
    ToolKind("sandpaper", ("sanding block", "sanding sponge", "emery board", "emery paper", "sander"), ("dust",)),
    ToolKind("airbrush", ("spray gun",), ("spray",)),
    ToolKind("awl", ("bradawl", "pricking tool", "paper piercer", "piercer", "pin tool"), ("point",)),
    ToolKind("needle", ("sewing needle", "bookbinding needle", "darning needle"), ("point",)),
    ToolKind("stapler", ("long arm stapler",), ("pinch", "sharp-ends")),
    ToolKind("stamp", ("rubber stamp", "clear stamp", "stamping block", "acrylic block", "stamp set")),
    ToolKind("brayer", ("ink roller", "roller")),
    ToolKind("stencil", ("mask", "template")),
    ToolKind("tape dispenser", ("tape gun", "tape runner"), ("pinch",)),
    ToolKind("compass", ("pair of compasses",), ("point",)),
    ToolKind("protractor"),
    ToolKind("clip", ("paper clip", "spring clip", "binder clip", "clothes peg", "peg", "clamp")),
    ToolKind("tweezers", ("pair of tweezers",), ("point",)),
    ToolKind("tongs", ("sugar tongs",)),
    ToolKind("weight", ("heavy book", "book press")),
    ToolKind("sponge", ("blending tool", "dauber")),
    ToolKind("printer", ("inkjet printer", "laser printer")),
    ToolKind("toothpick", ("cocktail stick", "skewer"), ("point",)),
    ToolKind("coin"),
)

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
