"""Themes: three built in, single blocks overridden by a folder of the user's, nothing in them that can run."""

from __future__ import annotations

import base64
import hashlib
import re

import pytest

from foldwright.render.drawing.manner import DrawingManner
from foldwright.render.themes import Composition, ThemeError, built_in_themes, load_paper_theme, load_theme
from foldwright.render.web.tutorial import tutorial
from foldwright.surroundings import digest_of_look
from workbench.handmade import birdhouse, no_photo, plain_drawing


def page(theme: str) -> str:
    return tutorial(birdhouse(), theme, no_photo, draw=plain_drawing).decode("utf-8")


def test_there_are_three_and_each_has_a_dress_of_its_own():
    assert built_in_themes() == ("almanac", "harbour", "workbench")
    assert len({load_theme(name).style for name in built_in_themes()}) == 3


def test_a_folder_of_ones_own_changes_one_block_and_adds_to_the_style(tmp_path):
    (tmp_path / "theme.toml").write_text('parent = "almanac"\n')
    (tmp_path / "tutorial.html").write_text(
        '{% extends "theme/tutorial.html" %}'
        "{% block footer %}<footer>Printed by {{ page.head.studio }}</footer>{% endblock %}"
    )
    (tmp_path / "page.css").write_text("h1{color:rebeccapurple}")
    mine = page(str(tmp_path))
    assert "<footer>Printed by Harbour Street Paper Studio</footer>" in mine
    assert "colophon" not in mine.split("</style>")[1]
    assert "h1{color:rebeccapurple}</style>" in mine
    assert load_theme("almanac").style in mine
    assert mine.split("</style>")[1].split("<footer")[0] == page("almanac").split("</style>")[1].split("<footer")[0]


def test_a_style_of_ones_own_alone_will_do(tmp_path):
    (tmp_path / "page.css").write_text("h1{color:teal}")
    assert "h1{color:teal}" in page(str(tmp_path))


ATTEMPTS = (
    "{{ page.__class__.__mro__ }}",
    "{{ page.head.__init__.__globals__ }}",
    "{{ ''.__class__.__base__.__subclasses__() }}",
    "{{ page.steps.append(1) }}",
    "{{ cycler.__init__.__globals__.os.system('true') }}",
    "{{ 'x'.format.__self__.__class__.__mro__ }}",
)


@pytest.mark.parametrize("attempt", ATTEMPTS)
def test_a_theme_cannot_reach_beyond_what_it_is_given(tmp_path, attempt):
    from jinja2.exceptions import SecurityError, UndefinedError

    (tmp_path / "tutorial.html").write_text(
        '{% extends "theme/tutorial.html" %}{% block footer %}' + attempt + "{% endblock %}"
    )
    with pytest.raises(ThemeError) as told:
        page(str(tmp_path))
    assert told.value.code == "unreadable-theme"
    assert isinstance(told.value.__cause__, SecurityError | UndefinedError)


def test_a_theme_cannot_read_files_outside_its_folders(tmp_path):
    from jinja2.exceptions import TemplateNotFound

    (tmp_path / "secret.txt").write_text("secret")
    mine = tmp_path / "mine"
    mine.mkdir()
    (mine / "tutorial.html").write_text('{% include "../secret.txt" %}')
    with pytest.raises(ThemeError) as told:
        page(str(mine))
    assert isinstance(told.value.__cause__, TemplateNotFound)
    assert "secret" in str(told.value.facts["why"])


def test_what_cannot_be_used_is_named(tmp_path):
    with pytest.raises(ThemeError) as told:
        load_theme("harbor")
    assert (told.value.code, told.value.facts["themes"]) == ("no-such-theme", built_in_themes())
    (tmp_path / "theme.toml").write_text('parent = "harbor"')
    with pytest.raises(ThemeError, match="no-such-theme"):
        load_theme(str(tmp_path))


def test_a_folder_that_is_no_theme_is_named_and_not_read(tmp_path):
    (tmp_path / "photographs").mkdir()
    (tmp_path / "photographs" / "box.jpg").write_bytes(b"box")
    with pytest.raises(ThemeError, match="no-theme-there"):
        load_theme(str(tmp_path))
    before = digest_of_look(tmp_path)
    (tmp_path / "photographs" / "box.jpg").write_bytes(b"another")
    assert digest_of_look(tmp_path) == before
    (tmp_path / "page.css").write_text("p { color: red }")
    assert digest_of_look(tmp_path) != before
    assert "color: red" in load_theme(str(tmp_path)).style


def test_a_mistake_in_a_template_is_told_with_its_reason(tmp_path):
    (tmp_path / "tutorial.html").write_text("{% block %}")
    with pytest.raises(ThemeError) as told:
        load_theme(str(tmp_path))
    assert told.value.code == "unreadable-theme"
    assert told.value.facts["why"]


def test_a_face_that_is_not_there_is_named(tmp_path):
    (tmp_path / "theme.toml").write_text('fonts = ["comic"]')
    with pytest.raises(ThemeError, match="unknown-face"):
        load_theme(str(tmp_path))


def test_a_composition_that_is_not_there_is_named(tmp_path):
    (tmp_path / "theme.toml").write_text('composition = "heap"')
    with pytest.raises(ThemeError, match="unknown-composition"):
        load_theme(str(tmp_path))


def test_a_manner_of_drawing_that_is_not_there_is_named(tmp_path):
    (tmp_path / "theme.toml").write_text('drawing = "crayon"')
    with pytest.raises(ThemeError, match="unknown-drawing") as told:
        load_theme(str(tmp_path))
    assert told.value.facts["known"] == ("plain", "shadow", "engraved")


def test_a_theme_of_ones_own_is_composed_and_drawn_as_its_parent(tmp_path):
    (tmp_path / "theme.toml").write_text('parent = "almanac"')
    mine = load_paper_theme(str(tmp_path), "card")
    assert mine.composition is Composition.HOUSEHOLD_BOOK
    assert mine.drawing is DrawingManner.ENGRAVED


@pytest.mark.parametrize("name", ["almanac", "harbour", "workbench"])
def test_the_policy_allows_just_what_stands_in_the_page(name):
    html = page(name)
    policy = re.search(r'http-equiv="Content-Security-Policy" content="([^"]+)"', html)
    assert policy
    allowed = policy[1].replace("&#39;", "'")
    for tag in ("style", "script"):
        (inside,) = re.findall(rf"<{tag}>(.*?)</{tag}>", html, re.DOTALL)
        digest = base64.b64encode(hashlib.sha256(inside.encode()).digest()).decode()
        assert f"{tag}-src 'sha256-{digest}'" in allowed
        # Some checkers trim what they hash, browsers do not.
        assert inside == inside.strip()
    assert "default-src 'none'" in allowed
    assert "unsafe" not in allowed
    # Nothing the policy would stop: no style attributes, no event handlers.
    assert not re.search(r"<[^>]+\s(?:style|on\w+)\s*=", html.split("</style>")[1])


# Relative luminance and contrast ratio after WCAG 2.2, "contrast ratio"; 4.5 for text (1.4.3), 3 for marks (1.4.11).
def luminance(colour: str) -> float:
    channels = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4 for value in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def test_the_formula_gives_the_known_extremes():
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.01)


def dresses(name: str) -> list[dict[str, str]]:
    """The colours of a theme by day, by night and on paper."""
    style = load_theme(name).style
    found = []
    for block in re.findall(r":root\{([^}]*)\}", style):
        colours = dict(re.findall(r"--([a-z-]+):(#[0-9a-f]{3,6})\b", block))
        found.append(
            {
                key: "#" + "".join(c * 2 for c in value[1:]) if len(value) == 4 else value
                for key, value in colours.items()
            }
        )
    return [found[0], found[0] | found[1], found[0] | found[2]]


@pytest.mark.parametrize("name", ["almanac", "harbour", "workbench"])
@pytest.mark.parametrize("dress", [0, 1, 2])
def test_colours_can_be_told_apart_also_in_grey(name, dress):
    colours = dresses(name)[dress]
    grounds = [colours["paper"], colours["tint"]]
    for ground in grounds:
        for text in ("ink", "soft", "accent"):
            assert contrast(colours[text], ground) >= 4.5, (text, ground)
    if "alarm" in colours:
        assert contrast(colours["alarm"], colours["alarm-tint"]) >= 4.5


def test_a_theme_changed_while_we_run_is_read_anew(tmp_path):
    """A long-running program shows what the folder holds now, on pages and on paper."""
    for colour in ("teal", "plum"):
        (tmp_path / "page.css").write_text(f"h1{{color:{colour}}}")
        (tmp_path / "card.css").write_text(f"h1{{color:{colour}}}")
        assert load_theme(str(tmp_path)).style.endswith(f"h1{{color:{colour}}}")
        assert load_paper_theme(str(tmp_path), "card").style.endswith(f"h1{{color:{colour}}}")
