"""The fragment: what a blog's sanitiser keeps is what was written; pictures beside it; numbers as plain text."""

from __future__ import annotations

import io
import re
from collections.abc import Sequence
from functools import cache

import html5lib
import nh3
import pytest
from msgspec.structs import replace
from PIL import Image, ImageChops

from foldwright.document.model import Document, Picture, Readiness
from foldwright.document.words import MeasureInWords
from foldwright.measure.length import System
from foldwright.recipe.words import (
    Break,
    Code,
    Emphasis,
    Items,
    Link,
    Paragraph,
    Preformatted,
    Quote,
    Rule,
    Strong,
    Subheading,
    flat_runs,
)
from foldwright.render.drawing.label import EITHER, GAP
from foldwright.render.photos import ReadyPhoto
from foldwright.render.web import blog_pictures
from foldwright.render.web.blog_pictures import SHARP, WIDTH, BlogDrawing, draw_for_blog
from foldwright.render.web.fragment import fragment
from workbench.compiled import DEMOS, demo, small
from workbench.handmade import birdhouse, plain_drawing, run
from workbench.long import every

PHOTO = {"finished.png": ReadyPhoto(b"not looked at here", "png", 1160, 840)}


def quick_drawing(picture: Picture, systems: Sequence[System]) -> BlogDrawing:
    return BlogDrawing(plain_drawing(picture, systems[0]), tells_all=False)


def rich() -> Document:
    """The birdhouse with every kind of words in one step."""
    sheet = birdhouse()
    item = (Paragraph(run("item")),)
    words = (
        Paragraph((Strong(run("bold")), Emphasis(run("slanted")), Break(), Code("a < b & c"))),
        Paragraph((Link("https://harbourstreet.example/?a=1&b=2", run("a link")),)),
        Items(True, (item, (*item, Items(False, (item,))))),
        Quote(item),
        Subheading(3, run("A heading & more")),
        Preformatted("x < y\n  z"),
        Rule(),
    )
    return replace(sheet, steps=(replace(sheet.steps[0], wordings=(words,)), *sheet.steps[1:]))


def tree(html: str) -> str:
    """One serialisation of what a browser reads."""
    parsed = html5lib.parseFragment(html)
    return html5lib.serialize(
        parsed, omit_optional_tags=False, quote_attr_values="always", alphabetical_attributes=True
    )


@pytest.mark.parametrize("at", ["", "https://harbourstreet.example/pictures"])
def test_a_sanitiser_finds_nothing_to_take_away(at):
    html = fragment(rich(), PHOTO, pictures_at=at, draw=quick_drawing).html
    assert tree(nh3.clean(html)) == tree(html)
    html5lib.HTMLParser(strict=True).parseFragment(html)


def test_the_comparison_notices_what_is_taken_away():
    assert tree(nh3.clean('<p style="x">a</p>')) != tree('<p style="x">a</p>')


def test_pictures_are_files_of_twice_the_width_they_are_shown_and_all_are_named():
    made = fragment(birdhouse(), PHOTO, draw=quick_drawing)
    assert set(re.findall(r'(?:src|href)="([^":]+)"', made.html)) == set(made.files) == {"photo-1.png", "1-base.png"}
    assert Image.open(io.BytesIO(made.files["1-base.png"])).width == SHARP * WIDTH == 1200


def test_a_picture_has_a_width_and_keeps_its_shape_where_a_blog_narrows_it():
    tags = re.findall("<img [^>]+>", fragment(birdhouse(), PHOTO, draw=quick_drawing).html)
    assert len(tags) == 2
    assert all('width="600"' in tag and "height" not in tag for tag in tags)
    narrow = ReadyPhoto(b"not looked at here", "png", 400, 300)
    assert 'width="400"' in fragment(birdhouse(), {"finished.png": narrow}, draw=quick_drawing).html


def test_the_pictures_can_lie_elsewhere():
    html = fragment(birdhouse(), PHOTO, pictures_at="https://a.example/p", draw=quick_drawing).html
    assert re.findall(r'src="([^"]+)"', html)[0] == "https://a.example/p/photo-1.png"
    assert fragment(birdhouse(), PHOTO, pictures_at="/p/", draw=quick_drawing).html.count('src="/p/') == 2


@cache
def quickly(name: str) -> str:
    return fragment(demo(name), {}, draw=quick_drawing).html


@pytest.mark.parametrize("name", DEMOS)
def test_the_finished_thing_comes_first_and_no_picture_twice(name):
    html = quickly(name)
    pictures = re.findall(r'<img src="([^"]+)"', html)
    assert pictures[0] == "finished.png"
    assert html.index("<img") < html.index("<em>")
    assert len(pictures) == len(set(pictures)) <= 1 + len(demo(name).steps)
    assert not set(re.findall(r'<img src="[0-9]-([^"]+).png"', html)) & {"wrapper", "cover", "label", "panel"}


def test_a_plan_stands_at_the_step_that_scores_its_piece_and_says_what_a_drawing_there_would():
    html = quickly("keepsake-box")
    steps = dict(zip(*[iter(re.split(r"<h3>([0-9])", html)[1:])] * 2, strict=True))
    assert re.findall("<img", steps["1"]) == []
    assert re.findall(r'src="([^"]+)"', steps["2"]) == ["1-base.png"]
    assert re.findall(r'src="([^"]+)"', steps["3"]) == ["2-lid.png"]
    # What is snipped off the flaps is on no plan.
    assert re.findall(r'src="([^"]+)"', steps["4"]) == ["step-4-1.png"]


def test_a_caption_says_what_to_do_unless_the_words_beside_it_say_the_same():
    html = quickly("drawer-box")
    assert "<br><em>Thread the satin ribbon through the hole in the drawer.</em></p>" in html
    document = demo("drawer-box")
    (thread,) = (one for one in document.steps if one.number == 5)
    headed = replace(document, steps=(replace(thread, heading=thread.pictures[0].title),))
    assert "<br>" not in fragment(headed, {}, draw=quick_drawing).html


@pytest.mark.parametrize(
    ("name", "systems"),
    [*((name, tuple(System)) for name in every(DEMOS, 2)), *(("twine-tag", (system,)) for system in System)],
)
def test_every_measure_of_a_piece_is_there_in_words_in_every_system(name, systems):
    document = demo(name)
    said = words_of(fragment(document, {}, systems).html)
    for piece in document.pieces:
        told = [piece.size, *(measure for line in (*piece.work, *piece.lies) for measure in measures_in(line))]
        told += [panel.length.printed for panel in (*piece.panels_across, *piece.panels_down)]
        for system in systems:
            missing = [one.of(system).plain for one in told if one and one.of(system).plain not in said]
            assert not missing, (piece.name, missing)


@pytest.mark.parametrize("name", DEMOS)
def test_every_caution_is_there_once(name):
    """What holds for the finished thing before the steps, what a tool asks for where it is first used."""
    document = demo(name)
    assert document.cautions
    before, steps = quickly(name).split(f"<h2>{document.labels['steps']}</h2>")
    for caution in document.cautions:
        told, other = (steps, before) if caution.reminder else (before, steps)
        said = caution.reminder or caution.brief
        # An author's own words may say all of a reminder, which is left out then.
        own = caution.reminder and not any(caution in step.cautions for step in document.steps)
        assert (told.count(said), other.count(said)) == (0 if own else 1, 0)


def measures_in(line):
    return [run.phrases for run in flat_runs(line) if isinstance(run, MeasureInWords)]


def words_of(html: str) -> str:
    """What is read and what is read out, in ordinary letters, each picture's words in its place."""
    seen = re.sub(r'<img[^>]* alt="([^"]*)"[^>]*>', r"\1", html)
    return re.sub("<[^>]+>", "", seen).replace("\u00a0", " ").replace("×", "x")


def test_the_words_leave_out_what_is_only_in_the_code():
    assert words_of('<p class="1 in"><img src="2 in" alt="3&nbsp;in"> 4 × 5</p>') == "3&nbsp;in 4 x 5"


@pytest.mark.parametrize("own", ["base", "lid"])
def test_one_drawing_has_the_lengths_of_both_systems(own):
    piece = next(piece for piece in demo("keepsake-box").pieces if piece.name == own)
    drawing = draw_for_blog(piece.picture, (System.IMPERIAL, System.METRIC))
    letters = re.sub("<[^>]+>", "", drawing.svg).replace(GAP, "")
    assert drawing.tells_all
    for name, inches in {"base": "5½in / 140mm", "lid": "4⅝in / 117mm"}.items():
        assert (inches in letters) == (name == own)
    alone = draw_for_blog(piece.picture, (System.METRIC,))
    assert alone.tells_all
    assert EITHER not in alone.svg


def test_the_sides_of_a_slot_share_their_unit_in_either_system():
    slot = next(one for one in demo("drawer-box").pieces if one.name == "drawer").picture
    wide = replace(slot, scene=replace(slot.scene, dimensions=()))
    letters = re.sub("<[^>]+>", "", draw_for_blog(wide, (System.METRIC, System.IMPERIAL)).svg).replace(GAP, "")
    assert "8 × 2mm / ⁵⁄₁₆ × ¹⁄₁₆in" in letters


def test_where_both_find_no_room_the_recipe_s_own_is_drawn_and_the_other_is_in_the_list():
    crowded = small(
        "  tag:\n    from: card\n    size: 60 x 20 mm\n    across: 3 | 5 | 7 | 4 | 6 | 3 | 5 | 7 | 4 | 6 | 3 | 7\n",
        "## Score\n\n```step\ndo: cut and score tag\n```\n\nScore the tag.",
    )
    piece = next(one for one in crowded.pieces if one.name == "tag")
    drawing = draw_for_blog(piece.picture, (System.METRIC, System.IMPERIAL))
    assert not drawing.tells_all
    assert EITHER not in drawing.svg
    assert "Score from top to bottom" in fragment(crowded, {}).html


def test_numbers_are_plain_text_with_the_other_system_in_brackets():
    html = fragment(birdhouse(), {}, draw=quick_drawing).html
    assert "Cut the charcoal card to 5\u00a0×\u00a04\u00a01/4\u00a0in (127\u00a0×\u00a0107\u00a0mm)." in html
    assert "span" not in html
    metric = fragment(birdhouse(), {}, (System.METRIC,), draw=quick_drawing).html
    assert "Cut the charcoal card to 127\u00a0×\u00a0107\u00a0mm." in metric
    assert "\u00a0in" not in metric


def test_a_draft_says_so():
    assert (
        "not ready to hand out" in fragment(replace(birdhouse(), standing=Readiness.DRAFT), {}, draw=quick_drawing).html
    )


def test_what_an_author_writes_is_only_text():
    hostile = "<img src=x onerror=alert(1)>"
    sheet = birdhouse()
    sheet = replace(sheet, head=replace(sheet.head, summary=run(hostile), credit=hostile, makes=hostile))
    html = fragment(sheet, {}, draw=quick_drawing).html
    assert hostile not in html
    assert html.count("&lt;img src=x onerror=alert(1)&gt;") == 3


def test_the_same_bytes_every_time():
    assert fragment(birdhouse(), PHOTO, draw=quick_drawing) == fragment(birdhouse(), PHOTO, draw=quick_drawing)


def test_figures_that_run_from_a_corner_are_drawn_in_every_system():
    """Of a form that is worked out no words have them."""
    bag = small(
        "  carton:\n    from: card\n    fold: gable-top\n    finished: 40 x 30 x 50 mm\n",
        "## Fold\n\n```step\ndo: cut, score and fold carton\n```\n\nFold it.",
    )
    html = fragment(bag, {}, draw=quick_drawing).html
    assert re.findall(r'src="([0-9]-carton[^"]*)"', html) == ["2-carton.png", "2-carton-imperial.png"]


# --- how pictures become pixels ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("number", [0, 3, 6])
def test_what_is_blank_at_the_sides_is_left_out_of_the_drawing_and_nothing_else(number: int) -> None:
    """Held against the whole of it drawn at once, which may round an edge otherwise, by tones nobody sees."""
    picture = [one for step in demo("birdhouse").steps for one in step.pictures][number]
    svg = draw_for_blog(picture, (System.IMPERIAL, System.METRIC)).svg
    opening = blog_pictures._OPENING.match(svg)
    assert opening
    whole, ours = blog_pictures._between(opening, 0, 100, 12), blog_pictures._pixels(svg, SHARP * WIDTH)
    assert ours.size == whole.size
    different = ImageChops.difference(ours.convert("L"), whole.convert("L")).histogram()
    assert sum(different[1:]) <= 30
    assert sum(different[32:]) == 0


def test_the_finest_line_at_the_very_side_is_drawn() -> None:
    lines = '<path d="M0.06 4L0.06 6M99.94 4L99.94 6" stroke="#777" stroke-width="0.12"/>'
    svg = f'<svg width="100.00mm" height="10.00mm" viewBox="0 0 100.00 10.00" xmlns="http://www.w3.org/2000/svg">{lines}</svg>'
    ours = blog_pictures._pixels(svg, SHARP * WIDTH).convert("L")
    assert ours.size == (1200, 120)
    assert [ours.getpixel((x, 60)) == 255 for x in (0, 1, 3, 600, 1196, 1198, 1199)] == [
        False,
        False,
        *[True] * 3,
        False,
        False,
    ]


def test_an_empty_drawing_is_white() -> None:
    svg = '<svg width="100.00mm" height="10.00mm" viewBox="0 0 100.00 10.00" xmlns="http://www.w3.org/2000/svg"></svg>'
    assert blog_pictures._pixels(svg, SHARP * WIDTH).getcolors() == [(1200 * 120, (255, 255, 255, 255))]
