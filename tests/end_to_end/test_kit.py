"""`foldwright kit`: the folder of an event through the real command line."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

import pdfplumber
import pytest

from workbench.command_line import MISFIT, foldwright, write
from workbench.kit_schema import checked_kit
from workbench.planned_kit import planned_kit

RECIPES = Path(__file__).parents[2] / "recipes"
BIRDHOUSE = str(RECIPES / "birdhouse")


def folder_of(tmp_path: Path, *words: str, recipes: Sequence[str] = (BIRDHOUSE,)) -> Path:
    """The folder that the command writes."""
    done = foldwright("kit", *recipes, *words, "--out", "out", cwd=tmp_path)
    assert done.status == 0, done.out + done.err
    return next((tmp_path / "out").iterdir())


def data_of(folder: Path) -> dict[str, Any]:
    return checked_kit((folder / "kit.json").read_text(encoding="utf-8"))


def planned(tmp_path: Path, *words: str, recipes: Sequence[str] = (BIRDHOUSE,)) -> dict[str, Any]:
    """The data of the same call, with nothing set."""
    return planned_kit(tmp_path, *recipes, *words)


def line(data: dict[str, Any], supply: str) -> dict[str, Any]:
    return next(one for one in data["shopping"] if one["supply"] == supply)


def test_a_hundred_birdhouses(tmp_path: Path) -> None:
    """Reckoned by hand: a letter sheet gives four bases; 20 yd of twine gives twenty lengths of 36 in."""
    data = planned(tmp_path, "--for", "100", "--helpers", "4")
    charcoal = next(one for one in data["cutting"] if one["supply"] == "charcoal card")
    assert (charcoal["bought"], charcoal["bound"], charcoal["proven"]) == (25, 25, True)
    assert [one["packs"] for one in line(data, "charcoal card")["buy"]] == [2]
    assert [one["packs"] for one in line(data, "cotton twine")["buy"]] == [5]
    assert [one["packs"] for one in line(data, "foam square")["buy"]] == [2]
    assert [one["packs"] for one in line(data, "caramel")["buy"]] == [8]
    assert line(data, "caramel")["left_over"] == "20"
    to_buy = Decimal("16.80") + 3 * Decimal("11.00") + 5 * Decimal("5.25") + 2 * Decimal("4.00") + 2 * Decimal("4.50")
    assert Decimal(data["costs"]["to_buy"]) == to_buy + 8 * Decimal("4.20")
    made = Fraction(5 * 127, 5), Fraction(17 * 127, 20)
    assert [(one["across"], one["down"]) for one in charcoal["pieces"]] == [tuple(map(str, made))]


def test_recipes_share_sheets_and_packs_and_what_differs_is_told(tmp_path: Path) -> None:
    said = {
        "one": "bead: use 1, pack 10 at 5.00\n  fudge: use 1, contains milk",
        "two": "bead: use 1, pack 10 at 4.00\n  fudge: use 1",
    }
    for recipe, supplies in said.items():
        (tmp_path / recipe).mkdir()
        (tmp_path / recipe / "recipe.md").write_text(
            "---\ntitle: Square\nmakes: 1 square\nhush: supply-contains-unsaid, stock-unmet\nsupplies:\n"
            f"  blue card: cardstock, sheet A4, pack 10 sheets at 2.00\n  {supplies}\n"
            "pieces:\n  square:\n    from: blue card\n    size: 100 x 100 mm\n---\n\n## Cut it\n\ndo: cut square\n",
            encoding="utf-8",
        )
    (tmp_path / "stock.yaml").write_text("bead: 3\nglitter: 1\nblue card: 1 of A4\n", encoding="utf-8")
    done = foldwright("kit", "one", "two", "--for", "5,7", "--stock", "stock.yaml", "--out", "out", cwd=tmp_path)
    assert done.status == 0, done.out + done.err
    data = json.loads((tmp_path / "out" / "event-one-two" / "kit.json").read_text(encoding="utf-8"))
    assert [(one["recipes"], one["bought"]) for one in data["cutting"]] == [(["one", "two"], 2)]
    # Sheets are cut for both at once, then each recipe has its bags.
    jobs = [(job["what"], job["recipe"], job["count"]) for job in data["preparation"]["jobs"]]
    bags = [(what, name, kits) for name, kits in (("one", 5), ("two", 7)) for what in ("labels", "bags")]
    assert [job for job in jobs if job[0] != "sheets"] == bags
    assert {name for what, name, _ in jobs if what == "sheets"} == {None}
    assert [one["supply"] for one in data["shopping"]] == ["blue card", "bead (one)", "bead (two)", "fudge"]
    told = " ".join(done.err.split())
    assert "bead: pack is 10 at 4.00 here, but 10 at 5.00 in line 7 of “Square”" in told
    assert "“bead” may be several things here: bead (one) and bead (two)" in told
    assert "glitter" not in told and "fudge" not in told
    with pdfplumber.open(next((tmp_path / "out" / "event-one-two").glob("bag-labels-*.pdf"))) as labels:
        assert "".join(page.extract_text() for page in labels.pages).count("Contains milk") == 12


def test_prices_in_other_money_are_refused_and_what_fits_no_sheet_is_told_on_every_paper(tmp_path: Path) -> None:
    (tmp_path / "box").mkdir()
    text = (
        "---\ntitle: Box\nmakes: 1 box\nmoney: EUR\nhush: other-money\nsupplies:\n"
        "  card: cardstock, sheet A4, pack 25 sheets at {}\npieces:\n  lid:\n    from: card\n    size: {} x 100 mm\n"
        "---\n\n## Cut it\n\ndo: cut lid\nwhen: before class\ntime: 1 min\n"
    )
    for price in ("$6.40", "6.80 GBP"):
        (tmp_path / "box" / "recipe.md").write_text(text.format(price, 100), encoding="utf-8")
        done = foldwright("kit", "box", "--for", "3", "--out", "out", cwd=tmp_path)
        assert done.status == 1
        assert "but the studio’s prices are in EUR" in done.err
        assert not [*tmp_path.glob("out/*")]
    (tmp_path / "box" / "recipe.md").write_text(text.format("6.40", 310), encoding="utf-8")
    done = foldwright("kit", "box", "--for", "3", "--fee", "$12", "--out", "out", cwd=tmp_path)
    assert (done.status, "--fee $12: this is in $, but the prices are in EUR." in done.err) == (2, True)
    assert not [*tmp_path.glob("out/*")]
    done = foldwright("kit", "box", "--for", "3", "--out", "out", cwd=tmp_path)
    assert done.status == 1
    told = "lid: 3 of 310 x 100 mm do not fit on any sheet of card."
    assert told in " ".join(done.out.split())
    folder = tmp_path / "out" / "event-box"
    for paper in ("costs", "packing", "before-class"):
        with pdfplumber.open(folder / f"{paper}-a4.pdf") as pdf:
            assert told in " ".join(" ".join(page.extract_text() for page in pdf.pages).replace("×", "x").split())


def test_what_is_on_the_shelf_is_used_first(tmp_path: Path) -> None:
    (tmp_path / "stock.yaml").write_text(
        "charcoal card: 6 sheets, scraps 3 of 5 x 11 in\ncaramel: 1 pack, 15\nwet glue: plenty\n", encoding="utf-8"
    )
    data = planned(tmp_path, "--for", "100", "--stock", "stock.yaml")
    charcoal = next(one for one in data["cutting"] if one["supply"] == "charcoal card")
    # Six sheets give 24 bases, three scraps six; the other 70 take 17 1/2 sheets.
    assert charcoal["bought"] == 18
    assert (line(data, "caramel")["on_shelf"], line(data, "caramel")["buy"][0]["packs"]) == ("55", 7)
    assert line(data, "strong tape")["stand_in"] == "wet glue"


def test_a_size_is_planned_as_its_recipe_says(tmp_path: Path) -> None:
    """A large drawer's blank of 150 x 180 mm goes on A4 once."""
    data = planned(tmp_path, "--for", "10", "--size", "large", recipes=[str(RECIPES / "drawer-box")])
    sand = next(one for one in data["cutting"] if one["supply"] == "sand card")
    assert [(one["across"], one["down"]) for one in sand["pieces"]] == [("150", "180")]
    assert sand["bought"] == 10
    done = foldwright("kit", BIRDHOUSE, "--for", "10", "--size", "huge", "--out", "none", cwd=tmp_path)
    assert done.status == 2
    assert "Write one number of kits for each" not in done.err


WITH_A_FEE = ("--for", "20", "--fee", "12.50")


@pytest.fixture(scope="module")
def with_a_fee(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of an event that people pay for."""
    return folder_of(tmp_path_factory.mktemp("event"), *WITH_A_FEE)


def test_the_csv_holds_no_formula_and_adds_up(with_a_fee: Path, tmp_path: Path) -> None:
    data = data_of(with_a_fee)
    assert data == planned(tmp_path, *WITH_A_FEE)
    text = (with_a_fee / "shopping.csv").read_text(encoding="utf-8-sig")
    rows = list(csv.DictReader(io.StringIO(text)))
    assert sum((Decimal(row["sum"]) for row in rows if row["sum"]), Decimal(0)) == Decimal(data["costs"]["to_buy"])
    assert not any(cell.startswith(("=", "+", "-", "@")) for row in rows for cell in row.values())


def test_labels_carry_allergens_and_place_cards_names(tmp_path: Path) -> None:
    (tmp_path / "names.csv").write_bytes("Name;Table\nZoë Ångström;1\nBo;Garden room\n".encode("cp1252"))
    recipe = made(tmp_path, "tag", "caramel: wrapped sweet, use 2, pack 40, contains milk")
    words = ("--for", "12", "--names", "names.csv", "--units", "metric")
    folder = folder_of(tmp_path, *words, recipes=[recipe])
    with pdfplumber.open(folder / "bag-labels-a4.pdf") as pdf:
        text = "".join(page.extract_text() for page in pdf.pages)
    assert text.count("Contains milk.") == 12
    with pdfplumber.open(folder / "place-cards-a4.pdf") as pdf:
        names = pdf.pages[0].extract_text()
    assert all(word in names for word in ("Zoë", "Ångström", "Bo", "Table 1"))
    assert "Garden room" in names


def test_prices_are_on_the_costs_alone_and_the_day_is_one_page(with_a_fee: Path) -> None:
    priced = set()
    for file in with_a_fee.glob("*.pdf"):
        with pdfplumber.open(file) as pdf:
            if any("€" in page.extract_text() for page in pdf.pages):
                priced.add(file.name)
            if file.name.startswith("the-day"):
                assert len(pdf.pages) == 1
    assert priced == {"costs-letter.pdf"}


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--for", "0"], "--for 0: write how many kits, as a whole number from 1 to 10000."),
        (["--for", "1000000"], "--for 1000000: write how many kits"),
        (["--for", "10,20"], "there is one recipe"),
        (["--for", "10", "--helpers", "0"], "--helpers 0: write how many people prepare"),
        (["--for", "10", "--fee", "-3"], "--fee -3: write what each person pays"),
        (["--for", "10", "--cost", "hall"], "--cost hall: write what it is for and how much"),
        (["--for", "10", "--labels", "4 x 2"], "--labels 4 x 2: write how large a label is"),
    ],
)
def test_a_call_that_is_wrong_is_told_and_nothing_is_written(tmp_path: Path, words: list[str], said: str) -> None:
    done = foldwright("kit", BIRDHOUSE, *words, "--out", "out", cwd=tmp_path)
    assert done.status == 2
    assert said in " ".join(done.err.split())
    assert not (tmp_path / "out").exists()


def test_a_shelf_with_a_slip_is_told_with_its_place(tmp_path: Path) -> None:
    (tmp_path / "stock.yaml").write_text("charcoal card: -6 sheets\n", encoding="utf-8")
    done = foldwright("kit", BIRDHOUSE, "--for", "10", "--stock", "stock.yaml", "--out", "out", cwd=tmp_path)
    assert done.status == 1
    assert "stock.yaml" in done.err
    assert "-6" in done.err
    assert list((tmp_path / "out").iterdir()) == []


def made(folder: Path, name: str, *supplies: str) -> str:
    """A recipe of a tag and some supplies more."""
    facts = [
        "title: Tag",
        "makes: 1 tag",
        "measured in: inches",
        "supplies:",
        "  card: cardstock, sheet A4, pack 10 sheets",
    ]
    facts += [f"  {supply}" for supply in supplies] + ["pieces:", "  tag:", "    from: card", "    size: 50 x 100 mm"]
    (folder / name).mkdir()
    text = "\n".join(("---", *facts, "---", "", "## Cut it", "", "do: cut tag", ""))
    (folder / name / "recipe.md").write_text(text, encoding="utf-8")
    return name


_SQ_IN = 15 / Fraction("6.4516")
# Ten kits, reckoned by hand: 1 cl is 10 ml; 1 cup is 8 fl oz; 1 lb is 16 oz and 453.59237 g; 1 sq ft is 144 sq in; 1 sq
# in is 6.4516 cm²; a spool of 20 yd (720 in) gives twenty lengths of 36 in.
AMOUNTS = {
    "white glue: glue, use 5 cl, pack 100 ml": ("ml", "500", 5, "0"),
    "clear glue: glue, use 2 fl oz, pack 1 cup": ("cup", "5/2", 3, "1/2"),
    "thin glue: glue, use 1 tbsp, pack 8 fl oz": ("fl oz", "5", 1, "3"),
    "red flock: glitter, use 2 oz, pack 1 lb": ("lb", "5/4", 2, "3/4"),
    "blue flock: glitter, use 2 oz, pack 250 g": ("g", "45359237/80000", 3, str(750 - Fraction("566.9904625"))),
    "felt: felt, use 20 sq in, pack 1 sq ft": ("sq ft", "25/18", 2, "11/18"),
    "patch: felt, use 1.5 sq cm, pack 1 sq in": ("sq in", str(_SQ_IN), 3, str(3 - _SQ_IN)),
    "twine: twine, use 36 in, pack 20 yd": ("mm", "9144", 1, "9144"),
    "bead: bead, use 4, pack 15 beads": (None, "40", 3, "5"),
}


def test_amounts_are_added_up_and_bought_whatever_their_units(tmp_path: Path) -> None:
    data = planned(tmp_path, "--for", "10", recipes=[made(tmp_path, "tag", *AMOUNTS)])
    for supply, (unit, needed, packs, left) in AMOUNTS.items():
        bought = line(data, supply.partition(":")[0])
        assert (bought["unit"], bought["needed"], bought["left_over"]) == (unit, needed, left), supply
        assert [one["packs"] for one in bought["buy"]] == [packs], supply


@pytest.mark.parametrize(
    ("supply", "said"),
    [
        ("glue: glue, use 2 oz, pack 1 cup", "each kit uses 2 oz, but the pack (line 7) holds 1 cup"),
        ("twine: twine, use 4, pack 20 yd", "each kit uses 4, but the pack (line 7) holds 20 yd"),
    ],
)
def test_what_cannot_be_added_up_is_told_by_check_and_by_kit_and_nothing_is_planned(
    tmp_path: Path, supply: str, said: str
) -> None:
    recipe = made(tmp_path, "tag", supply)
    checked = foldwright("check", recipe, cwd=tmp_path)
    done = foldwright("kit", recipe, "--for", "10", "--out", "out", cwd=tmp_path)
    assert (checked.status, done.status) == (1, 1)
    assert said in " ".join(checked.out.split())
    assert said in " ".join(done.err.split())
    assert "Nothing was planned" in done.err
    assert not list((tmp_path / "out").iterdir())


def test_recipes_and_the_shelf_are_told_apart_too(tmp_path: Path) -> None:
    one, other = made(tmp_path, "one", "glue: glue, use 5 cl"), made(tmp_path, "two", "glue: glue, use 2 oz")
    done = foldwright("kit", one, other, "--for", "5,5", "--out", "out", cwd=tmp_path)
    assert done.status == 1
    assert "2 oz here, but 5 cl in line 7 of “Tag”" in " ".join(done.err.split())
    (tmp_path / "stock.yaml").write_text("glue: 8 oz\n", encoding="utf-8")
    done = foldwright("kit", one, "--for", "5", "--stock", "stock.yaml", "--out", "out", cwd=tmp_path)
    assert done.status == 1
    assert "8 oz here, but 5 cl in line 7 of “Tag”" in " ".join(done.err.split())
    (tmp_path / "stock.yaml").write_text("glue: 8 fl oz\n", encoding="utf-8")
    data = planned(tmp_path, "--for", "5", "--stock", "stock.yaml", recipes=[one])
    # 8 fl oz are 23.6588 cl, 25 cl are needed.
    assert Fraction(line(data, "glue")["on_shelf"]) == Fraction("23.65882365")


# A spool of 20 yd is 18.288 m: nineteen lengths of 920 mm, which is what the metric pages say for 36 in.
def test_what_is_cut_off_a_spool_is_planned_as_it_is_printed(tmp_path: Path) -> None:
    recipe = made(tmp_path, "tag", "twine: twine, use 36 in, pack 20 yd")
    data = planned(tmp_path, "--for", "20", "--units", "metric", recipes=[recipe])
    assert [one["packs"] for one in line(data, "twine")["buy"]] == [2]
    assert line(data, "twine")["needed"] == "18400"


def test_the_lists_of_a_folder_speak_its_own_units(tmp_path: Path) -> None:
    recipe = made(tmp_path, "tag", "glue: glue, use 1 fl oz, pack 4 fl oz")
    for units, needed, pack in (("imperial", "10 fl oz", "4 fl oz"), ("metric", "296 ml", "4 fl oz (118 ml)")):
        out = f"out-{units}"
        done = foldwright("kit", recipe, "--for", "10", "--units", units, "--out", out, cwd=tmp_path)
        assert done.status == 0, done.err
        rows = list(csv.DictReader(io.StringIO(next((tmp_path / out).rglob("*.csv")).read_text(encoding="utf-8-sig"))))
        row = next(one for one in rows if one["supply"] == "glue")
        assert (row["needed"], row["a pack holds"]) == (needed, pack)


def test_what_will_not_fit_is_planned_and_ends_with_one(tmp_path: Path) -> None:
    write(tmp_path, "card", MISFIT)
    done = foldwright("kit", "card", "--for", "2", "--out", "out", cwd=tmp_path)
    assert done.status == 1
    assert "7 7/8 in" in done.err
    assert (tmp_path / "out/event-card/kit.json").is_file()
