"""Acts: what is done to paper, in which order, with what, and how long it takes when nobody says."""

from __future__ import annotations

from enum import IntEnum
from functools import lru_cache

from msgspec import Struct


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


_KNIVES = ("paper trimmer", "craft knife", "scissors", "rotary cutter", "cutting plotter")
_NIPPERS = ("scissors", "craft knife", "paper trimmer")
_SCORERS = ("scoring blade", "scoring board", "scoring tool", "bone folder", "craft knife", "paper trimmer")

ACTS: tuple[Act, ...] = (
    # measuring and drawing
    Act("measure", Phase.PLAN, 30, ("measures", "measuring", "measured"), True, ("ruler",)),
    Act("mark", Phase.PLAN, 30, ("marks", "marking", "marked"), True, ("pencil", "pen")),
    Act(
        "trace", Phase.PLAN, 60, ("traces", "tracing", "traced", "draw round", "draw around"), False, ("pencil", "pen")
    ),
    Act("draw", Phase.PLAN, 60, ("draws", "drawing", "drew", "drawn", "rule"), True, ("pencil", "pen", "crayon")),
    Act("print", Phase.PLAN, 60, ("prints", "printing", "printed")),
    # cutting
    Act(
        "cut",
        Phase.CUT,
        45,
        ("cuts", "cutting", "cut out", "cuts out", "cutting out", "recut"),
        True,
        _KNIVES,
        on_paper=True,
    ),
    Act("trim", Phase.CUT, 30, ("trims", "trimming", "trimmed"), True, _KNIVES, on_paper=True),
    Act("slice", Phase.CUT, 45, ("slices", "slicing", "sliced"), True, _KNIVES, on_paper=True),
    Act("tear", Phase.CUT, 20, ("tears", "tearing", "tore", "torn"), True, on_paper=True),
    Act(
        "die cut",
        Phase.CUT,
        60,
        ("die cuts", "die cutting", "die-cut"),
        False,
        ("die-cutting machine", "die"),
        ("rollers",),
        on_paper=True,
    ),
    Act(
        "laser cut",
        Phase.CUT,
        60,
        ("laser cuts", "laser cutting", "laser-cut"),
        False,
        ("laser cutter",),
        ("laser",),
        on_paper=True,
    ),
    # scoring
    Act("score", Phase.SCORE, 45, ("scores", "scoring", "scored"), True, _SCORERS, on_paper=True),
    Act(
        "perforate",
        Phase.SCORE,
        45,
        ("perforates", "perforating", "perforated"),
        True,
        ("scoring tool", "craft knife", "rotary cutter"),
        on_paper=True,
    ),
    # cuts that belong to a scored piece, and holes
    Act(
        "slit",
        Phase.PIERCE,
        60,
        ("slits", "slitting"),
        True,
        _NIPPERS,
        on_paper=True,
    ),
    Act("snip", Phase.PIERCE, 30, ("snips", "snipping", "snipped"), True, _NIPPERS, on_paper=True),
    Act(
        "notch",
        Phase.PIERCE,
        30,
        ("notches", "notching", "notched"),
        True,
        ("scissors", "craft knife", "hole punch"),
        on_paper=True,
    ),
    Act(
        "punch",
        Phase.PIERCE,
        20,
        ("punches", "punching", "punched"),
        False,
        ("hole punch", "eyelet setter", "awl"),
        on_paper=True,
    ),
    Act(
        "pierce",
        Phase.PIERCE,
        20,
        ("pierces", "piercing", "pierced", "prick", "pricks", "pricking"),
        False,
        ("awl", "needle", "compass", "toothpick"),
        ("point",),
        on_paper=True,
    ),
    Act("round", Phase.PIERCE, 20, ("rounds", "rounding", "rounded"), False, ("hole punch", "scissors"), on_paper=True),
    Act("remove", Phase.PIERCE, 20, ("removes", "removing", "removed", "cut away", "cut off"), True),
    # decorating
    Act(
        "emboss",
        Phase.DECORATE,
        60,
        ("embosses", "embossing", "embossed"),
        False,
        ("embossing folder", "heat tool", "scoring tool"),
    ),
    Act("stamp", Phase.DECORATE, 60, ("stamps", "stamping", "stamped"), False, ("stamp",)),
    Act("ink", Phase.DECORATE, 45, ("inks", "inking", "inked")),
    Act(
        "stencil",
        Phase.DECORATE,
        90,
        ("stencils", "stencilling", "stencilled", "stenciling", "stenciled"),
        False,
        ("stencil",),
    ),
    Act(
        "colour",
        Phase.DECORATE,
        180,
        ("colours", "colouring", "coloured", "color", "colors", "coloring", "colored", "colour in"),
    ),
    Act("paint", Phase.DECORATE, 180, ("paints", "painting", "painted"), False, ("brush", "sponge"), waiting=900),
    Act(
        "write",
        Phase.DECORATE,
        60,
        ("writes", "writing", "wrote", "written", "letter", "letters", "lettering"),
        False,
        ("pen", "pencil", "crayon"),
    ),
    Act("decorate", Phase.DECORATE, 180, ("decorates", "decorating", "decorated")),
    # folding
    Act("fold", Phase.FOLD, 45, ("folds", "folding", "folded", "fold up", "fold in", "fold over"), True, on_paper=True),
    Act("crease", Phase.FOLD, 30, ("creases", "creasing", "creased"), True, on_paper=True),
    Act("pleat", Phase.FOLD, 60, ("pleats", "pleating", "pleated"), True, on_paper=True),
    Act("bend", Phase.FOLD, 20, ("bends", "bending", "bent"), on_paper=True),
    Act("roll", Phase.FOLD, 30, ("rolls", "rolling", "rolled", "curl", "curls", "curling", "curled"), on_paper=True),
    Act(
        "burnish",
        Phase.FOLD,
        20,
        ("burnishes", "burnishing", "burnished", "rub down"),
        False,
        ("bone folder",),
        on_paper=True,
    ),
    # joining
    Act("glue", Phase.JOIN, 60, ("glues", "gluing", "glueing", "glued", "paste", "pastes", "pasting", "pasted")),
    Act(
        "hot glue",
        Phase.JOIN,
        45,
        ("hot glues", "hot gluing", "hot glued", "hot-glue"),
        False,
        ("hot glue gun",),
        ("hot-glue",),
    ),
    Act("tape", Phase.JOIN, 60, ("tapes", "taping", "taped")),
    Act(
        "stick",
        Phase.JOIN,
        45,
        (
            "sticks",
            "sticking",
            "stuck",
            "stick down",
            "mount",
            "mounts",
            "mounting",
            "mounted",
            "adhere",
            "layer",
            "layers",
            "layering",
            "layered",
        ),
    ),
    Act(
        "attach",
        Phase.JOIN,
        45,
        (
            "attaches",
            "attaching",
            "attached",
            "fix",
            "fixes",
            "fixing",
            "fixed",
            "fasten",
            "fastens",
            "fastening",
            "fastened",
            "join",
            "joins",
            "joining",
            "joined",
        ),
    ),
    Act("staple", Phase.JOIN, 20, ("staples", "stapling", "stapled"), False, ("stapler",), ("pinch", "sharp-ends")),
    Act(
        "sew",
        Phase.JOIN,
        300,
        ("sews", "sewing", "sewed", "sewn", "stitch", "stitches", "stitching", "stitched"),
        False,
        ("needle",),
        ("point",),
    ),
    Act(
        "insert",
        Phase.JOIN,
        20,
        (
            "inserts",
            "inserting",
            "inserted",
            "slide",
            "slides",
            "sliding",
            "slid",
            "tuck",
            "tucks",
            "tucking",
            "tucked",
            "slot",
        ),
    ),
    Act(
        "assemble",
        Phase.JOIN,
        120,
        ("assembles", "assembling", "assembled", "build", "builds", "building", "put together"),
    ),
    # finishing
    Act("thread", Phase.FINISH, 60, ("threads", "threading", "threaded", "lace", "laces", "lacing", "laced")),
    Act("wrap", Phase.FINISH, 45, ("wraps", "wrapping", "wrapped", "wind", "winds", "winding", "wound")),
    Act("tie", Phase.FINISH, 60, ("ties", "tying", "tied", "knot", "knots", "knotting", "knotted")),
    Act("fill", Phase.FINISH, 30, ("fills", "filling", "filled")),
    Act("pack", Phase.FINISH, 30, ("packs", "packing", "packed", "bag", "bags", "bagging")),
    Act("close", Phase.FINISH, 15, ("closes", "closing", "closed", "seal", "seals", "sealing", "sealed")),
    # at any time
    Act("press", Phase.ANY, 20, ("presses", "pressing", "pressed", "flatten", "flattens", "flattening", "flattened")),
    Act("turn", Phase.ANY, 5, ("turns", "turning", "turned", "flip", "flips", "flipping", "flipped")),
    Act(
        "lay",
        Phase.ANY,
        15,
        ("lays", "laying", "laid", "place", "places", "placing", "placed", "put", "puts", "putting"),
    ),
    Act("check", Phase.ANY, 20, ("checks", "checking", "checked", "test", "tests", "testing", "tested", "try")),
    Act("dry", Phase.ANY, 0, ("dries", "drying", "dried"), waiting=600),
    Act("wait", Phase.ANY, 0, ("waits", "waiting", "waited", "rest", "rests", "resting"), waiting=600),
    Act(
        "heat",
        Phase.DECORATE,
        60,
        ("heats", "heating", "heated", "heat emboss", "heat embossing", "heat embossed", "melt", "melts", "melting"),
        False,
        ("heat tool", "iron"),
        ("heat",),
    ),
    Act(
        "sand down",
        Phase.DECORATE,
        60,
        ("sands down", "sanding", "sanding down", "sanded", "sand smooth", "sand the"),
        False,
        ("sandpaper",),
        ("dust",),
    ),
    Act("spray", Phase.DECORATE, 60, ("sprays", "spraying", "sprayed"), False, (), ("spray",), waiting=600),
    Act("solder", Phase.JOIN, 180, ("solders", "soldering", "soldered"), False, ("soldering iron",), ("solder",)),
    Act(
        "collect", Phase.PLAN, 60, ("collects", "collecting", "collected", "gather", "gathers", "gathering", "gathered")
    ),
    Act("sort", Phase.PLAN, 60, ("sorts", "sorting", "sorted", "choose", "chooses", "choosing", "pick", "picks")),
    Act("share out", Phase.ANY, 60, ("hand out", "hands out", "handing out")),
    Act("clean", Phase.ANY, 60, ("cleans", "cleaning", "cleaned", "tidy", "wipe", "wipes", "wiping")),
)

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
