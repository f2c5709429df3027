"""The picture of a layout, read back as SVG: letters and numbers are those of the cuts, where they are made."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from itertools import combinations, pairwise

import pytest

from foldwright.document.catalogue import catalogue
from foldwright.event.document.cutting import cutting_paper
from foldwright.event.document.model import CutWork, SheetPicture
from foldwright.event.document.writing import EventSource
from foldwright.event.render.marks import TEXTURES, hatch, texture
from foldwright.event.render.pictures import one_scale, sheet_picture
from foldwright.measure.length import System
from foldwright.pack.cutting.model import Arrangement
from workbench.practice_event import INCHES, METRIC, event_of

type Box = tuple[float, float, float, float]
"""Left, top, width, height."""


@pytest.fixture(scope="module", params=["inches", "millimetres, ragged"])
def pictures(request: pytest.FixtureRequest) -> list[SheetPicture]:
    made = (
        event_of(INCHES, System.IMPERIAL, 23) if request.param == "inches" else event_of(METRIC, System.METRIC, 23, 3)
    )
    paper = cutting_paper(EventSource(made, (), catalogue()))
    assert paper is not None
    return [part.picture for part in paper.parts if isinstance(part, CutWork)]


def drawn(picture: SheetPicture) -> tuple[ET.Element, list[tuple[str, Box]]]:
    """The picture, and its badges: what stands in each, and its box."""
    svg, _, _ = sheet_picture(picture, 66.0, 75.0)
    root = ET.fromstring(svg)
    marks = list(root)
    badges = [
        (text.text or "", box_of(rect))
        for rect, text in pairwise(marks)
        if rect.get("rx") and text.tag.endswith("text")
    ]
    return root, badges


def box_of(rect: ET.Element) -> Box:
    left, top, width, height = (float(rect.get(side, "nan")) for side in ("x", "y", "width", "height"))
    return left, top, width, height


def sheet_of(root: ET.Element) -> Box:
    return box_of(next(one for one in root if one.tag.endswith("rect")))


def test_every_strip_of_the_cuts_has_its_letter_and_every_cut_its_number(pictures: list[SheetPicture]) -> None:
    for picture in pictures:
        _, badges = drawn(picture)
        cuts = picture.worked.cuts
        said = {mark for mark, _ in badges}
        named = {part.letter for cut in cuts for part in (cut.part, cut.left.part) if part and part.letter}
        assert {mark for mark in said if mark.isalpha()} == named
        assert {int(mark) for mark in said if mark.isdigit()} == {cut.number for cut in cuts}


def test_a_number_stands_on_the_line_of_its_cut(pictures: list[SheetPicture]) -> None:
    for picture in pictures:
        root, badges = drawn(picture)
        left, top, width, _ = sheet_of(root)
        scale = width / float(picture.width)
        for mark, (x, y, wide, high) in badges:
            if not mark.isdigit():
                continue
            middle = x + wide / 2, y + high / 2
            lines = [line for line in picture.worked.lines if line.number == int(mark)]
            assert any(
                abs(middle[0] - (left + float(line.left) * scale)) < 0.02
                if line.row is Arrangement.ACROSS
                else abs(middle[1] - (top + float(line.top) * scale)) < 0.02
                for line in lines
            )


def test_no_badge_covers_another_and_all_are_in_the_picture(pictures: list[SheetPicture]) -> None:
    for picture in pictures:
        root, badges = drawn(picture)
        _, _, wide, high = map(float, root.get("viewBox", "").split())
        for _, (x, y, width, height) in badges:
            assert x >= 0 and y >= 0 and x + width <= wide and y + height <= high
        for (one, a), (other, b) in combinations(badges, 2):
            apart = a[0] + a[2] <= b[0] + 0.02 or b[0] + b[2] <= a[0] + 0.02
            assert apart or a[1] + a[3] <= b[1] + 0.02 or b[1] + b[3] <= a[1] + 0.02, (one, other)


def test_a_name_too_long_for_its_piece_stands_in_a_key() -> None:
    facts = {**INCHES, "label": "1/2 x 1/2 in"}
    made = event_of(facts, System.IMPERIAL, 3)
    paper = cutting_paper(EventSource(made, (), catalogue()))
    assert paper is not None
    pictures = [part.picture for part in paper.parts if isinstance(part, CutWork)]
    picture = next(one for one in pictures if 2 in one.whole.pieces())
    long = "a label with a name that is much longer than the label itself"
    root, _ = drawn(
        SheetPicture(
            **{name: getattr(picture, name) for name in picture.__struct_fields__} | {"names": ("base", "band", long)}
        )
    )
    texts = [one.text or "" for one in root if one.tag.endswith("text")]
    pieces = picture.whole.pieces()
    assert texts.count("base") == pieces.count(0)
    assert 1 < texts.count("a") <= pieces.count(2) + 1
    key = texts.index("a", len(texts) - 1 - texts[::-1].index("a"))
    assert " ".join(texts[key + 1 :]) == long


def test_fence_and_stop_lie_where_the_first_cut_with_a_stop_has_them(pictures: list[SheetPicture]) -> None:
    for picture in pictures:
        root, _ = drawn(picture)
        left, top, width, height = sheet_of(root)
        first = next(cut for cut in picture.worked.cuts if not cut.trim)
        said = {
            text.text: (float(text.get("x", "nan")), float(text.get("y", "nan"))) for text in root.iter() if text.text
        }
        over, beside = ("fence", "stop") if first.fence_is_top else ("stop", "fence")
        assert left < said[over][0] < left + width and said[over][1] < top
        assert said[beside][0] < left and top < said[beside][1] < top + height


def test_sheets_of_a_plan_are_drawn_at_one_scale() -> None:
    made = event_of({**INCHES, "sheet": "12 x 12 in or 8 1/2 x 11 in"}, System.IMPERIAL, 23)
    paper = cutting_paper(EventSource(made, (), catalogue()))
    assert paper is not None
    sheets = [part.picture for part in paper.parts if isinstance(part, CutWork)]
    scale = one_scale(sheets, 66.0, 75.0)
    for picture in sheets:
        svg, wide, high = sheet_picture(picture, 66.0, 75.0, scale)
        _, _, width, height = sheet_of(ET.fromstring(svg))
        assert (width, height) == pytest.approx((float(picture.width) * scale, float(picture.height) * scale), abs=0.01)
        assert wide <= 66.01 and (high <= 75.01 or "label" in picture.names)


def test_kinds_of_pieces_and_waste_differ_without_any_colour() -> None:
    spot = (3.0, 4.0, 23.0, 24.0)
    drawn_on = [texture(kind, spot, "#000") for kind in range(TEXTURES)] + [hatch(spot, "#000")]
    assert len(set(drawn_on)) == TEXTURES + 1
    assert drawn_on[0] == ""


def test_a_texture_stays_in_its_piece() -> None:
    """Every end of every line, read back: `M` to a point, `L` to another, `H`, `V` and `h` along."""
    left, top, right, bottom = spot = (3.0, 4.0, 23.0, 9.0)
    for path in (*(texture(kind, spot, "#000") for kind in range(1, TEXTURES)), hatch(spot, "#000")):
        lines = re.findall(r"M([\d.]+) ([\d.]+)([LHVh])([\d.]+)(?: ([\d.]+))?", path)
        assert lines
        for x, y, how, a, b in lines:
            ends = {"L": (a, b or "nan"), "H": (a, y), "V": (x, a), "h": (str(float(x) + float(a)), y)}[how]
            for across, down in ((x, y), ends):
                assert left - 0.01 <= float(across) <= right + 0.01
                assert top - 0.01 <= float(down) <= bottom + 0.01
