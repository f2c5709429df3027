"""The projects of a made-up library: seven families of things, each in sizes, units and supplies of its own."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from random import Random

from msgspec import Struct
from msgspec.structs import replace

from bench.made_up_words import COLOURS, Ending

HUSHED = ("no-trim-to-spare", "sheet-yields-half")
"""Thoughts about how a studio's sheets come, which ours would hush in `studio.yaml` sooner or later."""


class Ruler(Struct, frozen=True):
    """Sizes are counted in the marks of a ruler: sixteenths of an inch, or millimetres."""

    called: str
    name: str
    marks: int
    """In one of its unit."""
    mark_mm: float
    ribbon: str
    tape: str
    tape_width: str
    spool: str
    weight: str
    paper_weight: str

    def marks_in(self, mm: float) -> int:
        return round(mm / self.mark_mm)

    def bare(self, marks: int) -> str:
        """`3 1/2`, or `90`."""
        whole, part = divmod(Fraction(marks, self.marks), 1)
        return f"{whole} {part}" if whole and part else str(part or whole)

    def cross(self, *marks: int) -> str:
        return f"{' x '.join(map(self.bare, marks))} {self.name}"


INCHES = Ruler("inches", "in", 16, 25.4 / 16, "36 in", "12 in", "1/4 in", "yd", "100 lb cover", "80 lb text")
MILLIMETRES = Ruler("millimetres", "mm", 1, 1.0, "900 mm", "300 mm", "6 mm", "m", "270 g/m2", "120 g/m2")


class Project(Struct, frozen=True):
    """What the recipe of one thing says, its lines ready to be written. `main` is the piece that all else goes on."""

    noun: str
    main: str
    unit: Ruler
    level: str
    pieces: tuple[str, ...]
    steps: tuple[Ending, ...]
    larger: tuple[str, ...] = ()
    """What its larger size says of its pieces, where it comes in one."""
    supplies: tuple[str, ...] = ()
    tools: tuple[str, ...] = ("paper trimmer with scoring blade", "bone folder", "small sharp scissors")
    tied: bool = False


def project(dice: Random) -> Project:
    """Some project; the same for the same state of `dice`."""
    unit = dice.choice((INCHES, MILLIMETRES))
    return _supplied(dice.choice(_FAMILIES)(unit, dice), dice)


def _any_of(unit: Ruler, dice: Random, least_mm: float, most_mm: float) -> int:
    return dice.randint(unit.marks_in(least_mm), unit.marks_in(most_mm))


def _supplied(made: Project, dice: Random) -> Project:
    unit = made.unit
    used = {line.partition("from: ")[2] for line in made.pieces if "from: " in line}
    colour, tied = dice.choice(COLOURS), dice.random() < 0.4
    supplies = [f"{colour} card: cardstock, weight {unit.weight}, {_sheets(dice, '8 1/2 x 11 in or A4')}"]
    if "lining paper" in used:
        supplies += [f"lining paper: patterned paper, weight {unit.paper_weight}, {_sheets(dice, '12 x 12 in')}"]
    supplies += [f"strong tape: double-sided tape, width {unit.tape_width}, use {unit.tape}, {_spool(unit, dice)}"]
    supplies += [f"ribbon: ribbon, use {unit.ribbon}, {_spool(unit, dice)}"] if tied else []
    pieces = tuple(line.replace("from: card", f"from: {colour} card") for line in made.pieces)
    steps = tuple(replace(step, words=step.words.replace("the card", f"the {colour} card", 1)) for step in made.steps)
    tools = (*made.tools, *dice.sample(("ruler", "pencil", "craft knife", "cutting mat"), dice.randint(0, 2)))
    return replace(made, pieces=pieces, steps=steps, supplies=tuple(supplies), tools=tools, tied=tied)


def _sheets(dice: Random, size: str) -> str:
    return f"sheet {size}, pack {dice.choice((12, 24, 50))} sheets at {_price(dice, 6)}"


def _spool(unit: Ruler, dice: Random) -> str:
    return f"pack {dice.randint(10, 30)} {unit.spool} at {_price(dice, 3)}"


def _price(dice: Random, least: int) -> str:
    return f"{least + dice.randint(0, 6)}.{dice.choice(('20', '50', '80', '90'))}"


# --- boxes ------------------------------------------------------------------------------------------------------------


def _tray(unit: Ruler, dice: Random) -> Project:
    across, down, wall = _box(unit, dice)
    steps = _box_steps("tray", unit, across, down, wall)
    pieces = _tray_lines("tray", unit, across, down, wall)
    if dice.random() < 0.6:
        lining = unit.cross(across - unit.marks_in(3.2), down - unit.marks_in(3.2))
        pieces += ("lining:", "  from: lining paper", f"  size: {lining}", "  goes on: inside of tray floor, centred")
        steps += (
            Ending("Cut the lining", "cut lining", f"Cut the lining paper to {lining}."),
            Ending("Put the lining in", "tape lining to tray", "Tape it to the floor, with an even border all round."),
        )
    larger = _tray_lines("tray", unit, across + across // 8, down + down // 8, wall)
    return Project("tray", "tray", unit, dice.choice(("beginner", "easy")), pieces, steps, (larger[0], *larger[2:5]))


def _box_with_lid(unit: Ruler, dice: Random) -> Project:
    across, down, wall = _box(unit, dice)
    more, rim = unit.marks_in(3.2), max(unit.marks_in(12), wall * 2 // 3)
    lid = _tray_lines("lid", unit, across + more, down + more, rim)
    pieces = (*_tray_lines("base", unit, across, down, wall), *lid[:-1], "  fold: lid", "  fits over: base")
    steps = (*_box_steps("base", unit, across, down, wall), *_box_steps("lid", unit, across + more, down + more, rim))
    return Project("keepsake box", "lid", unit, "easy", pieces, steps)


def _drawer_box(unit: Ruler, dice: Random) -> Project:
    across, down, wall = _box(unit, dice)
    across, ease, flap = min(across, unit.marks_in(60)), unit.marks_in(3.2), unit.marks_in(12)
    sides = across + ease, wall + ease, across + ease, wall + ease, flap
    width = sum(sides)
    scores = [unit.bare(sum(sides[:at])) for at in range(1, 5)]
    rows = zip(sides, ("top", "left side", "bottom", "right side", "glue flap"), strict=True)
    pieces = (
        *_tray_lines("drawer", unit, across, down, wall),
        "  slides in: sleeve",
        "sleeve:",
        "  from: card",
        f"  size: {unit.cross(width, down)}",
        f"  across: {' | '.join(f'{unit.bare(marks)} {name}' for marks, name in rows)}",
        "  fold: sleeve",
    )
    told = f"{', '.join(scores[:-1])} and {scores[-1]} {unit.name}"
    cut = f"Cut the card to {unit.cross(width, down)}. With a long edge against the fence, score at {told}."
    long_side = width > down
    steps = (
        *_box_steps("drawer", unit, across, down, wall),
        Ending("Cut and score the sleeve", "cut and score sleeve", cut if long_side else ""),
        Ending("Tape the sleeve", "fold sleeve, tape sleeve", "Fold all scores away from you and tape the flap."),
    )
    return Project("drawer box", "sleeve", unit, "moderate", pieces, steps)


def _box(unit: Ruler, dice: Random) -> tuple[int, int, int]:
    """Floor across and down, and how high the walls are: a letter sheet holds it, and no flap meets another."""
    wall = _any_of(unit, dice, 16, 30)
    down = dice.randint(2 * wall + unit.marks_in(8), unit.marks_in(120))
    return _any_of(unit, dice, 45, 120), down, wall


def _tray_lines(name: str, unit: Ruler, across: int, down: int, wall: int) -> tuple[str, ...]:
    high = unit.bare(wall)
    return (
        f"{name}:",
        "  from: card",
        f"  size: {unit.cross(across + 2 * wall, down + 2 * wall)}",
        f"  across: {high} left end | {unit.bare(across)} floor | {high} right end",
        f"  down: {high} front | {unit.bare(down)} floor | {high} back",
        f"  flaps: joined to front and back, trimmed {unit.cross(1)}",
        "  fold: tray",
    )


def _box_steps(name: str, unit: Ruler, across: int, down: int, wall: int) -> tuple[Ending, ...]:
    size, high = unit.cross(across + 2 * wall, down + 2 * wall), unit.cross(wall)
    fold = "With the good side up, fold every score away from you. Tape the flaps and press them behind the ends."
    return (
        Ending(f"Cut the {name}", f"cut {name}", f"Cut the card to {size}."),
        Ending(f"Score the {name}", f"score {name}", f"Score {high} from each edge, all the way round."),
        Ending(
            f"Free the flaps of the {name}", f"slit {name}", f"Make four cuts, each {high} long, from the short edges."
        ),
        Ending(f"Fold and tape the {name}", f"fold {name}, tape {name}", fold),
    )


# --- cards, booklets, tags --------------------------------------------------------------------------------------------


def _layered_card(unit: Ruler, dice: Random) -> Project:
    front, high = (
        dice.randint(unit.marks_in(80), unit.marks_in(102)),
        dice.randint(unit.marks_in(110), unit.marks_in(148)),
    )
    border = dice.randint(unit.marks_in(3.2), unit.marks_in(8))
    mat = unit.cross(front - 2 * border, high - 2 * border)
    pieces = (
        "card:", "  from: card", f"  size: {unit.cross(2 * front, high)}",
        f"  across: {unit.bare(front)} back | {unit.bare(front)} front", "  fold: card",
        "mat:", "  from: lining paper", f"  size: {mat}", "  goes on: outside of card front, centred",
    )  # fmt: skip
    score = f"Cut the card to {unit.cross(2 * front, high)}. Score it in the middle, {unit.cross(front)} from the edge."
    steps = (
        Ending("Cut and score the card", "cut and score card", score),
        Ending("Fold the card", "fold card", "Fold it on the score and rub it down, good side out."),
        Ending("Cut the mat", "cut mat", f"Cut the lining paper to {mat}: it leaves {unit.cross(border)} all round."),
        Ending("Put the mat on", "tape mat to card", "Look at the border before you press."),
    )
    return Project("greeting card", "card", unit, "beginner", pieces, steps)


def _booklet(unit: Ruler, dice: Random) -> Project:
    panels = 4
    page, high = _any_of(unit, dice, 45, 66), _any_of(unit, dice, 60, 110)
    over = unit.marks_in(3.2)
    cover = unit.cross(page + over, high + over)
    pieces = (
        "strip:", "  from: lining paper", f"  size: {unit.cross(panels * page, high)}",
        f"  across: {panels} of {unit.bare(page)}", "  fold: accordion, first fold up",
        "cover:", "  from: card", "  count: 2", f"  size: {cover}",
        "  goes on: outside of strip panels 1 and 4, centred",
    )  # fmt: skip
    fold = "Fold to and fro along the scores and press each fold flat."
    steps = (
        Ending("Cut the strip", "cut strip", f"Cut the lining paper to {unit.cross(panels * page, high)}."),
        Ending("Score the strip", "score strip", ""),
        Ending("Fold the strip", "fold strip", fold),
        Ending("Cut the covers", "cut cover", f"Cut two covers of the card, {cover}."),
        Ending("Tape the covers on", "tape cover to strip", "Tape a cover to the front and one to the back."),
    )
    return Project("booklet", "strip", unit, dice.choice(("easy", "moderate")), pieces, steps)


def _tag(unit: Ruler, dice: Random) -> Project:
    wide, high = _any_of(unit, dice, 40, 70), _any_of(unit, dice, 85, 140)
    hole, below = (unit.bare(unit.marks_in(mm)) for mm in (4.8, 9.5))
    panel = wide - unit.marks_in(8), high * 2 // 3
    pieces = (
        "tag:", "  from: card", f"  size: {unit.cross(wide, high)}", "  outline: tag",
        f"  holes: round {hole} {unit.name}, centred, middle {below} {unit.name} from the top",
        "panel:", "  from: lining paper", f"  size: {unit.cross(*panel)}",
        f"  goes on: outside of tag, lined up {unit.cross(unit.marks_in(4))} from the bottom",
    )  # fmt: skip
    steps = (
        Ending("Cut the tag", "cut and snip tag", f"Cut the card to {unit.cross(wide, high)}; snip its corners."),
        Ending("Cut the panel", "cut panel, tape panel to tag", f"Cut the lining paper to {unit.cross(*panel)}."),
        Ending("Punch the hole", "punch tag", f"Punch a hole in the middle, {below} {unit.name} from the top."),
    )
    tools = ("paper trimmer", "small sharp scissors", f"{hole} {unit.name} hole punch")
    return Project("gift tag", "tag", unit, "beginner", pieces, steps, tools=tools)


# --- forms that are worked out ----------------------------------------------------------------------------------------

_MADE: tuple[tuple[str, str, tuple[tuple[int, int], ...], str], ...] = (
    ("gift bag", "bag", ((45, 62), (25, 34), (60, 90)), "Fold every score, and tape the glue flap inside."),
    ("pillow box", "box", ((60, 80), (80, 110), (16, 22)), "Fold it in half, tape the flap, push the ends in."),
    ("hexagonal box", "box", ((55, 75), (25, 38)), "Fold every wall and flap away from you, and tape each flap."),
    ("envelope", "envelope", ((80, 110), (60, 80)), "Fold the side flaps in, tape them, and fold the rest over."),
)
"""The form, what it is called, the least and most of each of its sizes in millimetres, and how it is folded."""


def _worked_out(unit: Ruler, dice: Random) -> Project:
    form, name, ranges, words = dice.choice(_MADE)
    sizes = [_any_of(unit, dice, least, most) for least, most in ranges]
    pieces = (f"{name}:", "  from: card", f"  fold: {form}", f"  finished: {unit.cross(*sizes)}")
    steps = (
        Ending(f"Cut and score the {name}", f"cut and score {name}", ""),
        Ending(f"Fold and tape the {name}", f"fold {name}, tape {name}", words),
    )
    larger = (pieces[0], f"  finished: {unit.cross(*(one + one // 8 for one in sizes))}")
    return Project(form, name, unit, dice.choice(("easy", "moderate")), pieces, steps, larger)


_FAMILIES: tuple[Callable[[Ruler, Random], Project], ...] = (
    _tray, _box_with_lid, _drawer_box, _layered_card, _booklet, _tag, _worked_out,
)  # fmt: skip
