"""Every language has the entries of English, with the same slots; and the check that says so sees what is amiss."""

from __future__ import annotations

import shutil
from pathlib import Path

from babel.core import Locale

from foldwright.document.catalogue import _FOLDER, RegionalWords, SlottedText, catalogue, read_catalogue

ENGLISH = _FOLDER / "en"
SMALL = '[box]\nsays = "a box of {size}"\ncuts = { one = "{count} cut", other = "{count} cuts" }\n'


def differences(folder: Path, of: Path = ENGLISH) -> list[str]:
    """What the catalogue in a folder lacks, has too much, or asks of other facts than English does."""
    language = folder.name
    own, english = read_catalogue(folder, language), read_catalogue(of, "en")
    names, wanted = set(own.names()), set(english.names())
    told = [f"{name} is missing" for name in sorted(wanted - names)]
    told += [f"{name} is not in English" for name in sorted(names - wanted)]
    told += [f"{name} has other slots" for name in sorted(names & wanted) if own.slots(name) != english.slots(name)]
    # Words of its own for nothing at all any language may have.
    forms = Locale.parse(language).plural_form.tags | {"other", "zero"}
    for name in sorted(names & wanted):
        if (isinstance(english._entries[name], SlottedText)) != isinstance(own._entries[name], SlottedText):
            told.append(f"{name} is counted in one of them alone")
        elif not isinstance(entry := own._entries[name], SlottedText) and entry.keys() - forms:
            told.append(f"{name} has forms that the language does not")
    return told


def test_every_language_has_the_entries_of_english() -> None:
    assert {file.name: differences(file) for file in _FOLDER.iterdir() if file.is_dir() and differences(file)} == {}


def test_every_text_of_a_region_is_one_of_its_language() -> None:
    english = catalogue()
    for file in _FOLDER.glob("*-*.toml"):
        for name, text in RegionalWords.read(file).texts.items():
            assert english.has(name), f"{file.name}: {name}"
            own = (
                text.slots
                if isinstance(text, SlottedText)
                else frozenset().union(*(one.slots for one in text.values()))
            )
            assert own == english.slots(name), f"{file.name}: {name}"


def test_a_whole_translation_passes(tmp_path: Path) -> None:
    assert differences(shutil.copytree(ENGLISH, tmp_path / "nl")) == []


def test_what_differs_is_seen(tmp_path: Path) -> None:
    english, dutch = tmp_path / "en", tmp_path / "nl"
    for folder in (english, dutch):
        folder.mkdir()
        (folder / "box.toml").write_text(SMALL, encoding="utf-8")
    assert differences(dutch, english) == []
    for text, told in (
        (SMALL.replace('says = "a box of {size}"\n', ""), "box.says is missing"),
        (SMALL + 'more = "mooi"\n', "box.more is not in English"),
        (SMALL.replace("{size}", "{sise}"), "box.says has other slots"),
        (SMALL.replace('{ one = "{count} cut", other = "{count} cuts" }', '"{count}x"'), "box.cuts is counted in one"),
        (SMALL.replace("one =", "few ="), "box.cuts has forms that the language does not"),
    ):
        (dutch / "box.toml").write_text(text, encoding="utf-8")
        (said,) = differences(dutch, english)
        assert said.startswith(told)
