"""What is the matter with a library as a whole, as the command line tells it."""

from __future__ import annotations

from pathlib import Path

import pytest
from lxml import etree

from workbench.command_line import foldwright

RECIPE = """---
title: {title}
makes: 1 tag
measured in: millimetres
published: 2026-03-20
{facts}supplies:
  kraft card: cardstock, weight 220 g/m2, sheet A4
tools:
  - paper trimmer
pieces:
  tag: from kraft card, size 50 x 90 mm
---

## Cut the tag

```step
do: cut tag
time: 1 min
```
"""


def lay(folder: Path, slug: str, facts: str = "") -> None:
    (folder / slug).mkdir(parents=True, exist_ok=True)
    (folder / slug / "recipe.md").write_text(RECIPE.format(title=slug.capitalize(), facts=facts), encoding="utf-8")


def built(folder: Path) -> tuple[int, str]:
    done = foldwright("build", folder, "--out", folder.parent / "build", "--only", "tutorial", cwd=folder.parent)
    return done.status, done.out


def test_a_name_in_use_is_told_at_its_line_each_time_until_it_is_put_right(tmp_path: Path) -> None:
    folder = tmp_path / "recipes"
    lay(folder, "tag")
    lay(folder, "label", "was: old-label, tag\n")
    for _ in range(2):
        status, told = built(folder)
        assert status == 1
        assert f"{folder / 'label' / 'recipe.md'}" in told and "line 6" in told
        assert "“tag” is the folder of Tag now" in told and "Delete the name." in told
    lay(folder, "label", "was: old-label\n")
    status, told = built(folder)
    assert (status, "Delete the name." in told) == (0, False)
    assert (tmp_path / "build" / "old-label" / "tutorial.html").is_file()
    assert not (tmp_path / "build" / "feed.xml").exists()


@pytest.mark.parametrize(("facts", "hushed"), [("", False), ("hush: published-later\n", True)])
def test_a_day_to_come_is_no_error_and_can_be_hushed(tmp_path: Path, facts: str, hushed: bool) -> None:
    folder = tmp_path / "recipes"
    lay(folder, "tag", facts)
    recipe = folder / "tag" / "recipe.md"
    recipe.write_text(recipe.read_text(encoding="utf-8").replace("2026-03-20", "2999-01-01"), encoding="utf-8")
    lay(folder, "label")
    status, told = built(folder)
    assert status == 0
    assert ("to be published on 2999-01-01" in " ".join(told.split())) != hushed
    assert ("hush: published-later" in told) != hushed
    assert (tmp_path / "build" / "tag" / "tutorial.html").is_file()
    assert "tag/tutorial.html" not in (tmp_path / "build" / "index.html").read_text(encoding="utf-8")
    # Without the studio's address there is no feed; that is told of the folder, and cannot be hushed.
    assert "The studio has no web address" in told and "library-without-address" not in told


def asked_to_leave_it_out(page: Path) -> bool:
    """What its head asks of search engines (HTML, 4.2.5: metadata belongs in the head; robots as the standard metadata
    names register it)."""
    told = etree.HTML(page.read_bytes()).xpath("/html/head/meta[@name='robots']/@content")
    return list(told) == ["noindex"]


def test_search_engines_are_asked_to_leave_out_what_no_list_leads_to(tmp_path: Path) -> None:
    folder, pages = tmp_path / "recipes", tmp_path / "build"
    lay(folder, "tag")
    lay(folder, "label")
    recipe = folder / "tag" / "recipe.md"
    good = recipe.read_text(encoding="utf-8")
    changes = {
        "2999-01-01": good.replace("2026-03-20", "2999-01-01"),
        "listed": good,
        "no day": good.replace("published: 2026-03-20\n", ""),
        "a draft": good.replace("50 x 90 mm", "500 x 900 mm"),
    }
    for name, text in changes.items():
        recipe.write_text(text, encoding="utf-8")
        status, told = built(folder)
        assert status == (name == "a draft")
        assert asked_to_leave_it_out(pages / "tag" / "tutorial.html") == (name != "listed"), name
        assert not asked_to_leave_it_out(pages / "label" / "tutorial.html")
        assert ("Tag is made, but not listed in the library" in " ".join(told.split())) == (
            name in ("no day", "a draft")
        )
