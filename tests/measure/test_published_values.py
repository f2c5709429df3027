"""Inches and millimetres, papers and weights against what standards and handbooks print."""

from __future__ import annotations

from fractions import Fraction

import pint
import pytest

from foldwright.figures.closing import close
from foldwright.geometry.lengths import LengthId, Lengths
from foldwright.measure.length import Length, System, Unit
from foldwright.measure.paper import named_sheet
from foldwright.measure.reading import read_length
from foldwright.measure.steps import FARTHEST, STEPS, nearest
from foldwright.measure.weight import GRADES, grammage


def inches(text: str) -> Fraction:
    length = read_length(text, Unit.INCH)
    assert isinstance(length, Length)
    return length.mm


# --- lengths ----------------------------------------------------------------------------------------------------

# Fraction rows of the inch-to-millimetre tables that handbooks print (four decimals there; exact here). The inch is
# 25.4 mm exactly: international yard and pound agreement of 1 July 1959 (NBS Circular 572, addendum of 1960).
HANDBOOK = {
    "1/64": "0.396875", "1/32": "0.79375", "1/16": "1.5875", "1/8": "3.175", "3/16": "4.7625", "1/4": "6.35",
    "5/16": "7.9375", "3/8": "9.525", "7/16": "11.1125", "1/2": "12.7", "9/16": "14.2875", "5/8": "15.875",
    "11/16": "17.4625", "3/4": "19.05", "13/16": "20.6375", "7/8": "22.225", "15/16": "23.8125", "1 1/2": "38.1",
    "3 5/8": "92.075", "4 1/8": "104.775", "4 1/4": "107.95", "5 1/2": "139.7", "4 3/8": "111.125",
    "5 3/4": "146.05", "4 3/4": "120.65", "6 1/2": "165.1", "5 1/4": "133.35", "7 1/4": "184.15", "8 1/2": "215.9",
    "11": "279.4", "12": "304.8", "24": "609.6", "36": "914.4",
}  # fmt: skip


@pytest.mark.parametrize(("inch", "mm"), HANDBOOK.items())
def test_the_handbook_table_of_fractions(inch: str, mm: str) -> None:
    # `11/16` and the like lose their space easily and are asked about when they stand alone; here they are meant.
    value = Fraction(inch) if " " not in inch else inches(inch) / Unit.INCH.mm
    assert value * Unit.INCH.mm == Fraction(mm)


def test_two_rows_where_printed_tables_have_misprints() -> None:
    # 31/64 in is 12.3031 mm and 35/64 in is 13.8906 mm, .5469 in decimals (recomputed).
    assert round(Fraction(31, 64) * Unit.INCH.mm, 4) == Fraction("12.3031")
    assert round(Fraction(35, 64) * Unit.INCH.mm, 4) == Fraction("13.8906")


# A trade table of "practical millimetres" (kp44.org, decimal and fractional conversion tables); halves go down there.
WHOLE_MILLIMETRES = {
    "1/16": 2, "1/8": 3, "3/16": 5, "1/4": 6, "5/16": 8, "3/8": 10, "7/16": 11, "1/2": 13, "9/16": 14, "5/8": 16,
    "11/16": 17, "3/4": 19, "13/16": 21, "7/8": 22, "15/16": 24, "1": 25,
}  # fmt: skip


@pytest.mark.parametrize(("inch", "mm"), WHOLE_MILLIMETRES.items())
def test_whole_millimetres_as_the_trade_table_has_them(inch: str, mm: int) -> None:
    assert nearest(Fraction(inch) * Unit.INCH.mm, STEPS[System.METRIC][0]) == mm


# The same page the other way; its row for 1 mm (0) is a misprint: 1 mm is 0.63 sixteenths.
SIXTEENTHS = {2: "1/16", 3: "1/8", 4: "3/16", 5: "3/16", 6: "1/4", 7: "1/4", 8: "5/16", 9: "3/8", 10: "3/8", 11: "7/16"}


@pytest.mark.parametrize(("mm", "inch"), SIXTEENTHS.items())
def test_sixteenths_as_the_trade_table_has_them(mm: int, inch: str) -> None:
    assert nearest(Fraction(mm), STEPS[System.IMPERIAL][0]) == Fraction(inch) * Unit.INCH.mm


def test_rounding_loses_no_more_than_the_original_could_be_off() -> None:
    """NIST SP 811 (2008), B.7.2: 36 ft is 10.9728 m; written to the foot it may be off by half a foot in 36, 1.4 %.

    11.0 m keeps within that, and so does ours, which is nearer; 36 ft +- half a foot is the interval to stay in.
    """
    thirty_six_feet = read_length("36 ft")
    assert isinstance(thirty_six_feet, Length)
    assert thirty_six_feet.mm == Fraction("10972.8")
    name = LengthId("twine", "all", "length")
    printed = close(Lengths({name: thirty_six_feet}, ()), System.METRIC)[name]
    assert printed.plain == "10.973 m"
    assert abs(printed.mm - thirty_six_feet.mm) / thirty_six_feet.mm < Fraction(1, 72)
    assert abs(11000 - printed.mm) / printed.mm < Fraction(1, 72)


def test_steps_stay_within_what_a_cut_to_a_sixteenth_may_be_off() -> None:
    # A cut stated to 1/16 in may be off by 1/32 in, 0.794 mm: a whole millimetre moves no length by more than that.
    assert max(FARTHEST.values()) <= Unit.INCH.mm / 32
    assert {system: steps[0] / 2 for system, steps in STEPS.items()} == FARTHEST


def test_the_exact_table_of_units_against_pint() -> None:
    registry = pint.UnitRegistry(non_int_type=Fraction)
    for unit in Unit:
        assert registry.Quantity(Fraction(1), unit.symbol).to("millimetre").magnitude == unit.mm, unit


# --- papers -----------------------------------------------------------------------------------------------------

# ISO 216 (series A, B) and ISO 269 (series C), millimetres; C7 and C8 from memory.
ISO = {
    "A": ("841x1189", "594x841", "420x594", "297x420", "210x297", "148x210", "105x148", "74x105", "52x74"),
    "B": ("1000x1414", "707x1000", "500x707", "353x500", "250x353", "176x250", "125x176", "88x125", "62x88"),
    "C": ("917x1297", "648x917", "458x648", "324x458", "229x324", "162x229", "114x162", "81x114", "57x81"),
}


@pytest.mark.parametrize(
    ("name", "size"), [(f"{series}{n}", size) for series, sizes in ISO.items() for n, size in enumerate(sizes)]
)
def test_the_iso_series(name: str, size: str) -> None:
    expected = tuple(Length.of(int(side), Unit.MILLIMETRE) for side in size.split("x"))
    assert named_sheet(name) == expected
    assert named_sheet(name.lower()) == expected


# ASME Y14.1 (sheets), ISO 269 (DL, C6/C5), US announcement and commercial envelopes (trade practice, no standard).
NAMED = {
    "letter": ("8 1/2", "11"), "legal": ("8 1/2", "14"), "tabloid": ("11", "17"), "half letter": ("5 1/2", "8 1/2"),
    "ANSI C": ("17", "22"), "ANSI D": ("22", "34"), "ANSI E": ("34", "44"),
    "A1 envelope": ("3 5/8", "5 1/8"), "A2 envelope": ("4 3/8", "5 3/4"), "A6 envelope": ("4 3/4", "6 1/2"),
    "A7 envelope": ("5 1/4", "7 1/4"), "envelope A9": ("5 3/4", "8 3/4"), "#10": ("4 1/8", "9 1/2"),
    "No. 10 envelope": ("4 1/8", "9 1/2"), "#9": ("3 7/8", "8 7/8"), "Monarch envelope": ("3 7/8", "7 1/2"),
    "6 3/4 envelope": ("3 5/8", "6 1/2"),
}  # fmt: skip


@pytest.mark.parametrize(("name", "size"), NAMED.items())
def test_sheets_and_envelopes_named_in_inches(name: str, size: tuple[str, str]) -> None:
    sheet = named_sheet(name)
    assert sheet is not None
    assert tuple(length.mm for length in sheet) == tuple(inches(side) for side in size)
    assert {length.unit for length in sheet} == {Unit.INCH}


@pytest.mark.parametrize(("name", "size"), {"DL": (110, 220), "C6/C5": (114, 229), "C5 envelope": (162, 229)}.items())
def test_envelopes_named_in_millimetres(name: str, size: tuple[int, int]) -> None:
    sheet = named_sheet(name)
    assert sheet is not None
    assert tuple(length.mm for length in sheet) == size


@pytest.mark.parametrize("name", ["", "A11", "D4", "card", "envelope", "letter x", "A-", "10", "#"])
def test_what_is_no_named_sheet(name: str) -> None:
    assert named_sheet(name) is None


# --- weights ----------------------------------------------------------------------------------------------------

# HP LaserJet 5550 manual, "Weight equivalence": pounds of each grade, and g/m2 as printed.
ROWS = [
    {"bond": 20, "text": 50, "cover": 28, "bristol": 34, "index": 42, "tag": 46, "g": 75},
    {"bond": 24, "text": 60, "cover": 33, "bristol": 41, "index": 50, "tag": 55, "g": 90},
    {"bond": 28, "text": 70, "cover": 39, "bristol": 49, "index": 58, "tag": 65, "g": 105},
    {"bond": 32, "text": 80, "cover": 44, "bristol": 55, "index": 67, "tag": 74, "g": 120},
    {"bond": 36, "text": 90, "cover": 50, "bristol": 62, "index": 75, "tag": 83, "g": 135},
    {"bond": 39, "text": 100, "cover": 55, "bristol": 67, "index": 82, "tag": 91, "g": 148},
    {"bond": 43, "text": 110, "cover": 60, "bristol": 74, "index": 90, "tag": 100, "g": 163},
    {"bond": 47, "text": 119, "cover": 65, "bristol": 80, "index": 97, "tag": 108, "g": 176},
    {"bond": 51, "text": 128, "cover": 70, "bristol": 86, "index": 105, "tag": 117, "g": 190},
    {"bond": 53, "text": 134, "cover": 74, "bristol": 90, "index": 110, "tag": 122, "g": 199},
    {"bond": 58, "text": 146, "cover": 80, "bristol": 98, "index": 120, "tag": 133, "g": 216},
    {"bond": 65, "text": 165, "cover": 90, "bristol": 111, "index": 135, "tag": 150, "g": 244},
    {"bond": 67, "text": 171, "cover": 94, "bristol": 115, "index": 140, "tag": 155, "g": 253},
    {"bond": 72, "text": 183, "cover": 100, "bristol": 123, "index": 150, "tag": 166, "g": 271},
]
# What each row was made from, by its round figure: the grade whose exact weight the printed one is within 1 g/m2 of.
ROUND = {75: "bond", 90: "bond", 105: "bond", 120: "bond", 135: "cover", 148: "text", 163: "index", 176: "cover",
         190: "cover", 199: "index", 216: "cover", 244: "cover", 253: "index", 271: "cover"}  # fmt: skip


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['g']} g/m2")
def test_printed_weights_to_a_gram(row: dict[str, int]) -> None:
    made_from = ROUND[row["g"]]
    weight = grammage(Fraction(row[made_from]), "lb", made_from)
    assert weight is not None
    assert abs(weight - row["g"]) <= 1
    # The other columns are rounded to a whole pound, so they say the same within a pound and a gram.
    for grade, pounds in row.items():
        if grade != "g":
            low, high = (grammage(Fraction(pounds + by), "lb", grade) for by in (-1, 1))
            assert low is not None
            assert high is not None
            assert low - 1 < row["g"] < high + 1, grade


# Factors as printed: Xerox Nuvera paper guide, appendix A (offset 1.4802, cover 2.7042); printwiki.org, Grammage.
FACTORS = {"bond": "3.760", "text": "1.480", "offset": "1.4802", "cover": "2.7042", "index": "1.81", "tag": "1.627",
           "bristol": "2.19"}  # fmt: skip


@pytest.mark.parametrize(("grade", "factor"), FACTORS.items())
def test_printed_factors(grade: str, factor: str) -> None:
    weight = grammage(Fraction(1), "lb", grade)
    assert weight is not None
    decimals = len(factor.partition(".")[2])
    # Some guides cut the last decimal instead of rounding it.
    assert abs(weight - Fraction(factor)) < Fraction(1, 10**decimals)


def test_the_worked_examples_of_the_paper_guide() -> None:
    # Xerox Nuvera paper guide: 90 lb offset is 133.2 g/m2, 100 lb cover 270.42.
    assert round(grammage(Fraction(90), "lb", "offset") or 0, 1) == Fraction("133.2")
    assert abs((grammage(Fraction(100), "lb", "cover") or 0) - Fraction("270.42")) < Fraction(1, 50)


def test_the_weight_of_sheets() -> None:
    # Recomputed: an A4 sheet of 80 g/m2 is 4.9896 g (ISO 536: grammage is mass by area).
    a4 = named_sheet("A4")
    assert a4 is not None
    across, down = a4
    assert across.mm * down.mm * (grammage(Fraction(80), "g/m2") or 0) / 10**6 == Fraction("4.9896")


def test_calliper_is_grammage_times_bulk() -> None:
    """ISO 534: thickness in micrometres is grammage times bulk in cm3/g; a point is 0.001 in, 25.4 micrometres.

    Rows of a paper maker's table (mcgpaper.com, guide only): 75.2 g/m2 at 0.097 mm, 90.3 at 0.12, 105.35 at 0.147.
    Twenty pounds of bond must therefore lie between 3 and 5 points thick at the bulks these rows have.
    """
    bulks = [
        Fraction(thickness) * 1000 / Fraction(weight) for weight, thickness in (("75.2", "0.097"), ("90.3", "0.12"))
    ]
    assert [round(float(bulk), 2) for bulk in bulks] == [1.29, 1.33]
    bond = grammage(Fraction(20), "lb", "bond")
    assert bond is not None
    points = [bond * bulk / Fraction("25.4") for bulk in bulks]
    assert all(3 < point < 5 for point in points)


def test_what_has_no_weight() -> None:
    assert grammage(Fraction(110), "lb") is None
    assert grammage(Fraction(110), "lb", "velvet") is None
    assert grammage(Fraction(110), "stone", "cover") is None
    assert {grade: grammage(Fraction(110), "lb", grade) is not None for grade in GRADES} == dict.fromkeys(GRADES, True)


def test_one_number_of_pounds_is_many_weights() -> None:
    # Recomputed from the basic sizes, and as paper merchants print it.
    weights = {"cover": 297, "index": 199, "bond": 414, "text": 163, "tag": 179, "bristol": 241}
    assert {grade: round(grammage(Fraction(110), "lb", grade) or 0) for grade in weights} == weights
