"""A recipe compiled again after each change of its text: what comes out is what comes of that text alone."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import count
from pathlib import Path
from random import Random
from unittest import mock

import pytest
from PIL import Image

from foldwright.measure.length import System
from foldwright.outputs.compiling import compile_recipe
from foldwright.outputs.live import Live, LivePage
from foldwright.outputs.model import BuildWish, MadeFiles
from foldwright.outputs.texts import Texts, texts_of
from foldwright.render.paper import galley
from foldwright.render.paper.galley import Galley, pull_galley
from foldwright.render.web.parts import PageParts, patch
from foldwright.surroundings import Folder
from workbench.demo_pages import PAIRS, THEMES, TOP
from workbench.long import LONG, tries
from workbench.unremembered import nothing_remembered

RECIPES = TOP / "recipes"
STUDIO = (RECIPES / "studio.yaml").read_text(encoding="utf-8")
SLUGS = sorted(file.parent.name for file in RECIPES.glob("*/recipe.md"))
_SOURCE = re.compile(r'<img src="[^"]*"')


def text_of(slug: str) -> str:
    return (RECIPES / slug / "recipe.md").read_text(encoding="utf-8")


def read(slug: str, text: str) -> tuple[Texts, Folder]:
    return texts_of(slug, text, STUDIO), Folder(RECIPES / slug)


def built(slug: str, text: str, theme: str = "") -> MadeFiles:
    texts, folder = read(slug, text)
    return compile_recipe(texts, BuildWish(("tutorial",), tuple(System), theme), folder)


def plain_body(html: str) -> str:
    """The body of a page without its script, and wherever its photographs are."""
    body = html[html.index("<body>") + len("<body>") : html.rindex("</body>")]
    return _SOURCE.sub("<img", re.sub(r"<script>.*?</script>", "", body, flags=re.DOTALL))


@pytest.mark.parametrize(("theme", "slug"), PAIRS)
def test_its_parts_put_together_are_the_page_that_is_built(theme: str, slug: str) -> None:
    texts, folder = read(slug, text_of(slug))
    live = Live().page(texts, folder, theme)
    made = built(slug, text_of(slug), theme)
    assert live.page is not None
    assert live.findings == made.findings
    assert _SOURCE.sub("<img", live.page.body) == plain_body(made.files["tutorial.html"].decode())
    keys = [part.key for part in live.page.parts]
    assert len(set(keys)) == len(keys)
    assert live.document is not None
    assert {f"step-{step.number}" for step in live.document.steps} <= set(keys)
    assert {f"piece-{number}" for number, _ in enumerate(live.document.pieces, 1)} <= set(keys)


def changes(seed: int) -> Iterator[tuple[str, str]]:
    """Recipes as they are while somebody types in one and then in another; every kind of change comes in turn."""
    random = Random(seed)
    texts = {slug: text_of(slug) for slug in SLUGS}
    slug = SLUGS[seed % len(SLUGS)]
    for number in count():
        yield slug, texts[slug]
        slug = random.choice(SLUGS) if random.random() < 0.1 else slug
        texts[slug] = CHANGES[number % len(CHANGES)](texts[slug], random)


def a_number(text: str, random: Random) -> str:
    one = random.choice(list(re.finditer(r"\d+", text)))
    return f"{text[: one.start()]}{max(0, int(one[0]) + random.choice([-1, 1, 2]))}{text[one.end() :]}"


def what_is_done(text: str, random: Random) -> str:
    """One step does what another does."""
    one, other = random.choices(list(re.finditer(r"(?m)^do: .*$", text)), k=2)
    return f"{text[: one.start()]}{other[0]}{text[one.end() :]}"


def what_is_said(text: str, random: Random) -> str:
    """Words that pictures listen for, at the end of a step."""
    one = random.choice(list(re.finditer(r"(?m)\.\n\n## ", text)))
    said = random.choice(
        [
            "Push it through the hole",
            "Fold the front first, then the back",
            "Mind the slot and the notch",
            *(f"Use the {name}" for name in re.findall(r"(?m)^  ([a-z ]+): [a-z]+ ?[a-z]*,", text)),
        ]
    )
    return f"{text[: one.start() + 1]} {said}{text[one.start() :]}"


def a_letter(text: str, random: Random) -> str:
    at = random.randrange(1, len(text))
    return text[:at] + random.choice(["a", "e", "1", " ", "\n", ""]) + text[at + random.choice([0, 1]) :]


def a_line(text: str, random: Random) -> str:
    lines = text.split("\n")
    lines.insert(random.randrange(len(lines)), lines.pop(random.randrange(len(lines))))
    return "\n".join(lines)


def a_step_more(text: str, random: Random) -> str:
    """All steps behind it have other numbers."""
    at = random.choice(list(re.finditer(r"(?m)^## ", text))).start()
    return f"{text[:at]}## Rest a little\n\nLook at what there is.\n\n{text[at:]}"


CHANGES = (a_number, what_is_done, what_is_said, a_letter, a_line)


@pytest.mark.parametrize("seed", range(len(SLUGS)))
def test_nothing_of_what_was_worked_out_before_shows(seed: int) -> None:
    live = Live()
    walk = changes(seed)
    for number in range(tries(6, 200)):
        slug, text = next(walk)
        texts, folder = read(slug, text)
        theme = THEMES[number // 4 % len(THEMES)]
        # A size that a recipe has not is the recipe as it is written.
        size = ("", "large")[number % 2]
        after = live.page(texts, folder, theme, size=size)
        with nothing_remembered():
            alone = Live().page(texts, folder, theme, size=size)
        assert after.findings == alone.findings, text
        assert after.page == alone.page, text
        assert (after.understood, after.shown) == (alone.understood, alone.shown), text


def measured_twice(html: str, style: str, more: str = "") -> Galley:
    """Blocks are compared by themselves: what is laid out in the end confirms them and hides a slip."""
    found = pull_galley(html, style, more)
    with nothing_remembered():
        assert found == pull_galley(html, style, more)
    return found


@pytest.mark.parametrize(("seed", "theme"), list(enumerate(THEMES)))
def test_nothing_of_what_was_set_before_shows_on_paper(seed: int, theme: str) -> None:
    """A usual run sets cards in two looks and handouts in one; a long one both in all."""
    kinds = ("card", "handout") if LONG else (("card", "handout")[seed % 2],)
    wish, random, slug = BuildWish(kinds, (System.IMPERIAL,), theme), Random(seed), SLUGS[-1 - seed]
    text = text_of(slug)
    for number in range(tries(2, 40)):
        text = (what_is_said, a_step_more)[number % 2](text, random)
        texts, folder = read(slug, text)
        if not number:
            # All there is to remember comes of this one.
            assert compile_recipe(texts, wish, folder).files
            continue
        with mock.patch.object(galley, "pull_galley", measured_twice):
            after = compile_recipe(texts, wish, folder)
        assert after.files
        with nothing_remembered():
            alone = compile_recipe(texts, wish, folder)
        assert after.files == alone.files, text
        assert after.findings == alone.findings, text
        assert after.notes == alone.notes, text


def page_of(live: Live, text: str) -> PageParts:
    made: LivePage = live.page(*read("birdhouse", text))
    assert made.page is not None
    return made.page


def test_a_size_is_shown_as_it_is_built_and_what_is_written_is_known_as_well() -> None:
    texts, folder = read("drawer-box", text_of("drawer-box"))
    written, large, unknown = (Live().page(texts, folder, size=size) for size in ("", "large", "huge"))
    built = compile_recipe(texts, BuildWish(("tutorial",), tuple(System), ""), folder, "large")
    title = built.files["tutorial.html"].decode().partition("<h1")[2].partition(">")[2].partition("<")[0]
    assert large.document is not None and large.document.head.title == title != ""
    assert large.findings == built.findings
    assert large.understood == written.understood == written.shown
    assert large.page is not None and written.page is not None
    assert "180 × 90" in str(written.page.parts) and "260 × 120" not in str(written.page.parts)
    assert "260 × 120" in str(large.page.parts) and "180 × 90" not in str(large.page.parts)
    assert unknown == written


def test_a_word_in_a_step_changes_that_step_alone() -> None:
    live, text = Live(), text_of("birdhouse")
    before = page_of(live, text)
    after = page_of(live, text.replace("Punch a 1 in round door", "Punch a neat 1 in round door"))
    found = patch(before, after)
    assert (found.head, found.frame, [part.key for part in found.parts]) == (None, None, ["step-5"])
    assert "a neat" in found.parts[0].html
    assert patch(after, after).parts == ()
    assert patch(None, after).parts == after.parts


def test_another_step_changes_the_frame() -> None:
    live, text = Live(), text_of("birdhouse")
    found = patch(
        page_of(live, text), page_of(live, text.replace("## Tips", "## Admire it\n\nTurn it about.\n\n## Tips"))
    )
    assert found.frame is not None
    assert "step-9" in [part.key for part in found.parts]


def test_photographs_are_named_by_what_they_show(tmp_path: Path) -> None:
    live, text = Live(), text_of("birdhouse")
    page = page_of(live, text)
    (name,) = {
        one for part in page.parts for one in re.findall(r'<img src="photos/([^"]+)"', part.html) if "-" not in one
    }
    photo = live.photo(name)
    assert photo is not None
    assert photo.data[:4] == b"\x89PNG"
    assert live.style(page.head.style)
    assert live.photo("nothing") is None
    # The same bytes under another name are the same photograph, and are not prepared again.
    (tmp_path / "other.png").write_bytes((RECIPES / "birdhouse" / "finished.png").read_bytes())
    with mock.patch("foldwright.render.photos.prepare", side_effect=AssertionError):
        again = live.page(texts_of("birdhouse", text.replace("finished.png", "other.png"), STUDIO), Folder(tmp_path))
    assert again.page is not None
    assert f'src="photos/{name}"' in again.page.body


def test_of_many_photographs_all_are_to_be_had_and_none_is_prepared_twice(tmp_path: Path) -> None:
    live, shades = Live(), range(60)
    for shade in shades:
        Image.new("RGB", (400, 300), (4 * shade, 90, 120)).save(tmp_path / f"{shade}.png")
    steps = (f"## Look\n\n```step\nphoto: {one}.png\nphoto shows: A card\n```\n\nLook at it." for one in shades)
    text = "\n\n".join(("---\ntitle: A row of cards\n---", *steps))
    first = live.page(texts_of("row", text, None), Folder(tmp_path)).page
    with mock.patch("foldwright.render.photos.prepare", side_effect=AssertionError):
        second = live.page(texts_of("row", text.replace("photo: 7.png", "photo: 8.png"), None), Folder(tmp_path)).page
    assert first is not None and second is not None
    names = [set(re.findall(r'src="photos/([^"]+)"', page.body)) for page in (first, second)]
    assert len(names[0]) >= len(shades) and len(names[0] - names[1]) == 2
    assert all(live.photo(name) for name in names[0] | names[1])
    live.page(texts_of("row", text, None), Folder(tmp_path))
    live.page(texts_of("row", text.replace("photo: 9.png", "photo: 8.png"), None), Folder(tmp_path))
    assert all(live.photo(name) for name in names[0])


def test_an_empty_text_has_no_page() -> None:
    made = Live().page(*read("birdhouse", " \n"))
    assert made.page is None
    assert [finding.code for finding in made.findings] == ["file-empty"]
