"""Lists of guests beyond name and table: RFC 4180's own examples, headings of other languages, projects, diets."""

from __future__ import annotations

import pytest

from foldwright.document.findings import tell
from foldwright.event.facts.guests import Guest, GuestsRead, chosen, read_guests
from foldwright.event.facts.projects import Offered, recipe_meant
from foldwright.finding import Strength

FILE = "guests.csv"
BIRDHOUSE = Offered("birdhouse", ("Birdhouse favour box", "birdhouse"))
DRAWER = Offered("drawer-box", ("Drawer box with sleeve", "drawer-box"), "as written")
LARGE = Offered(
    "drawer-box", ("Drawer box with sleeve, large", "drawer-box-large", "drawer-box", DRAWER.names[0]), "large"
)
OFFERED = (BIRDHOUSE, DRAWER, LARGE)


def read(text: str, offered: tuple[Offered, ...] = ()) -> GuestsRead:
    return read_guests(text.encode(), FILE, offered)


def guests_of(found: GuestsRead) -> tuple[Guest, ...]:
    return found.guests or ()


def told(found: GuestsRead) -> list[tuple[str, int]]:
    """Codes and lines; each finding has words and says what to do."""
    lines = []
    for finding in found.findings:
        one = tell(finding, {FILE: found.text})
        assert one.says
        assert one.remedy
        lines.append((finding.code, one.line))
    return lines


@pytest.mark.parametrize(
    ("text", "rows"),
    [
        ("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", [("aaa", "bbb", "ccc"), ("zzz", "yyy", "xxx")]),  # rule 1
        (
            "aaa,bbb,ccc\r\nzzz,yyy,xxx",
            [("aaa", "bbb", "ccc"), ("zzz", "yyy", "xxx")],
        ),  # rule 2: no line end at the end
        ('"aaa","bbb","ccc"\r\nzzz,yyy,xxx', [("aaa", "bbb", "ccc"), ("zzz", "yyy", "xxx")]),  # rule 5
        # Rule 6: line breaks and commas inside quotes; a card has one line, so that a break becomes a blank.
        ('"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx', [("aaa", "b bb", "ccc"), ("zzz", "yyy", "xxx")]),
        ('"aaa","b""bb","ccc"', [("aaa", 'b"bb', "ccc")]),  # rule 7
    ],
)
def test_the_examples_of_rfc_4180(text: str, rows: list[tuple[str, str, str]]) -> None:
    """RFC 4180, section 2, with its own letters; rule 3, a line of headings, is every other test's."""
    found = read(text)
    assert found.findings == ()
    assert [(one.name, one.table, one.note) for one in guests_of(found)] == rows


@pytest.mark.parametrize(
    ("headings", "row", "guest"),
    [
        ("Name;Vorname;Tisch;Projekt;Unverträglichkeiten;Größe", "Okafor;Zoë;4;Vogelhaus;Nüsse;groß", "Zoë Okafor"),
        ("NOM,Prénom,Table,Projet,Régime alimentaire,Taille", "Okafor,Zoë,4,Vogelhaus,Nüsse,groß", "Zoë Okafor"),
        ("Nombre,Apellidos,Mesa,Proyecto,Alergias,Talla", "Zoë,Okafor,4,Vogelhaus,Nüsse,groß", "Zoë Okafor"),
        ("Nome,Cognome,Tavolo,Progetto,Allergie,Taglia", "Zoë,Okafor,4,Vogelhaus,Nüsse,groß", "Zoë Okafor"),
        ("Voornaam\tAchternaam\tTafel\tProject\tDieet\tMaat", "Zoë\tOkafor\t4\tVogelhaus\tNüsse\tgroß", "Zoë Okafor"),
        ("Imię i nazwisko;Stół;Projekt;Alergie;Rozmiar", "Zoë Okafor;4;Vogelhaus;Nüsse;groß", "Zoë Okafor"),
        ("Name,First name,Table,Project,Diet,Size", "Zoë Okafor,Zoë,4,Vogelhaus,Nüsse,groß", "Zoë Okafor"),
    ],
)
def test_headings_of_other_languages(headings: str, row: str, guest: str) -> None:
    """The words are common ones of each language, from memory."""
    found = read(f"{headings}\n{row}\n")
    assert found.findings == ()
    assert guests_of(found) == (Guest(guest, "4", "", "Vogelhaus", "Nüsse", "groß"),)


def test_headings_that_no_table_knows_are_seen_by_what_stands_below_them() -> None:
    text = "Numele;Masa;Lucrare;Alimentatie\nZoë;4;birdhouse;vegan\nBo;5;Drawer box;no nuts\nAda;4;birdhouse;\n"
    found = read(text, (BIRDHOUSE, Offered("drawer-box", DRAWER.names)))
    assert told(found) == [("guests-columns-guessed", 1)]
    assert guests_of(found) == (
        Guest("Zoë", "4", "", "birdhouse", "vegan", "", 0),
        Guest("Bo", "5", "", "Drawer box", "no nuts", "", 1),
        Guest("Ada", "4", "", "birdhouse", "", "", 0),
    )


def test_the_questions_of_a_form_are_headings() -> None:
    text = "Timestamp,Email,Your name,What would you like to make?,Any allergies?\n"
    text += (
        "2027-01-01,z@harbourstreet.example,Zoë,birdhouse,nuts\n2027-01-02,b@harbourstreet.example,Bo,drawer box L,\n"
    )
    found = read(text, OFFERED)
    assert told(found) == [("guests-column-taken", 1)]
    assert guests_of(found) == (
        Guest("Zoë", "", "", "birdhouse", "nuts", "", 0),
        Guest("Bo", "", "", "drawer box L", "", "", 2),
    )


@pytest.mark.parametrize(
    ("text", "guests"),
    [
        ("Lily;Zoë\nLily;Bo\nLily;Ada\nRose;Kim\nRose;Eli\n", [("Zoë", "Lily"), ("Bo", "Lily"), ("Ada", "Lily")]),
        ("Zoë;Lily\nBo;Lily\nAda;Lily\nKim;Rose\n", [("Zoë", "Lily"), ("Bo", "Lily"), ("Ada", "Lily")]),
        ("4;Zoë\n4;Bo\n5;Ada\n", [("Zoë", "4"), ("Bo", "4"), ("Ada", "5")]),
        ("z@harbourstreet.example;Zoë;4\nb@harbourstreet.example;Bo;5\n", [("Zoë", "4"), ("Bo", "5")]),
        ("Kit Lund;Garden table\nZoë;Garden table\n", [("Kit Lund", "Garden table"), ("Zoë", "Garden table")]),
    ],
)
def test_without_headings_tables_are_numbers_or_words_that_come_again(text: str, guests: list[tuple[str, str]]) -> None:
    assert [(one.name, one.table) for one in guests_of(read(text))][: len(guests)] == guests


def test_one_unknown_heading_among_known_ones_is_told_with_what_it_is_taken_for() -> None:
    found = read("Name,Making what,Age\nZoë,birdhouse,7\nBo,drawer box large,8\n", OFFERED)
    assert told(found) == [("guests-column-taken", 1)]
    assert [(one.recipe, one.table) for one in guests_of(found)] == [(0, ""), (2, "")]


@pytest.mark.parametrize(
    ("project", "size", "recipe"),
    [
        ("Birdhouse favour box", "", 0),
        ("birdhouse", "", 0),
        ("bird-house", "", 0),
        ("BIRDHOUSES", "", 0),
        ("the birdhouse favour box, please", "", 0),
        ("drawer box", "large", 2),
        ("drawer-box", "L", 2),
        ("Drawer box with sleeve", "grande", 2),
        ("drawer box large", "", 2),
        ("drawer-box", "as written", 1),
        ("Drawer box (L)", "", 2),
    ],
)
def test_what_a_project_and_a_size_mean(project: str, size: str, recipe: int) -> None:
    meant = recipe_meant(project, size, OFFERED)
    assert (meant.recipe, meant.slip) == (recipe, "")


@pytest.mark.parametrize(
    ("project", "size", "slip", "near"),
    [
        ("birdhose", "", "guests-project-unknown", "Birdhouse favour box"),
        ("lantern", "", "guests-project-unknown", ""),
        ("box", "", "guests-project-several", ""),
        ("", "large", "guests-project-missing", ""),
        ("drawer-box", "", "guests-size-missing", ""),
        ("Drawer box with sleeve", "", "guests-size-missing", ""),
        ("drawer-box", "small", "guests-size-unknown", ""),
    ],
)
def test_what_cannot_be_told_is_not_guessed(project: str, size: str, slip: str, near: str) -> None:
    meant = recipe_meant(project, size, OFFERED)
    assert (meant.recipe, meant.slip, meant.near) == (None, slip, near)


def test_slips_of_projects_and_sizes_are_told_with_their_line() -> None:
    rows = "Zoë,birdhose,\nBo,lantern,\nAda,box,\nEli,drawer-box,\nKim,drawer-box,small\nIvo,,\nMia,birdhouse,XL\n"
    found = read(f"name,project,size\n{rows}Noa,birdhouse,\n", OFFERED)
    assert told(found) == [
        ("guests-project-unknown-near", 2), ("guests-project-unknown", 3), ("guests-project-several", 4),
        ("guests-size-missing", 5), ("guests-size-unknown", 6), ("guests-project-missing", 7), ("guests-size-one", 8),
    ]  # fmt: skip
    assert chosen(guests_of(found), 3) == (2, 0, 0)


def test_with_one_recipe_everybody_makes_it() -> None:
    found = read("name\nZoë\nBo\n", (BIRDHOUSE,))
    assert told(found) == []
    assert chosen(guests_of(found), 1) == (2,)


def test_a_list_without_projects_for_several_recipes_is_told_once() -> None:
    found = read("name\nZoë\nBo\n", (BIRDHOUSE, DRAWER))
    assert told(found) == [("guests-no-projects", 2)]


def test_a_name_that_stands_twice_is_told_with_both_lines_and_kept() -> None:
    found = read("name,table\nKim Berg,4\nBo,4\nkim berg,5\n")
    assert told(found) == [("guests-name-twice", 4)]
    assert "line 2" in tell(found.findings[0], {FILE: found.text}).says
    assert [one.name for one in guests_of(found)] == ["Kim Berg", "Bo", "kim berg"]


def test_a_table_with_two_projects_is_told() -> None:
    found = read(
        "name,table,project\nZoë,Lily,birdhouse\nBo,lily,drawer box\nAda,Rose,birdhouse\n", (BIRDHOUSE, DRAWER)
    )
    assert told(found) == [("guests-table-mixed", 3)]


def test_a_table_with_two_sizes_of_one_project_is_nothing_to_speak_of() -> None:
    found = read("name,table,project,size\nZoë,4,drawer box,L\nBo,4,drawer box,as written\n", OFFERED)
    assert told(found) == []


def test_a_diet_that_is_too_long_is_cut_and_never_dropped() -> None:
    found = read("name,diet\nZoë,no nuts " + "and no fuss " * 50 + "\n")
    assert [(one.code, one.strength) for one in found.findings] == [("guests-diet-too-long", Strength.FAULT)]
    assert guests_of(found)[0].diet.startswith("no nuts")
