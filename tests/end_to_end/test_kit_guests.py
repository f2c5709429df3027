"""A list of guests through `kit`: who gets what on card and label, allergies against the kits, and what is told."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pdfplumber
import pytest

from foldwright.cli.calls import KitCall
from foldwright.cli.kit import kit
from workbench.kit_schema import checked_kit

TREAT = """---
title: Treat box
makes: 1 box
supplies:
  blue card: cardstock, sheet A4, pack 10 sheets at 2.00
  caramel: wrapped sweet, use 2, pack 40 at 4.20, contains milk
  jelly: sweet, use 1, pack 40 at 3.00
pieces:
  square:
    from: blue card
    size: 100 x 100 mm
---

## Cut it

do: cut square
"""
TAG = """---
title: Gift tag
makes: 1 tag
supplies:
  blue card: cardstock, sheet A4, pack 10 sheets at 2.00
pieces:
  tag:
    from: blue card
    size: 50 x 50 mm
---

## Cut it

do: cut tag
"""
GUESTS = """Nom;Prénom;Table;Projet;Allergies
Okafor;Zoë;Lily;treat box;dairy
Østby;Ümit;Lily;Treat box;kiwi
Berg;Kim;;gift tag;nuts
Lund;Eli;Lily;treat;
Berg;Kim;Rose;Tag;
"""


@pytest.fixture
def recipes(tmp_path: Path) -> list[Path]:
    for name, text in (("treat", TREAT), ("tag", TAG)):
        (tmp_path / name).mkdir()
        (tmp_path / name / "recipe.md").write_text(text, encoding="utf-8")
    return [tmp_path / "treat", tmp_path / "tag"]


def listed(tmp_path: Path, text: str) -> str:
    (tmp_path / "guests.csv").write_text(text, encoding="utf-8")
    return str(tmp_path / "guests.csv")


def planned(tmp_path: Path, recipes: list[Path], **options: str) -> int:
    paths, out = tuple(map(str, recipes)), str(tmp_path / "out")
    return kit(KitCall(paths=paths, out=out, units="metric", **options))


def texts(folder: Path, name: str) -> Iterator[str]:
    """The words of each page, in the order they are drawn."""
    with pdfplumber.open(folder / f"{name}-a4.pdf") as pdf:
        for page in pdf.pages:
            yield " ".join(word["text"] for word in page.extract_words(use_text_flow=True))


def data_of(folder: Path) -> dict[str, Any]:
    return checked_kit((folder / "kit.json").read_text(encoding="utf-8"))


def test_who_gets_what_and_what_they_must_not_have(
    tmp_path: Path, recipes: list[Path], capsys: pytest.CaptureFixture[str]
) -> None:
    assert planned(tmp_path, recipes, kits="guests", names=listed(tmp_path, GUESTS), per_table="2") == 0
    said = " ".join("".join(capsys.readouterr()).split())
    assert "Kim Berg is in the list again" in said
    assert "hush: guests" not in said
    folder = tmp_path / "out" / "event-treat-tag"
    data = data_of(folder)
    assert [one["kits"] for one in data["recipes"]] == [3, 2]
    assert [(one["name"], one["recipe"], one["people"], one["guests"]) for one in data["tables"]] == [
        ("Lily", "treat", 3, [0, 1, 3]),
        ("Rose", "tag", 2, [4, 2]),
    ]
    assert [(one["name"], one["diet"], one["recipe"]) for one in data["guests"]][:2] == [
        ("Zoë Okafor", "dairy", "treat"),
        ("Ümit Østby", "kiwi", "treat"),
    ]
    cards = " ".join(texts(folder, "place-cards"))
    assert "Zoë Okafor Lily Treat box" in cards
    assert cards.count("Kim Berg Rose Gift tag") == 2
    labels = " ".join(texts(folder, "bag-labels"))
    assert "Zoë Okafor Treat box" in labels
    # A sign on the bags of the three who wrote of a diet, and on no other.
    assert labels.count("Diet: see the list first.") == 3
    paper = " ".join(texts(folder, "allergies-and-diets"))
    change, rest = paper.split("Ask first, or read a packet first")
    asking, reading = rest.split("The recipe names nothing they avoid")
    assert "caramel contains milk" in change
    assert "Pack the bag without caramel" in change
    assert "the recipe does not say what is in jelly" in asking
    assert "Ask the guest about kiwi" in asking
    assert "no food is listed" in reading
    seating = " ".join(texts(folder, "seating"))
    assert "Eli Lund Lily, Treat box" in seating
    assert "Rose, Gift tag: Kim Berg and Kim Berg." in seating
    for name in ("packing", "the-day"):
        assert "3 guests have an allergy or a diet" in " ".join(texts(folder, name))


@pytest.mark.parametrize(
    ("kits", "text", "status", "said"),
    [
        ("guests", "name,project\nZoë,treat\nBo,\n", 1, "--for guests: the list does not say what Bo makes."),
        ("guests", "name,project\nZoë,treat\n", 1, "--for guests: no guest makes Gift tag."),
        (
            "2,1",
            f"{GUESTS}Mia;;;lantern;\n",
            1,
            "3 guests chose Treat box, but --for says 2. 2 guests chose Gift tag, but --for",
        ),
    ],
)
def test_what_does_not_agree_is_told(
    tmp_path: Path,
    recipes: list[Path],
    capsys: pytest.CaptureFixture[str],
    kits: str,
    text: str,
    status: int,
    said: str,
) -> None:
    assert planned(tmp_path, recipes, kits=kits, names=listed(tmp_path, text)) == status
    assert said in " ".join("".join(capsys.readouterr()).split())


def test_guests_are_counted_only_from_a_list(
    tmp_path: Path, recipes: list[Path], capsys: pytest.CaptureFixture[str]
) -> None:
    assert planned(tmp_path, recipes, kits="guests") == 2
    assert "--for guests: add the list of guests, such as --names guests.csv." in " ".join(
        capsys.readouterr().err.split()
    )
