"""A page in use: the unit switch, the tick boxes, narrow screens, paper, and nothing asked of any network."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Request, ViewportSize

from workbench.demo_pages import PAIRS, THEMES

INCHES = re.compile(r"\d\s*in\b")
MILLIMETRES = re.compile(r"\d\s*mm\b")


DESK: ViewportSize = {"width": 1000, "height": 900}


@pytest.fixture(scope="module")
def context(chromium: Browser) -> Iterator[BrowserContext]:
    context = chromium.new_context(viewport=DESK)
    yield context
    context.close()


@pytest.fixture(scope="module")
def heard() -> list[str]:
    """What pages said on the console, and what they asked for beside themselves."""
    return []


@pytest.fixture(scope="module")
def tab(context: BrowserContext, built: Path, heard: list[str]) -> Page:
    """One for all tests: to open a window takes Chromium three times as long as to show a page."""

    def ask(request: Request) -> None:
        itself = request.is_navigation_request() and request.url.startswith(f"{built.as_uri()}/")
        if not itself and not request.url.startswith("data:"):
            heard.append(request.url)

    page = context.new_page()
    page.on("console", lambda message: heard.append(message.text))
    page.on("pageerror", lambda error: heard.append(str(error)))
    page.on("request", ask)
    return page


@pytest.fixture
def page(tab: Page, heard: list[str]) -> Iterator[Page]:
    """The tab of somebody who has not seen any of the pages; what was chosen on one is forgotten afterwards. Whatever
    is done there is quiet: no request to anywhere, no error and no warning on the console, the policy kept."""
    heard.clear()
    yield tab
    tab.evaluate("() => localStorage.clear()")
    tab.emulate_media(media="null")
    tab.set_viewport_size(DESK)
    # A browser may keep what was chosen when the same page is opened again.
    tab.goto("about:blank")
    assert heard == []


def open_page(page: Page, built: Path, theme: str, recipe: str) -> None:
    page.goto((built / theme / recipe / "tutorial.html").as_uri())


def words(page: Page, where: str = "main") -> str:
    """What a reader sees there."""
    return page.locator(where).first.inner_text()


def counted(page: Page) -> tuple[int, int]:
    """How many measures in inches and in millimetres are to be seen in the steps and on the plans."""
    text = words(page, "ol.steps") + words(page, "section.pieces")
    shown = page.evaluate(
        """() => [...document.querySelectorAll('section.pieces svg text')]
            .filter(text => text.checkVisibility()).map(text => text.textContent).join('\\n')"""
    )
    return len(INCHES.findall(text + shown)), len(MILLIMETRES.findall(text + shown))


@pytest.mark.parametrize(("theme", "recipe"), PAIRS)
def test_the_switch_shows_one_system_or_the_other(page: Page, built: Path, theme: str, recipe: str) -> None:
    open_page(page, built, theme, recipe)
    page.check("input[value=imperial]")
    inches, millimetres = counted(page)
    assert inches > 3 and millimetres == 0
    page.check("input[value=metric]")
    inches, millimetres = counted(page)
    assert inches == 0 and millimetres > 3


def test_the_page_begins_in_the_units_it_was_written_in(page: Page, built: Path) -> None:
    open_page(page, built, "harbour", "birdhouse")
    assert page.is_checked("input[value=imperial]")
    open_page(page, built, "harbour", "drawer-box")
    assert page.is_checked("input[value=metric]")


def test_the_choice_of_units_is_remembered_and_worked_by_keyboard(page: Page, built: Path) -> None:
    open_page(page, built, "harbour", "birdhouse")
    page.focus("input[value=imperial]")
    page.keyboard.press("ArrowRight")
    assert page.is_checked("input[value=metric]")
    assert counted(page)[0] == 0
    page.reload()
    assert page.is_checked("input[value=metric]")


def test_what_a_screen_reader_hears_is_words(page: Page, built: Path) -> None:
    open_page(page, built, "harbour", "birdhouse")
    heard = page.locator("ol.steps").aria_snapshot()
    assert "4 and 1 quarter inches" in heard or "4 and a quarter inches" in heard, heard[:600]


@pytest.mark.parametrize("theme", THEMES)
def test_every_tick_box_works_by_keyboard(page: Page, built: Path, theme: str) -> None:
    open_page(page, built, theme, "birdhouse")
    boxes = page.locator("input[type=checkbox]")
    count = boxes.count()
    assert count > 10
    ticked = "boxes => boxes.map(box => box.checked)"
    for number in range(count):
        boxes.nth(number).focus()
        page.keyboard.press("Space")
        assert boxes.evaluate_all(ticked) == [place <= number for place in range(count)]
    for number in range(count):
        boxes.nth(number).focus()
        page.keyboard.press("Space")
    assert not any(boxes.evaluate_all(ticked))


def test_the_keyboard_sees_where_it_is(page: Page, built: Path) -> None:
    for theme in THEMES:
        open_page(page, built, theme, "birdhouse")
        for _ in range(4):
            page.keyboard.press("Tab")
            outline = page.evaluate(
                """() => { const at = document.activeElement, near = at.closest('label') || at;
                    return [at, near, at.nextElementSibling || at].some(one => {
                        const style = getComputedStyle(one);
                        return style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) > 0
                            || style.boxShadow !== 'none'; }); }"""
            )
            assert outline, theme


@pytest.mark.parametrize(("theme", "recipe"), PAIRS)
def test_nothing_sticks_out_of_a_narrow_screen(page: Page, built: Path, theme: str, recipe: str) -> None:
    page.set_viewport_size({"width": 320, "height": 640})
    open_page(page, built, theme, recipe)
    assert page.evaluate("() => document.documentElement.scrollWidth") <= 320


def test_the_policy_stops_what_is_put_into_the_page(tab: Page, heard: list[str], built: Path, tmp_path: Path) -> None:
    text = (built / "harbour" / "birdhouse" / "tutorial.html").read_text(encoding="utf-8")
    harmed = text.replace("</body>", "<script>document.title = 'taken'</script></body>")
    assert harmed != text
    (tmp_path / "page.html").write_text(harmed, encoding="utf-8")
    heard.clear()
    tab.goto((tmp_path / "page.html").as_uri())
    assert tab.title() != "taken"
    # What is asked for and what is said against is heard.
    assert len(heard) == 2 and heard[0].endswith("/page.html") and "Content Security Policy" in heard[1]


@pytest.mark.parametrize("theme", THEMES)
def test_on_paper_there_is_the_tutorial_and_no_furniture(page: Page, built: Path, theme: str) -> None:
    open_page(page, built, theme, "birdhouse")
    page.emulate_media(media="print")
    assert not page.locator(".units input").first.is_visible()
    assert page.locator("h1").is_visible()
    page.locator("section.pieces svg").first.wait_for(state="visible")
    assert page.evaluate("() => document.documentElement.scrollWidth <= window.innerWidth")
    for paper in ("A4", "Letter"):
        pages = len(re.findall(rb"/Type\s*/Page\b", page.pdf(format=paper)))
        assert 2 <= pages <= 4, paper


@pytest.mark.parametrize("theme", THEMES)
def test_on_paper_letters_are_read_and_pieces_stand_three_across(page: Page, built: Path, theme: str) -> None:
    """As wide as A4 leaves between its margins, 186 mm; nothing is wider, for a browser would make all smaller."""
    page.set_viewport_size({"width": 703, "height": 1000})
    page.emulate_media(media="print")
    open_page(page, built, theme, "birdhouse")
    assert page.evaluate("() => document.documentElement.scrollWidth") <= 703
    body, figures, tops = page.evaluate(
        """() => { const shown = selector => [...document.querySelectorAll(selector)]
                .filter(one => one.checkVisibility());
            return [getComputedStyle(document.querySelector('.steps .words p')).fontSize,
                shown('.plan .dim, .steps .dim').map(one => parseFloat(one.getAttribute('font-size'))
                    * one.getScreenCTM().a),
                shown('.piece').map(one => one.getBoundingClientRect().top)]; }"""
    )
    assert body == "14px"  # 10.5 pt
    assert len(figures) > 20 and min(figures) >= 10  # 7.5 pt
    assert len(tops) == 3 and max(tops) - min(tops) < 1


def test_on_paper_it_is_in_the_units_chosen(page: Page, built: Path) -> None:
    open_page(page, built, "harbour", "birdhouse")
    page.check("input[value=metric]")
    page.emulate_media(media="print")
    inches, millimetres = counted(page)
    assert inches == 0 and millimetres > 3


def test_with_scripts_switched_off_it_still_reads_and_switches(chromium: Browser, built: Path) -> None:
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((built / "harbour" / "birdhouse" / "tutorial.html").as_uri())
    assert INCHES.search(page.locator("ol.steps").inner_text())
    page.check("input[value=metric]")
    assert not INCHES.search(page.locator("ol.steps").inner_text())
    context.close()


def test_the_skip_link_leads_to_the_steps(page: Page, built: Path) -> None:
    open_page(page, built, "harbour", "birdhouse")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert page.evaluate("() => location.hash") == "#steps"


def test_a_draft_says_so_at_its_head(page: Page, built: Path) -> None:
    page.goto((built / "harbour" / "a-draft" / "tutorial.html").as_uri())
    notice = words(page, "section.draft")
    assert "draft" in notice.lower()
    assert "line" in notice
    assert not (built / "harbour" / "a-draft" / "fragment.html").exists()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("theme", THEMES)
def test_arrows_stand_clear_and_the_sides_of_paper_differ(page: Page, built: Path, theme: str, scheme: str) -> None:
    """In both schemes. 3 : 1 is what WCAG 2.2, 1.4.11 asks of what one has to see to understand a picture."""
    page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
    open_page(page, built, theme, "birdhouse")
    halo, line, head, *sheets = page.evaluate(
        """() => { const drawing = document.querySelector('.steps .arrow').closest('svg');
            const look = (name, part) => getComputedStyle(drawing.querySelector(name))[part];
            return [look('.halo', 'stroke'), look('.arrow', 'stroke'), look('.head', 'fill'),
                ...[...drawing.querySelectorAll('.sheet')].map(one => getComputedStyle(one).fill)]; }"""
    )
    page.emulate_media(color_scheme="null")
    assert line == head
    assert contrast(halo, line) >= 3
    # By eye, no source: sides that differ so much are told apart.
    assert max(contrast(one, other) for one in sheets for other in sheets) >= 1.3


def contrast(one: str, other: str) -> float:
    """Of two colours as a browser writes them (WCAG 2.2, relative luminance and contrast ratio)."""

    def luminance(colour: str) -> float:
        parts = [int(part) / 255 for part in re.findall(r"\d+", colour)[:3]]
        red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("theme", THEMES)
def test_the_strip_leads_to_every_step_from_the_first_screen(page: Page, built: Path, theme: str) -> None:
    page.set_viewport_size({"width": 1280, "height": 900})
    open_page(page, built, theme, "birdhouse")
    links = page.locator("nav.glance a")
    assert links.count() == page.locator("ol.steps > li").count() == 8
    assert page.get_by_role("navigation", name="Steps at a glance").count() == 1
    links.nth(5).click()
    assert page.evaluate("() => location.hash") == "#step-6"
    for number in range(8):
        assert links.nth(number).locator("svg, img").count() == 1
        assert links.nth(number).locator("text").filter(visible=True).count() == 0


@pytest.mark.parametrize("theme", THEMES)
def test_no_word_makes_a_page_wider_than_its_window(page: Page, built: Path, theme: str) -> None:
    """Neither a long one, nor one that is only heard and stands far along in the strip of steps."""
    open_page(page, built, theme, "birdhouse")
    page.evaluate(
        """() => { for (const where of ['h1', '.summary', '.mind p', '.steps h3', '.steps .words p', '.piece h3'])
                document.querySelector(where).append(' ' + 'Weihnachtsgeschenkpapier'.repeat(3));
            const heard = document.createElement('span');
            heard.className = 'vh';
            heard.textContent = 'heard';
            [...document.querySelectorAll('.glance .heading')].pop().append(heard); }"""
    )
    for width in (320, 768, 1280):
        page.set_viewport_size({"width": width, "height": 900})
        assert page.evaluate("() => document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize("theme", THEMES)
def test_pieces_are_folded_away_on_a_phone_alone(page: Page, built: Path, theme: str) -> None:
    open_page(page, built, theme, "birdhouse")
    plan = page.locator("section.pieces .plan svg").first
    opened = page.locator("section.pieces > details > summary")
    assert plan.is_visible() and not opened.is_visible()
    page.set_viewport_size({"width": 390, "height": 844})
    assert not plan.is_visible()
    opened.click()
    assert plan.is_visible()
    opened.click()
    page.emulate_media(media="print")
    assert plan.is_visible()


@pytest.mark.parametrize("theme", THEMES)
def test_what_a_plan_shows_is_there_in_words_for_who_asks_and_on_paper(page: Page, built: Path, theme: str) -> None:
    open_page(page, built, theme, "birdhouse")
    lines = page.locator("section.pieces .in-words li").first
    assert not lines.is_visible()
    page.locator("section.pieces .in-words summary").first.click()
    assert lines.is_visible()
    page.locator("section.pieces .in-words summary").first.click()
    page.emulate_media(media="print")
    assert lines.is_visible()


@pytest.mark.parametrize("theme", THEMES)
def test_on_a_desk_the_steps_begin_within_three_screens(page: Page, built: Path, theme: str) -> None:
    """And a household book, which has one column, within three and a half."""
    page.set_viewport_size({"width": 1280, "height": 900})
    open_page(page, built, theme, "birdhouse")
    above = page.evaluate("() => document.querySelector('#steps').getBoundingClientRect().top / innerHeight")
    assert above < (3.5 if theme == "almanac" else 2.75)


@pytest.mark.parametrize("theme", THEMES)
def test_pictures_of_steps_are_wide_and_their_letters_are_read(page: Page, built: Path, theme: str) -> None:
    """340 pixels on a desk, with letters of 14."""
    page.set_viewport_size({"width": 1280, "height": 900})
    open_page(page, built, theme, "birdhouse")
    found = page.evaluate(
        """() => [...document.querySelectorAll('.steps .pictures figure')].map(figure => {
            const drawing = [...figure.querySelectorAll('svg.drawing')].find(one => one.checkVisibility());
            const figures = [...drawing.querySelectorAll('.dim')];
            const scale = drawing.getScreenCTM().a;
            return [figure.getBoundingClientRect().width,
                ...figures.map(one => parseFloat(one.getAttribute('font-size')) * scale)]; })"""
    )
    assert len(found) == 13
    for width, *letters in found:
        assert width >= 340
        assert all(letter >= 14 for letter in letters), (width, letters)
