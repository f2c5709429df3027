"""Pieces of paper for tests: written as an author would, read, and laid flat."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import strategies as st

from foldwright.finding import Finding
from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.lengths import Clearance, Equal, LengthId, Sum, Within
from foldwright.geometry.pieces import Flat, lay_flat
from foldwright.measure.length import Length, Unit
from foldwright.recipe.facts.studio import read_studio
from foldwright.recipe.model import Recipe
from foldwright.recipe.reading import read_recipe

SUPPLIES = """\
supplies:
  card: cardstock, weight 100 lb cover, sheet 8 1/2 x 11 in or A4
  thick card: cardstock, thickness 0.5 mm, sheet A4
  unknown card: cardstock, sheet A4
  envelope: envelope, size 5 3/4 x 4 3/8 in, use 1
"""
STUDIO = "studio: Harbour Street Paper Studio\ncard thickness: 0.32 mm\n"


def recipe_of(pieces: str, studio: str = "") -> Recipe:
    text = f"---\ntitle: A test\nmakes: 1 box\nmeasured in: inches\n{SUPPLIES}\npieces:\n{pieces}\n---\n\nWords.\n"
    known = read_studio(studio, "studio.yaml")[0] if studio else None
    recipe = read_recipe(text, "recipe.md", "test", known).recipe
    assert recipe is not None
    return recipe


def laid(pieces: str, studio: str = "") -> Flat:
    return lay_flat(recipe_of(pieces, studio))


def the_blank(flat: Flat, piece: str) -> Blank:
    blank = flat.blank(piece)
    assert blank is not None
    return blank


def the_finding(flat: Flat, code: str) -> dict[str, object]:
    """The facts of the only finding with this code."""
    found = [finding for finding in flat.findings if finding.code == code]
    assert len(found) == 1, [finding.code for finding in flat.findings]
    return dict(found[0].facts)


def codes(findings: tuple[Finding, ...]) -> list[str]:
    return [finding.code for finding in findings]


def inch(number: str | int) -> Fraction:
    """`4 1/8` inches in millimetres."""
    return sum((Fraction(part) for part in str(number).split()), Fraction(0)) * Unit.INCH.mm


def size_of(flat: Flat, piece: str) -> tuple[Fraction, Fraction]:
    return mm(flat, piece, "across", "size"), mm(flat, piece, "down", "size")


def mm(flat: Flat, piece: str, side: str, place: str, number: int = 0, of: str = "") -> Fraction:
    return flat.lengths.by_id[LengthId(piece, side, place, number, of)].mm


def assert_relations_hold(flat: Flat) -> None:
    """Every sum, equality, clearance and limit is true of the exact lengths."""
    lengths = flat.lengths.by_id
    for relation in flat.lengths.relations:
        match relation:
            case Sum(total, parts):
                assert lengths[total].mm == sum(lengths[part].mm for part in parts), relation
            case Equal(one, other):
                assert lengths[one].mm == lengths[other].mm, relation
            case Clearance(outer, inner):
                assert lengths[outer].mm > lengths[inner].mm, relation
            case Within(length, limit):
                assert lengths[length].mm <= limit, relation


# --- random pieces ---------------------------------------------------------------------------------------------------

_WORDS = ("front", "back", "left end", "right wall", "floor", "lid", "glue flap", "inner cover", "tab", "")


@st.composite
def lengths_in(draw: st.DrawFn, unit: Unit, least: Fraction = Fraction(0)) -> Length:
    """A length as an author may write it: sixteenths of an inch, or halves of a millimetre."""
    if unit is Unit.INCH:
        return Length.of(max(Fraction(draw(st.integers(1, 96)), 16), least), unit)
    return Length.of(max(Fraction(draw(st.integers(2, 300)), 2), least), unit)


@st.composite
def rows_of(draw: st.DrawFn, unit: Unit, least: int, most: int, exact: int = 0) -> str:
    count = exact or draw(st.integers(least, most))
    panels = []
    for _ in range(count):
        name = draw(st.sampled_from(_WORDS))
        panels.append(f"{written(draw(lengths_in(unit)))} {name}".strip())
    return " | ".join(panels)


def written(length: Length) -> str:
    """The bare number, as typed."""
    value = length.value
    whole, rest = divmod(value, 1)
    if length.unit is Unit.MILLIMETRE:
        return f"{whole}.5" if rest else f"{whole}"
    return f"{whole} {rest}" if whole and rest else f"{rest or whole}"


@st.composite
def pieces(draw: st.DrawFn) -> str:
    """The facts of one random piece: a tray, a row of panels, an accordion, or a flat piece with a hole."""
    unit = draw(st.sampled_from((Unit.INCH, Unit.MILLIMETRE)))
    kind = draw(st.sampled_from(("tray", "row", "column", "grid", "accordion", "flat")))
    lines = ["  piece:", "    from: card"]
    other = written(draw(lengths_in(unit)))
    if kind in ("tray", "grid"):
        exact = 3 if kind == "tray" else 0
        lines += [f"    across: {draw(rows_of(unit, 2, 4, exact))}", f"    down: {draw(rows_of(unit, 2, 4, exact))}"]
        if kind == "tray":
            lines += [
                "    fold: tray",
                draw(st.sampled_from(("    flaps: joined to top and bottom", "    corners: cut away"))),
            ]
    elif kind == "row":
        lines += [f"    across: {draw(rows_of(unit, 1, 9))}", f"    down: {other}"]
    elif kind == "column":
        lines += [f"    across: {other}", f"    down: {draw(rows_of(unit, 1, 9))}"]
    elif kind == "accordion":
        lines += [f"    across: {draw(st.integers(2, 14))} of {other}", f"    down: {written(draw(lengths_in(unit)))}"]
        lines.append("    fold: accordion")
    else:
        lines += [f"    across: {other}", f"    down: {written(draw(lengths_in(unit)))}"]
    text = "\n".join(lines)
    holes = draw(st.sampled_from(("", "round", "slot", "window")))
    if holes:
        size = "3" if holes == "round" else "8 x 3"
        text += f"\n    holes: {holes} {size} mm, centred, middle 5 mm from the top"
    return _with_units(text, unit.symbol)


def _with_units(text: str, symbol: str) -> str:
    """Each panel with its unit: `3/4 left end` becomes `3/4 in left end`."""
    lines = []
    for line in text.splitlines():
        word, colon, row = line.partition(": ")
        if word.strip() in ("across", "down"):
            row = " | ".join(_unit_after_number(part.strip(), symbol) for part in row.split("|"))
        lines.append(word + colon + row)
    return "\n".join(lines)


def _unit_after_number(panel: str, symbol: str) -> str:
    words = panel.split()
    last = max(at for at, word in enumerate(words) if word[0].isdigit())
    return " ".join([*words[: last + 1], symbol, *words[last + 1 :]])
