from __future__ import annotations

import re
import tomllib
import warnings
from fractions import Fraction
from pathlib import Path

import pytest
from babel.core import Locale

from foldwright.document.catalogue import (
    _FOLDER,
    _HEAD,
    CatalogueError,
    WordingMissing,
    _plural,
    catalogue,
    read_catalogue,
)
from foldwright.measure.length import Unit
from foldwright.measure.printed import Printed

SOURCES = Path(__file__).parents[2] / "compiler" / "foldwright"


def small(folder: Path, **files: str):
    for name, text in files.items():
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")
    return read_catalogue(folder, "en")


LIST = '[list]\ncomma = ", "\nand = " and "\n'


def test_files_are_merged_and_slots_filled(tmp_path):
    words = small(tmp_path, a=LIST + '[no-time]\nsays = "{step} says no time"', b='[swapped]\nremedy = "type {sizes}"')
    assert words.say("no-time.says", step="Fold") == "Fold says no time"
    assert words.say("swapped.remedy", sizes=("4 in", "5 in", "6 in")) == "type 4 in, 5 in and 6 in"


def test_facts_of_every_kind(tmp_path):
    words = small(tmp_path, a=LIST + '[x]\nsays = "{fact}"')
    printed = Printed(Fraction(4191, 40), Unit.INCH, 4, 1, 8)
    assert words.say("x.says", fact=printed) == "4 1/8 in"
    assert words.say("x.says", fact=Fraction(33, 8)) == "4 1/8"
    assert words.say("x.says", fact=Fraction(-3, 2)) == "-1 1/2"
    assert words.say("x.says", fact=Fraction(3)) == "3"
    assert words.say("x.says", fact=(1, 2)) == "1 and 2"


def test_plural_forms_follow_the_count(tmp_path):
    words = small(tmp_path, a='[cuts]\nsays = { one = "{count} cut", other = "{count} cuts" }')
    assert [words.say("cuts.says", count=n) for n in (0, 1, 2)] == ["0 cuts", "1 cut", "2 cuts"]
    assert words.say("cuts.says", count=Fraction(3, 2)) == "1 1/2 cuts"


def test_a_code_in_two_files_is_refused_and_both_are_named(tmp_path):
    with pytest.raises(CatalogueError, match=r"no-time stands in a\.toml and again in b\.toml"):
        small(tmp_path, a='[no-time]\nsays = "a"', b='[no-time]\nsays = "b"')


def test_a_number_is_no_text(tmp_path):
    with pytest.raises(CatalogueError, match=r"x\.says"):
        small(tmp_path, a="[x]\nsays = 3")


def test_what_is_missing_warns_and_still_says_something(tmp_path):
    words = small(tmp_path, a=LIST + '[x]\nsays = "{piece} is {size}"')
    with pytest.warns(WordingMissing, match=r"x\.says needs size"):
        assert words.say("x.says", piece="lid") == "lid is size"
    with pytest.warns(WordingMissing, match="no text called y"):
        assert words.say("y", piece="lid") == "y lid"


def test_braces_that_are_no_slot_stay(tmp_path):
    words = small(tmp_path, a='[x]\nsays = "write { and } or {A}"')
    assert words.say("x.says") == "write { and } or {A}"


def used_codes() -> dict[str, set[str]]:
    """Codes the sources make findings of, with the files that do."""
    made = re.compile(
        r"(?:Finding\.of|Unreadable|Unusable|ThemeError|\bfault|\bmisfit|\bthought)\(\s*\"([a-z][a-z0-9]*(?:-[a-z0-9]+)*)\""
    )
    found: dict[str, set[str]] = {}
    for file in SOURCES.rglob("*.py"):
        for code in made.findall(file.read_text(encoding="utf-8")):
            found.setdefault(code, set()).add(file.name)
    return found


def finding_codes() -> set[str]:
    import tomllib

    folder = _FOLDER / "en"
    return {code for file in folder.glob("findings-*.toml") for code in tomllib.loads(file.read_text("utf-8"))}


def test_every_code_the_program_uses_has_a_message():
    words = catalogue()
    assert {code: files for code, files in used_codes().items() if not words.has(f"{code}.says")} == {}


def test_every_message_belongs_to_a_code_the_program_uses():
    text = "".join(file.read_text(encoding="utf-8") for file in sorted(SOURCES.rglob("*.py")))
    # Some codes are put together: f"sheet-only-against-{rule}", "photo-" + refusal, f"{code}-at-all".
    begun = tuple({*re.findall(r'f"([a-z][a-z-]*-)\{', text), *re.findall(r'"([a-z][a-z-]*-)" \+', text)})
    ended = set(re.findall(r'f"\{[a-z_.]+\}(-[a-z][a-z-]*)"', text))

    def used(code: str) -> bool:
        stems = (code.removesuffix(end) for end in ended if code.endswith(end))
        return f'"{code}"' in text or code.startswith(begun) or any(f'"{stem}"' in text for stem in stems)

    assert {code for code in finding_codes() if not used(code)} == set()


def test_the_real_catalogue_reads_without_a_warning():
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        words = catalogue()
        assert words.listed(["a", "b", "c"]) == "a, b and c"


def page_keys() -> set[str]:
    return {key for key in catalogue().names() if key.startswith(("page.", "spoken.", "list."))}


def test_every_text_of_a_page_is_used_somewhere():
    code = "".join(file.read_text(encoding="utf-8") for file in sorted(SOURCES.rglob("*.py")))
    templates = "".join(file.read_text("utf-8") for file in sorted((SOURCES.parents[1] / "themes").rglob("*.html")))
    begun = tuple(re.findall(r'f"((?:page|spoken)\.[a-z.-]*)\{', code))
    labels_begun = tuple(re.findall(r'label\[f"([a-z-]+)\{', code))

    def used(key: str) -> bool:
        if key.startswith("page.label."):
            name = key.removeprefix("page.label.")
            if name.endswith("-line") or name.startswith(labels_begun):
                return True
            return f"label.{name.replace('-', '_')}" in templates or f'"{name}"' in code or f"'{name}'" in code
        if key.startswith("page.plan."):
            return f'"{key.removeprefix("page.plan.")}"' in code
        return f'"{key}"' in code or key.startswith(begun)

    assert {key for key in page_keys() if not used(key)} == set()


def test_every_text_a_page_asks_for_is_there():
    code = "".join(file.read_text(encoding="utf-8") for file in sorted(SOURCES.rglob("*.py")))
    templates = "".join(file.read_text("utf-8") for file in sorted((SOURCES.parents[1] / "themes").rglob("*.html")))
    labels = set(re.findall(r"\blabel\.([a-z_]+)", templates))
    known = {name.replace("-", "_") for name in catalogue().below("page.label")} | {"local_rules"}
    assert labels <= known
    asked = set(re.findall(r'"((?:page|spoken|list)\.[a-z.-]+)"', code)) - {
        "page.css",
        "page.js",
        "page.label",
        "page.plan",
    }
    assert {key for key in asked if not catalogue().has(key)} == set()


def test_the_heads_of_tables_tell_which_file_holds_them() -> None:
    """A file is read only when one of its tables is asked for: the quick look must see every table and no other."""
    for file in (_FOLDER / "en").glob("*.toml"):
        text = file.read_text(encoding="utf-8")
        assert set(_HEAD.findall(text)) == set(tomllib.loads(text)), file.name


def test_the_english_plural_is_the_one_of_the_standard() -> None:
    """Beside Babel's data, which is CLDR's (Unicode Technical Standard 35)."""
    for number in range(120):
        assert _plural("en")(number) == Locale.parse("en").plural_form(number)
