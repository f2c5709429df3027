"""Lines beside an outline, told apart by layers: read, fitted, folded as `lines:` are, or refused."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from foldwright.document.catalogue import catalogue
from foldwright.geometry.folding.folded import fold
from foldwright.geometry.outlines.svg import Outline, Refused, read_outline
from foldwright.outputs.piece_files import piece_files
from foldwright.pipeline import Checked, check_recipe

CASES = Path(__file__).parent.parent / "cases" / "outlines"
HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="60mm" viewBox="0 0 80 60">'
EDGE = '<rect width="80" height="60"/>'
FOLD = '<path d="M0 30H80"/>'
LABEL = 'xmlns:any="https://harbourstreet.example/any" any:label'


def drawn(inner: str) -> Outline:
    found = read_outline(f"{HEAD}{EDGE}{inner}</svg>".encode())
    assert isinstance(found, Outline), found
    return found


def refused(inner: str) -> Refused:
    found = read_outline(f"{HEAD}{EDGE}{inner}</svg>".encode())
    assert isinstance(found, Refused), found
    return found


def checked(recipe: Path) -> Checked:
    text = (recipe / "recipe.md").read_text()
    return check_recipe(text, "recipe.md", "recipe", read=lambda name, most: (recipe / name).read_bytes())


@pytest.mark.parametrize(
    ("layer", "kind"),
    [
        ('id="score"', "score"),
        ('id="Scores"', "score"),
        ('id="score-2"', "score"),
        ('id="SCORE_2_"', "score"),
        ('id="valley folds"', "valley"),
        ('id="layer1" class="line mountain"', "mountain"),
        ('id="layer1" data-name="Perforations"', "perforation"),
        (f'id="g12" {LABEL}="Mountain folds "', "mountain"),
        (f'id="cut" {LABEL}="valley"', "valley"),
        ('id="perforation"', "perforation"),
        ('id="cuts"', "cut"),
    ],
)
def test_a_layer_is_known_by_its_label_class_or_id(layer: str, kind: str) -> None:
    (line,) = drawn(f"<g {layer}>{FOLD}</g>").lines
    assert (line.kind, line.runs, line.angle) == (kind, (((0, 30), (80, 30)),), None)


def test_the_innermost_name_counts_and_an_element_may_have_its_own() -> None:
    inner = f'<g id="score"><g id="valley">{FOLD}<path id="mountain-3" d="M40 0V60"/></g><path d="M20 0V60"/></g>'
    assert [line.kind for line in drawn(inner).lines] == ["valley", "mountain", "score"]


def test_an_opening_may_lie_in_a_cut_layer_and_a_line_there_is_a_slit() -> None:
    found = drawn('<g id="cut"><circle cx="40" cy="15" r="5"/><path d="M10 40H30"/></g>')
    assert len(found.inner) == 1
    assert [line.kind for line in found.lines] == ["cut"]


@pytest.mark.parametrize(
    ("layer", "angle"),
    [
        ('class="valley-90"', 90),
        ('class="mountain-90"', -90),
        ('id="valley-2"', None),
        ('id="mountain 60 degrees"', -60),
        ('id="mountain" data-angle="72.5"', Fraction(-145, 2)),
        ('id="score" data-angle="-30°"', -30),
        ('id="valley" data-angle="-30"', -30),
        ('id="perforation" data-angle="30"', None),
    ],
)
def test_an_angle_is_said_by_a_class_or_by_data_angle(layer: str, angle: Fraction | None) -> None:
    assert drawn(f"<g {layer}>{FOLD}</g>").lines[0].angle == angle


def test_a_line_with_corners_is_so_many_folds_and_a_curve_is_one() -> None:
    straight = drawn('<polyline id="score" points="0,10 40,10 40,60"/>').lines[0]
    assert straight.runs == (((0, 10), (40, 10)), ((40, 10), (40, 60)))
    mixed = drawn('<path id="score" d="M0 20H20C30 20 50 40 60 40H80"/>').lines[0]
    assert [len(run) > 2 for run in mixed.runs] == [False, True, False]
    assert (mixed.runs[1][0], mixed.runs[1][-1]) == ((20, 20), (60, 40))
    box = drawn('<rect id="score" x="10" y="10" width="20" height="10"/>').lines[0]
    assert len(box.runs) == 4 and box.runs[-1][-1] == (10, 10)


def test_lines_lie_where_the_file_draws_them_whatever_moves_them_there() -> None:
    moved = drawn('<g id="valley" transform="translate(10 5) rotate(90)"><path d="M0 0L20 -30"/></g>').lines[0]
    (run,) = moved.runs
    assert run[0] == pytest.approx((10, 5)) and run[1] == pytest.approx((40, 25))


def test_lines_are_fitted_with_their_outline_and_keep_their_share_of_it() -> None:
    data = f'{HEAD}<rect x="5" y="5" width="70" height="50"/><path id="valley" d="M5 15H75"/></svg>'.encode()
    recipe = RECIPE.format(size="    size: 140 x 100 mm\n")
    found = check_recipe(recipe, "r.md", "r", read=lambda name, most: data)
    assert found.understood is not None
    (line,) = found.understood.flat.blanks[0].drawn
    assert line.points == ((0, 20), (140, 20)) and line.kind == "valley"


RECIPE = """---
title: Tag
makes: 1 tag
supplies:
  card: cardstock, sheet A4
pieces:
  tag:
    from: card
{size}    outline: tag.svg
---

## Cut

do: cut tag

Cut it.
"""

REFUSALS = {
    "outline-layer-unknown": f'<g id="moutain">{FOLD}</g>',
    "outline-angle": f'<g id="valley" data-angle="steep">{FOLD}</g>',
    "outline-glue-open": '<path id="glue-1" d="M10 10H20V20"/>',
}


@pytest.mark.parametrize("code", REFUSALS)
def test_what_cannot_be_used_is_told_with_the_file_the_element_and_a_remedy(code: str) -> None:
    data = f"{HEAD}{EDGE}{REFUSALS[code]}</svg>".encode()
    found = check_recipe(RECIPE.format(size=""), "r.md", "r", read=lambda name, most: data)
    (finding,) = [one for one in found.findings if one.code == code]
    facts = dict(finding.facts)
    for part in ("says", "remedy"):
        said = catalogue().say(f"{code}.{part}", **facts)
        assert "{" not in said
    assert "tag.svg" in catalogue().say(f"{code}.says", **facts)


@pytest.mark.parametrize(
    ("name", "nearest"), [("moutain", "mountain"), ("scroe", "score"), ("valeys", "valley"), ("Folds", "score")]
)
def test_a_name_nearly_right_is_told_with_the_nearest(name: str, nearest: str) -> None:
    assert dict(refused(f'<g id="{name}">{FOLD}</g>').facts)["nearest"] == nearest


@pytest.mark.parametrize("angle", ["181", "ninety", "1e2"])
def test_an_angle_nothing_folds_to_is_refused(angle: str) -> None:
    assert refused(f'<g id="score" data-angle="{angle}">{FOLD}</g>').code == "outline-angle"


@pytest.mark.parametrize("name", ["Layer 1", "artwork", "path1234", "cutout", "glue stick", "core drawing"])
def test_any_other_name_says_nothing_and_an_open_line_there_is_told(name: str) -> None:
    found = drawn(f'<g id="{name}">{FOLD}</g>')
    assert (found.lines, found.unnamed) == ((), 1)


def test_a_layer_that_is_switched_off_is_not_drawn() -> None:
    found = drawn(f'<g id="score" style="fill:none; display : none">{FOLD}</g>')
    assert (found.lines, found.unnamed) == ((), 0)


def test_a_box_drawn_in_layers_folds_as_the_same_box_with_lines() -> None:
    """The lines of the recipe were written by another hand than the layers: where every panel comes to lie agrees."""
    layered, lined = (checked(CASES / name) for name in ("tuck-box", "tuck-box-with-lines"))
    assert [one.code for one in layered.findings] == [one.code for one in lined.findings]
    shapes = []
    for found in (layered, lined):
        assert found.understood is not None
        folded = fold(found.understood.folding.nets["box"])
        shapes.append(
            sorted(tuple(round(at, 6) for at in spot) for n, _ in folded.panels for spot in folded.corners(n))
        )
    assert len(shapes[0]) > 50 and shapes[0] == shapes[1]
    assert layered.understood is not None
    kinds = [line.kind for line in layered.understood.flat.blanks[0].drawn]
    assert kinds.count("glue area") == 1 and kinds.count("mountain") == 12


def test_angles_may_be_listed_by_the_fold_instead() -> None:
    data = f'{HEAD}{EDGE}<path id="mountain-1" d="M0 20H80"/><path id="valley-2" d="M0 40H80"/></svg>'.encode()
    recipe = RECIPE.format(size="    fold: -90, 90\n")
    found = check_recipe(recipe, "r.md", "r", read=lambda name, most: data)
    assert found.understood is not None
    net = found.understood.folding.nets["tag"]
    assert sorted(crease.angle for crease in net.creases) == [-90, 90]
    short = check_recipe(RECIPE.format(size="    fold: 90\n"), "r.md", "r", read=lambda name, most: data)
    assert "angles-and-scores" in [one.code for one in short.findings]


def test_a_fold_that_stops_midway_is_told_where_the_outline_is_named() -> None:
    data = f'{HEAD}{EDGE}<path id="mountain" data-angle="90" d="M0 20H50"/></svg>'.encode()
    text = RECIPE.format(size="")
    found = check_recipe(text, "r.md", "r", read=lambda name, most: data)
    (finding,) = [one for one in found.findings if one.code == "fold-stops-midway"]
    assert finding.place is not None and text[finding.place.start :].startswith("tag.svg")


def test_glue_over_a_window_is_told_where_the_outline_is_named() -> None:
    inner = '<circle cx="40" cy="30" r="10"/><g id="glue"><rect x="25" y="20" width="30" height="20"/></g>'
    holed = RECIPE.format(size="    holes: round 8 mm, middle 10 mm from the left, centred\n")
    data = f'{HEAD}{EDGE}{inner}<rect id="glue-2" x="2" y="22" width="16" height="16"/></svg>'.encode()
    found = check_recipe(holed, "r.md", "r", read=lambda name, most: data)
    (finding,) = [one for one in found.findings if one.code == "glue-over-opening"]
    assert finding.place is not None and holed[finding.place.start :].startswith("tag.svg")


@pytest.mark.parametrize("layer", ["cut", "score", "valley", "mountain", "perforation", "glue"])
def test_nothing_drawn_in_any_layer_is_more_than_a_finding(layer: str) -> None:
    """Circles, crossings, lines beyond the edge, points: told or drawn, never a traceback, and built to the end."""
    inner = (
        '<circle cx="40" cy="30" r="10"/><path d="M-20 10H200"/><path d="M5 5L5 5"/>'
        '<path d="M10 50C20 20 30 80 60 40"/>'
        '<polyline points="10,10 30,30 10,30 30,10"/><rect x="60" y="5" width="15" height="9" rx="2"/>'
    )
    data = f'{HEAD}{EDGE}<g id="{layer}">{inner}</g></svg>'.encode()
    found = check_recipe(RECIPE.format(size=""), "r.md", "r", read=lambda name, most: data)
    told = {one.code for one in found.findings}
    if found.understood is not None and not any(code.startswith("outline-") for code in told):
        assert piece_files(found.understood).files


def test_a_number_that_may_be_an_angle_is_asked_about() -> None:
    text = RECIPE.format(size="")

    def told(layer: str) -> list[str]:
        data = f"{HEAD}{EDGE}<g {layer}>{FOLD}</g></svg>".encode()
        found = check_recipe(text, "r.md", "r", read=lambda name, most: data)
        return [one.code for one in found.findings if one.code == "outline-number-or-angle"]

    assert told('id="valley 90"') == told('id="mountain_45"') == ["outline-number-or-angle"]
    flat = (
        'id="valley-2"',
        'id="score-90"',
        'id="valley 90 degrees"',
        'class="valley-90"',
        'id="valley 90" data-angle="90"',
    )
    assert not any(map(told, flat))
