"""What was understood of a piece, in sentences: on the page in both unit systems, in check as it was written."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest

from foldwright.document.as_written import WrittenLengths
from foldwright.document.catalogue import catalogue
from foldwright.document.model import Document, PieceLine
from foldwright.document.typeset import least_room
from foldwright.document.words import plain
from foldwright.geometry.lengths import LengthId, Lengths
from foldwright.measure.length import Length, System, Unit
from foldwright.measure.printed import Printed
from foldwright.measure.writing import write_exact
from workbench.compiled import DEMOS, compiled, demo, small

IMPERIAL, METRIC = System.IMPERIAL, System.METRIC
THICK = "  card: cardstock, thickness 0.3 mm, sheet A4"


def the_piece(document: Document, name: str) -> PieceLine:
    return next(piece for piece in document.pieces if piece.name == name)


def fit(document: Document, name: str, system: System) -> list[str]:
    return [plain(line, system) for line in the_piece(document, name).fit]


def rows(document: Document, name: str, system: System) -> list[str]:
    return [plain(line, system) for line in the_piece(document, name).rows]


def own(pieces: str, supplies: str = THICK) -> Document:
    """A sheet with one more piece than the tray of `small`."""
    return small(facts=pieces, supplies=supplies)


def test_a_lid_says_how_much_room_it_leaves_in_each_system():
    sheet = demo("keepsake-box")
    # 3 1/8 in over 3 in. Card of 0.32 mm takes four times its thickness where the lid's flaps are (of 3.175 mm in all).
    assert fit(sheet, "lid", IMPERIAL) == [
        (
            "Goes over the base with 1/16 in to spare on every side; "
            "with the thickness of the card, 1/32 in at the tightest."
        ),
        # In millimetres 79 over 76, which is 0.175 mm less than 3 1/8 over 3 in: the less sure of both is told.
        "Made by hand, the lid goes over the base 96 times in 100. Give it 1/16 in more room and it always does.",
    ]
    lid, base = the_piece(sheet, "lid"), the_piece(sheet, "base")
    printed = [metric(piece.panels_across[1].length.printed.metric.plain) for piece in (lid, base)]
    said, _ = fit(sheet, "lid", METRIC)
    room = re.search(r"with ([\d.]+) mm to spare on every side", said)
    assert room is not None
    assert Fraction(room[1]) * 2 == printed[0] - printed[1]
    assert fit(sheet, "base", IMPERIAL) == []


def metric(text: str) -> Fraction:
    return Fraction(text.removesuffix(" mm"))


def test_a_drawer_and_a_card_say_what_they_slide_into():
    assert fit(demo("drawer-box"), "drawer", METRIC) == [
        (
            "Slides into the sleeve with 2 mm to spare in width and in height; "
            "with the thickness of the card, 1.2 mm at the tightest."
        ),
        # By the figures in millimetres it is 97 of 100; those in inches leave less, and the less sure is told.
        "Made by hand, the drawer goes into the sleeve 86 times in 100. Give it 1.5 mm more room and it always does.",
    ]
    assert fit(demo("layered-card"), "base", IMPERIAL) == [
        (
            "Slides into the envelope with 1/4 in to spare in width and 1/8 in in height; "
            "with the thickness of the card, 3/32 in at the tightest."
        ),
        "Made by hand, the base always goes into the envelope.",
    ]


def test_borders_and_overhangs_are_said():
    assert fit(demo("layered-card"), "outer mat", IMPERIAL) == [
        "Sits on the base with a border of 1/8 in on every side."
    ]
    assert fit(demo("concertina"), "cover", METRIC) == ["Sticks out beyond the strip by 2 mm on every side."]
    assert fit(demo("twine-tag"), "leaf panel", IMPERIAL) == [
        "Sits on the tag with a border of 1/8 in left and right, 1/8 in at the bottom, 1 1/8 in at the top."
    ]


def test_room_of_nothing_is_left_to_the_findings():
    sheet = own(
        "  lid:\n    from: card\n    size: 80 x 100 mm\n    across: 10 | 60 | 10\n    down: 5 | 90 | 5\n"
        "    fold: lid\n    corners: cut away\n    fits over: base\n"
    )
    assert fit(sheet, "lid", METRIC) == []
    assert "no-gap" in [told.code for told in sheet.findings]


INSIDE = "  box:\n    from: card\n    inside: 60 x 90 x 20 mm\n    fold: tray\n    corners: cut away\n"


def test_an_inside_shows_its_sums_and_whose_thickness_it_took():
    sheet = own(INSIDE)
    # 60 and 0.3 for two folds, 20 and half of 0.3: what was asked for is never cut smaller, so 60.5 and 20.5.
    assert rows(sheet, "box", METRIC) == [
        "Worked out from the inside: 60 x 90 x 20 mm.",
        "Across: 20.5 + 60.5 + 20.5 = 101.5 mm.",
        "Down: 20.5 + 90.5 + 20.5 = 131.5 mm.",
        "Every fold allows for the card, 0.3 mm thick as its supply says.",
    ]
    imperial = rows(sheet, "box", IMPERIAL)
    assert imperial[-1] == "Every fold allows for the card, 0.012 in thick as its supply says."
    for line in imperial[1:3]:
        *parts, total = [inches(text) for text in re.findall(r"\d[\d /]*", line)]
        assert sum(parts) == total


def inches(text: str) -> Fraction:
    return sum((Fraction(part) for part in text.split()), Fraction(0))


@pytest.mark.parametrize(
    ("supply", "more", "says"),
    [
        ("  card: cardstock, weight 270 g/m2, sheet A4", "    thickness: 0.4 mm\n", "0.4 mm thick as the recipe says."),
        ("  card: cardstock, sheet A4", "", "0.32 mm thick as the studio says."),
    ],
)
def test_the_thickness_of_the_card_has_an_author(supply, more, says):
    assert rows(own(INSIDE + more, supply), "box", METRIC)[-1].endswith(says)


def test_a_lid_measured_from_another_piece_says_so():
    lid = "  lid:\n    from: card\n    inside: 1 mm bigger on every side than base outside, 12 mm deep\n"
    sheet = own(lid + "    fold: lid\n    corners: cut away\n    fits over: base\n")
    assert rows(sheet, "lid", METRIC)[0] == (
        "Worked out from the base outside: 1 mm bigger on every side and 12 mm deep."
    )


def test_holes_say_where_they_are_and_what_is_taken_for_the_middle():
    sheet = own(
        "  tag:\n    from: card\n    size: 50 x 100 mm\n    across: 25 | 25\n    holes:\n"
        "      - slot 8 x 2 mm, centred, edge 5 mm from the bottom\n"
        "      - round 4 mm, middle 10 mm from the left, middle 12 mm from the top, mirrored\n"
        "      - window 6 x 6 mm, centred on every panel\n"
    )
    assert [plain(line, METRIC) for line in the_piece(sheet, "tag").work][2:] == [
        "Cut a slot 8 x 2 mm, midway between left and right, its near edge 5 mm from the bottom edge.",
        (
            "Make a round hole 4 mm wide, its middle 10 mm from the left edge, its middle 12 mm from the top edge, "
            "and its mirror image, left to right."
        ),
        "Cut a window 6 x 6 mm on each of 2 panels, in the middle.",
    ]


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("system", System)
def test_no_measure_of_the_other_system_is_left(name, system):
    foreign = r"\d\s*(?:mm|cm)\b" if system is IMPERIAL else r"\d\s*(?:in|ft|yd)\b"
    texts = [plain(line, system) for piece in demo(name).pieces for line in (*piece.rows, *piece.fit)]
    assert [text for text in texts if re.search(foreign, text)] == []


# --- names that begin with a measure ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "printed"),
    [
        ("1 in circle punch", "25 mm circle punch"),
        ("3/16 in hole punch", "5 mm hole punch"),
        ("1/4-inch punch", "6 mm punch"),
        ("2 x 3 in stamp", "51 x 76 mm stamp"),
        ("12 in ruler", "305 mm ruler"),
        ("4 in 1 bone tool", "4 in 1 bone tool"),
        ("3 in one oil", "3 in one oil"),
        ("bone folder", "bone folder"),
    ],
)
def test_a_tool_or_supply_named_by_its_size_is_named_in_both_systems(name, printed):
    sheet = small(supplies=f"  card: cardstock, sheet A4\n  {name}: tool, use 1, instead {name}")
    for supply in sheet.supplies[1:]:
        assert plain(supply.name, METRIC) == printed
        assert plain(supply.instead[0].name, METRIC) == printed
        assert plain(supply.name, IMPERIAL) == name.replace("-inch", " in")


def test_a_tool_named_by_its_size_is_named_in_both_systems():
    text = "---\ntitle: Tag\ntools:\n  - 1 in circle punch\npieces:\n  tag:\n    size: 2 x 4 in\n---\n\n## Cut\n"
    (tool,) = compiled(text)[0].tools
    assert (plain(tool.name, IMPERIAL), plain(tool.name, METRIC)) == ("1 in circle punch", "25 mm circle punch")


# --- as written -------------------------------------------------------------------------------------------------------


def written(
    *lengths: tuple[str, Length], worked_out: frozenset[LengthId] = frozenset(), ruled: bool = True
) -> WrittenLengths:
    by_id = {LengthId("base", "across", name): length for name, length in lengths}

    def figures(system: System) -> dict[LengthId, Printed]:
        assert system is METRIC
        assert worked_out or not ruled, "figures were asked for although every length was written"
        return {
            name: write_exact(Length(Fraction(round(length.mm)), Unit.MILLIMETRE)) for name, length in by_id.items()
        }

    return WrittenLengths(Lengths(by_id, (), worked_out), catalogue(), figures)


def test_lengths_stand_as_they_were_written_and_no_figures_are_asked_for():
    one, other = Length.of(Fraction(5, 2), Unit.CENTIMETRE), Length.of(Fraction(3, 4), Unit.INCH)
    setter = written(("a", one), ("b", other), ("c", one))
    a, b, c = (LengthId("base", "across", name) for name in "abc")
    assert setter.single(b) == "3/4 in"
    assert setter.cross(a, b) == "2.5 cm x 3/4 in"
    assert setter.listed([a, b]) == "2.5 cm and 3/4 in"
    assert setter.added([a, c]) == "2.5 = 2.5 cm"
    assert (setter.alike([a, c]), setter.alike([a, b])) == (True, False)
    assert not setter.has(LengthId("base", "down", "size"))


def test_a_piece_that_was_worked_out_stands_as_the_page_prints_it():
    name = LengthId("base", "across", "a")
    setter = written(("a", Length(Fraction("60.3"), Unit.MILLIMETRE)), worked_out=frozenset({name}))
    assert setter.single(name) == "60 mm"


def test_what_no_ruler_shows_stands_as_the_page_prints_it():
    border = Length(Fraction(6400, 701), Unit.MILLIMETRE)
    setter = written(("a", border), ruled=False)
    assert setter.single(LengthId("base", "across", "a")) == "9 mm"


def test_the_least_room_is_never_rounded_up():
    wide, narrow = (write_exact(Length(Fraction(mm), Unit.MILLIMETRE)) for mm in ("62", "60"))
    room = least_room(wide, narrow, 2, Fraction("0.61"))
    assert room is not None
    assert room.plain == "0.6 mm"
    assert least_room(wide, narrow, 1, Fraction(2)) is None
