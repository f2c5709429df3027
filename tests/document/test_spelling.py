"""Whose spelling a page has: American where it is printed in inches on American paper, else British; ours alone."""

from __future__ import annotations

import re
import tomllib
from difflib import SequenceMatcher

import pytest

from foldwright.document.catalogue import _FOLDER, Catalogue, SlottedText, catalogue
from foldwright.document.data import as_json
from foldwright.document.model import Document
from foldwright.document.spelling import AMERICAN, BRITISH, language_of
from foldwright.measure.length import System
from foldwright.pipeline import compose_document
from foldwright.recipe.facts.studio import read_studio
from foldwright.render.web.tutorial import tutorial
from workbench.compiled import DEMOS, RECIPES, compiled

# Spellings that differ, by their endings and stems (Oxford Guide to Style, 4.3, as its readers quote it). Not what the
# overlay has, but what it should leave none of.
BRITISH_FORMS = re.compile(
    r"\b(?:\w*(?:colour|favour|honour|neighbour|vapour|flavour|odour|labour|behaviour)\w*"
    r"|\w*(?:(?:met|lit|cent|fib|theat)res?|metre|litre)"
    r"|(?:grey|mould|tyre|cheque|plough|pyjama|storey|draught|jewell|labell|travell|stencill|pencill|modell)\w*"
    r"|(?:organ|recogn|real|minim|custom|summar|standard|capital|emphas|apolog)is(?:e|es|ed|ing)|analys(?:e|es|ed|ing)"
    r"|licences?|practis\w+|catalogues?|programmes?|aluminium|learnt|spelt|whilst|amongst"
    r"|(?:to|after|back|for|up|down)wards|sweets|soya)\b",
    re.IGNORECASE,
)
AMERICAN_FORMS = re.compile(
    r"\b(?:\w*(?:color|favor|honor|neighbor|flavor|odor|labor)(?:s|ed|ing|ful|able)?|vapors?"
    r"|\w*(?:[a-z]limeter|centimeter|deciliter|milliliter|centiliter|fiber|theater|center)s?|liters?|meters?"
    r"|gray\w*|(?:labe|trave|stenci|penci|mode)l(?:ed|ing)|licenses?|catalogs?|aluminum|toward|candy|candies|soy)\b",
    re.IGNORECASE,
)
PAGES = (
    "page.",
    "spoken.",
    "piece.",
    "made.",
    "hazard.",
    "caution.",
    "drawn.",
    "template.",
    "file.",
    "trial.",
    "event.",
)


def texts(words: Catalogue, key: str) -> list[str]:
    """What stands between the slots of every form of a text."""
    entry = words._entries[key]
    forms = [entry] if isinstance(entry, SlottedText) else list(entry.values())
    return [" _ ".join(form.parts[::2]) for form in forms]


def of_pages(words: Catalogue) -> dict[str, list[str]]:
    return {key: texts(words, key) for key in words.names() if key.startswith(PAGES)}


@pytest.mark.parametrize(
    ("studio", "system", "language"),
    [
        ("papers: letter, A4", System.IMPERIAL, AMERICAN),
        ("papers: letter, A4", System.METRIC, BRITISH),
        ("papers: A4, 4x6", System.IMPERIAL, AMERICAN),
        ("papers: A4", System.IMPERIAL, BRITISH),
        ("papers: A4, A5", System.METRIC, BRITISH),
        ("author: Us", System.IMPERIAL, AMERICAN),
        ("author: Us", System.METRIC, BRITISH),
        ("papers: letter\nspelling: British", System.IMPERIAL, BRITISH),
        ("papers: A4\nspelling: American English", System.METRIC, AMERICAN),
        ("spelling: US", System.METRIC, AMERICAN),
        ("spelling: uk", System.IMPERIAL, BRITISH),
    ],
)
def test_a_page_is_spelled_for_its_readers(studio, system, language):
    read, findings = read_studio(studio, "studio.yaml")
    assert (findings, language_of(read, system)) == ((), language)


def test_another_spelling_is_asked_about():
    read, (finding,) = read_studio("spelling: Australian", "studio.yaml")
    assert language_of(read, System.IMPERIAL) == AMERICAN and language_of(read, System.METRIC) == BRITISH
    assert set(dict(finding.facts)["known"]) == {"American", "British"}


def test_every_word_and_text_of_the_overlay_has_something_to_change():
    written = tomllib.loads((_FOLDER / f"{AMERICAN}.toml").read_text(encoding="utf-8"))
    words = written.pop("words")
    base, american = catalogue("en"), catalogue(AMERICAN)
    ours = {
        word.lower() for key in base.names() for text in texts(base, key) for word in re.findall(r"[^\W\d_]+", text)
    }
    assert {word for word in words if word not in ours} == set()
    assert not set(words) & set(words.values())
    whole = {f"{table}.{key}": text for table, content in written.items() for key, text in flat(content)}
    for name, text in whole.items():
        assert base.has(name) and american.slots(name) == base.slots(name), name
        swapped = [re.sub(r"[^\W\d_]+", lambda found: words.get(found[0], found[0]), one) for one in texts(base, name)]
        assert swapped != [text], f"{name} is what the words alone would make of it"
        assert SequenceMatcher(None, swapped[0], text).ratio() > 0.6, name


def flat(content: dict, path: str = ""):
    for key, value in content.items():
        if isinstance(value, dict):
            yield from flat(value, f"{path}{key}.")
        else:
            yield path + key, value


def test_no_text_of_ours_is_left_in_the_other_spelling():
    left = {key: found for key, found in _found(BRITISH_FORMS, catalogue(AMERICAN)).items() if found}
    assert left == {}
    left = {key: found for key, found in _found(AMERICAN_FORMS, catalogue(BRITISH)).items() if found}
    assert left == {}
    # Both would find something.
    assert any(_found(BRITISH_FORMS, catalogue(BRITISH)).values())
    assert any(_found(AMERICAN_FORMS, catalogue(AMERICAN)).values())


def _found(forms: re.Pattern[str], words: Catalogue) -> dict[str, list[str]]:
    return {key: [found for text in said for found in forms.findall(text)] for key, said in of_pages(words).items()}


def both(name: str) -> tuple[Document, Document, str]:
    text = (RECIPES / name / "recipe.md").read_text(encoding="utf-8")
    _, checked = compiled(text, name)
    assert checked.understood is not None
    made = [compose_document(checked.understood, (), {}, system) for system in (System.IMPERIAL, System.METRIC)]
    return made[0], made[1], text


@pytest.mark.parametrize("name", DEMOS)
def test_the_pages_of_the_demos_are_of_one_spelling(name):
    american, british, text = both(name)
    assert (american.language, british.language) == ("en-US", "en-GB")
    for document, forms in ((american, BRITISH_FORMS), (british, AMERICAN_FORMS)):
        page = tutorial(document, "harbour", lambda _photo, _width=0: None).decode()
        assert f'<html lang="{document.language}"' in page
        # Names of styles and the like are English too, and the author's own words are the author's.
        seen = re.sub(r"<(style|script)\b.*?</\1>|<[^>]*>", " ", page, flags=re.DOTALL)
        own = {found.lower() for found in forms.findall(text)}
        assert {found.lower() for found in forms.findall(seen)} - own == set()


@pytest.mark.parametrize("name", DEMOS)
def test_nothing_but_the_spelling_differs(name):
    american, british, _ = both(name)
    changes = tomllib.loads((_FOLDER / f"{AMERICAN}.toml").read_text(encoding="utf-8"))
    words, dates = changes["words"], {"language", "en-US", "en-GB"}
    avoid = changes["hazard"]["wrapped-food"]["avoid"]
    ours = catalogue(AMERICAN).say("hazard.wrapped-food.avoid"), catalogue(BRITISH).say("hazard.wrapped-food.avoid")
    assert ours[0] == avoid
    left = as_json(american).replace(ours[0], "").replace(american.head.revised_words, "")
    right = as_json(british).replace(ours[1], "").replace(british.head.revised_words, "")
    for one, other in zip(re.findall(r"[\w-]+", left), re.findall(r"[\w-]+", right), strict=True):
        assert one == other or {one, other} <= dates or words.get(other.lower()) == one.lower()
