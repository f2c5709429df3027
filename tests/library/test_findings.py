"""What only shows where all recipes are together: told at its place, and put right by its mend."""

from __future__ import annotations

import pytest

from foldwright.document.catalogue import catalogue
from foldwright.document.findings import tell
from foldwright.finding import Finding
from foldwright.finding.changes import changed
from foldwright.library.making import make_library
from foldwright.mending.mends import with_mends
from foldwright.outputs.entry import Entry
from library.made_up import entry, wish
from workbench.entries import entry as compiled_entry

TEXT = """---
title: Ferry box
makes: 1 box
measured in: millimetres
{facts}
supplies:
  blue card: cardstock, weight 220 g/m2, sheet A4
tools:
  - scissors
pieces:
  mat:
    from: blue card
    size: 60 x 60 mm
---

## Cut the mat

```step
do: cut mat
time: 1 min
```

Cut the mat.
"""


def found(*entries: Entry, stock: str | None = None) -> tuple[Finding, ...]:
    return make_library(entries, wish(stock=stock)).findings


@pytest.mark.parametrize(
    ("facts", "others", "code", "mended"),
    [
        ("published: 2026-03-20\nwas: old-ferry, gift-tag", [entry("gift-tag")], "was-taken", "was: old-ferry\n"),
        ("published: 2026-03-20\nwas: gift-tag", [entry("gift-tag")], "was-taken", "2026-03-20\nsupplies"),
        (
            "published: 2026-03-20\nwas: tags, old-ferry",
            [entry("x", tags=("a",))],
            "was-of-the-library",
            "was: old-ferry\n",
        ),
        ("published: 2026-03-20\nwas: old", [entry("gift-tag", was=("old",))], "was-twice", "2026-03-20\nsupplies"),
        (
            "published: 2026-03-20\ntags: gift, EASTER",
            [entry("a", tags=("Easter",)), entry("b", tags=("Easter",))],
            "tag-spelled-otherwise",
            "tags: gift, Easter\n",
        ),
    ],
)
def test_each_is_told_where_it_stands_with_a_mend_that_puts_it_right(
    facts: str, others: list[Entry], code: str, mended: str
) -> None:
    text = TEXT.format(facts=facts)
    ours = compiled_entry(text, "ferry-box")
    (finding,) = found(*others, ours)
    assert finding.code == code and finding.place
    (with_mend,) = with_mends([finding], {"recipe.md": text}, "recipe.md")
    right = changed(text, with_mend.mends[0].changes)
    assert mended in right
    assert found(*others, compiled_entry(right, "ferry-box")) == ()


def test_the_spelling_of_most_is_kept_and_of_two_as_common_the_first() -> None:
    most = found(entry("a", tags=("box",)), entry("b", tags=("Box",)), entry("c", tags=("box",)))
    assert [(one.place, dict(one.facts)["kept"]) for one in most] == [
        (entry("b", tags=("Box",)).places["tag Box"], "box")
    ]
    even = found(entry("a", tags=("box",)), entry("b", tags=("Box",)))
    assert [dict(one.facts)["kept"] for one in even] == ["Box"]
    made = make_library([entry("a", tags=("box",)), entry("b", tags=("Box",))], wish())
    assert b"<h1>Box</h1>" in made.files["tags/box/index.html"]


def test_tags_whose_addresses_clash_have_two_pages() -> None:
    made = make_library([entry("a", tags=("paper & card",)), entry("b", tags=("paper card",))], wish())
    pages = [made.files[path] for path in made.files if path.startswith("tags/paper-card")]
    assert len(pages) == 2 and made.findings == ()
    assert any(b"<h1>paper &amp; card</h1>" in page for page in pages)
    assert any(b"<h1>paper card</h1>" in page for page in pages)


def test_a_day_to_come_is_told_where_it_stands() -> None:
    (one,) = found(entry("box", "2027-05-01"))
    assert (one.code, one.place) == ("published-later", entry("box", "2027-05-01").places["published"])


@pytest.mark.parametrize(("count", "says"), [(1, "Box 0 is made"), (3, "Box 0 and 2 more are made")])
def test_recipes_without_a_day_are_told_of_in_one(count: int, says: str) -> None:
    undated = [entry(f"box-{number}", "", listed=False, unlisted="day") for number in range(count)]
    (one,) = found(entry("tag"), *undated)
    told = tell(one, {}, catalogue("en"))
    assert one.place is None and told.says.startswith(says)
    assert "published: " in told.remedy


@pytest.mark.parametrize(("count", "says"), [(1, "Box 0 is made, but not listed"), (3, "Box 0 and 2 more are made")])
def test_drafts_are_told_to_be_left_out_in_one(count: int, says: str) -> None:
    drafts = [entry(f"box-{number}", listed=False, unlisted="draft") for number in range(count)]
    (one,) = found(entry("tag"), *drafts)
    told = tell(one, {}, catalogue("en"))
    assert one.place is None and told.says.startswith(says)
    assert "not listed in the library: something in" in told.says


def test_what_is_the_matter_with_the_stock_list_is_told() -> None:
    (one,) = found(entry("tag"), stock="blue card: six of them\n")
    assert one.place and one.place.file == "stock.yaml"
