"""What follows from another piece, and what holds things together. Numbers are reckoned by hand beside each check."""

from __future__ import annotations

import pytest

from begin.resize.made_up import entry_of, recipe, resized


def entry(pieces: str, scale: str = "", supplies: str = "", **asked: str) -> str:
    made = resized(recipe(pieces, supplies), scale, **asked)
    assert not made.wrong, (made.checked.findings, made.broken)
    return entry_of(made)


def tray(name: str, across: str, down: str, more: str = "", form: str = "tray") -> str:
    return (
        f"  {name}:\n    from: card\n    across: {across}\n    down: {down}\n"
        f"    flaps: joined to left and right, trimmed 1 mm\n    fold: {form}\n{more}"
    )


def test_a_lid_keeps_its_gap():
    pieces = tray("base", "40 mm | 80 mm | 40 mm", "40 mm | 60 mm | 40 mm")
    pieces += tray("lid", "20 mm | 83 mm | 20 mm", "20 mm | 63 mm | 20 mm", "    fits over: base\n", "lid")
    # Half: 40 x 30 mm, and 3 mm more; the walls 20 and 10.
    assert entry(pieces, "0.5") == (
        "base:\n  across: 20 mm | 40 mm | 20 mm\n  down: 20 mm | 30 mm | 20 mm\n"
        "lid:\n  across: 10 mm | 43 mm | 10 mm\n  down: 10 mm | 33 mm | 10 mm"
    )


def test_a_sleeve_keeps_its_play_and_its_glue_flap():
    pieces = tray("drawer", "20 mm | 60 mm | 20 mm", "20 mm | 90 mm | 20 mm", "    slides in: sleeve\n")
    pieces += "  sleeve:\n    from: card\n    size: 180 x 90 mm\n    across: 62 | 22 | 62 | 22 | 12 glue flap\n"
    # 60 x 1.3 = 78, and 2 more; 20 x 1.3 = 26, and 2 more; 90 x 1.3 = 117. 80 + 28 + 80 + 28 + 12 = 228.
    made = entry(pieces + "    fold: sleeve\n", "1.3")
    assert made.endswith("sleeve:\n  size: 228 x 117 mm\n  across: 80 | 28 | 80 | 28 | 12 glue flap")


@pytest.mark.parametrize("flap", ["12 glue flap", "12 glue tab", "12 tab", "12 side flap", "12"])
def test_a_glue_flap_stays_by_its_name_or_where_walls_go_round(flap):
    # 60 x 1.5 = 90, 25 x 1.5 = 37.5: 38; 90 + 38 + 90 + 38 + 12 = 268; 80 x 1.5 = 120.
    box = f"  wrap:\n    from: card\n    size: 182 x 80 mm\n    across: 60 | 25 | 60 | 25 | {flap}\n"
    assert entry(box, "1.5") == f"wrap:\n  size: 268 x 120 mm\n  across: 90 | 38 | 90 | 38 | {flap}"


def test_a_narrow_last_page_is_no_glue_flap():
    pages = "  pages:\n    from: card\n    size: 162 x 80 mm\n    across: 60 | 50 | 40 | 12\n"
    assert entry(pages, "1.5") == "pages:\n  size: 243 x 120 mm\n  across: 90 | 75 | 60 | 18"


def test_a_leaf_that_is_narrower_to_fold_in_stays_so_much_narrower():
    # 99 x 0.6 = 59.4: 59, and 2 less; 210 x 0.6 = 126.
    leaflet = "  leaflet:\n    from: card\n    size: 295 x 210 mm\n    across: 99 | 99 | 97\n    fold: tri-fold\n"
    assert entry(leaflet, "0.6") == "leaflet:\n  size: 175 x 126 mm\n  across: 59 | 59 | 57"


def test_steps_between_panels_are_scaled_where_they_are_no_allowance():
    # 2 mm are a tenth of 20 mm: these are pages of different widths. 20, 22 and 24 twice as wide.
    pages = "  pages:\n    from: card\n    size: 66 x 80 mm\n    across: 20 | 22 | 24\n"
    assert entry(pages, "2") == "pages:\n  size: 132 x 160 mm\n  across: 40 | 44 | 48"


@pytest.mark.parametrize(("form", "wide"), [("pocket", 4), ("envelope", 6)])
def test_what_a_card_slides_into_keeps_its_room(form, wide):
    note = "  note:\n    from: card\n    size: 84 x 52 mm\n    slides in: holder\n"
    holder = f"  holder:\n    from: card\n    fold: {form}\n    finished: {84 + wide} x {52 + wide} mm\n"
    # 84 x 1.25 = 105 and 52 x 1.25 = 65.
    assert entry(note + holder, "1.25") == (
        f"note:\n  size: 105 x 65 mm\nholder:\n  finished: {105 + wide} x {65 + wide} mm"
    )


def test_a_belt_laps_as_far_as_it_did():
    # Round floor and walls it is 2 x (80 + 40) = 240 mm between the scores, at 0.6 144 mm: 96 mm less, so 160 mm.
    pieces = tray("base", "40 mm | 80 mm | 40 mm", "40 mm | 50 mm | 40 mm")
    pieces += "  belt:\n    from: card\n    size: 256 x 20 mm\n    goes round: base\n"
    assert entry(pieces, "0.6").endswith("belt:\n  size: 160 x 12 mm")


def test_a_band_of_no_said_length_is_only_as_wide():
    pieces = tray("base", "40 mm | 80 mm | 40 mm", "40 mm | 50 mm | 40 mm")
    pieces += "  band:\n    from: card\n    size: rest x 30 mm\n    goes round: base\n"
    assert entry(pieces, "1.5").endswith("band:\n  size: rest x 45 mm")


def test_a_lid_by_its_inside_keeps_its_room_and_is_as_much_deeper():
    pieces = (
        "  base:\n    from: card\n    fold: tray\n    inside: 60 x 60 x 30 mm\n    flaps: joined to front and back\n"
    )
    pieces += (
        "  lid:\n    from: card\n    fold: lid\n    inside: 1 mm bigger on every side than base outside, 20 mm deep\n"
        "    flaps: joined to front and back\n"
    )
    assert entry(pieces, "1.5") == (
        "base:\n  inside: 90 x 90 x 45 mm\nlid:\n  inside: 1 mm bigger on every side than base outside, 30 mm deep"
    )


def test_a_sleeve_by_its_inside_follows_its_tray_every_way():
    pieces = (
        "  tray:\n    from: card\n    fold: tray\n    inside: 60 x 90 x 20 mm\n    flaps: joined to front and back\n"
    )
    pieces += "  sleeve:\n    from: card\n    fold: sleeve\n    inside: 63 x 23 x 92 mm\n    fits over: tray\n"
    # 60, 90 and 20 x 1.3 = 78, 117 and 26: 18, 27 and 6 more.
    assert entry(pieces, "1.3") == "tray:\n  inside: 78 x 117 x 26 mm\nsleeve:\n  inside: 81 x 29 x 119 mm"
    # Soaps of 50 x 30 x 20 mm, 2 x 3 and with 1 mm to spare: 101 x 91 mm, or 151 x 61 mm, as high as the tray is.
    other = entry(pieces, holds="6 soaps of 50 x 30 x 20 mm")
    assert other == "tray:\n  inside: 91 x 101 x 20 mm\nsleeve:\n  inside: 94 x 23 x 103 mm"


def test_a_panel_of_a_worked_out_form_carries_its_label():
    pieces = "  box:\n    from: card\n    fold: tuck box\n    inside: 60 x 20 x 90 mm\n"
    pieces += "  label:\n    from: card\n    size: 40 x 30 mm\n    goes on: outside of box front, centred\n"
    assert entry(pieces, "1.5") == "box:\n  inside: 90 x 30 x 135 mm\nlabel:\n  size: 60 x 45 mm"


def test_what_belongs_to_something_bought_keeps_its_size():
    supplies = "  jar: jar, size round 65 x 90 mm, use 1\n"
    pieces = "  wrap:\n    from: card\n    size: 220 x 40 mm\n    goes round: jar\n"
    pieces += "  tag:\n    from: card\n    size: 40 x 60 mm\n"
    made = resized(recipe(pieces, supplies), "1.5")
    assert not made.wrong
    assert entry_of(made) == "tag:\n  size: 60 x 90 mm"
    assert ("stays-with", "wrap") in {(note.code, dict(note.facts)["piece"]) for note in made.notes}


def test_every_number_stays_in_its_own_unit():
    # 10 and 14.5 cm x 1.3 = 13 and 18.85: on a whole millimetre 18.9.
    card = "  card:\n    from: card\n    size: 10 x 14.5 cm\n    across: 5 | 5\n    fold: card\n"
    assert entry(card, "1.3") == "card:\n  size: 13 x 18.9 cm\n  across: 6.5 | 6.5"


def test_the_leaves_of_a_gate_still_meet():
    # 2 1/8 x 1.1 = 2.3375: 2 3/8 in, twice that is 4 3/4; 4 1/4 x 1.1 = 4.675 would be 4 5/8.
    gate = "  gate:\n    from: card\n    size: 8 1/2 x 5 in\n    across: 2 1/8 | 4 1/4 | 2 1/8\n    fold: gate\n"
    # 5 x 1.1 = 5.5.
    assert entry(gate, "1.1") == "gate:\n  size: 9 1/2 x 5 1/2 in\n  across: 2 3/8 | 4 3/4 | 2 3/8"


def test_a_strip_across_a_fold_is_glued_where_it_belongs():
    # Tabs stay 15 mm. 50 and 40 x 1.1 = 55 and 44: so far from the fold the ends lie, crosswise.
    pieces = (
        "  greeting:\n    from: card\n    size: 148 x 200 mm\n    down: 100 back | 100 front\n    fold: card\n"
        "  bench:\n    from: card\n    size: 120 x 40 mm\n    across: 15 tab 1 | 50 top | 40 front | 15 tab 2\n"
        "    glued: tab 1 to inside of greeting back, 40 mm from the fold, "
        "tab 2 to inside of greeting front, 50 mm from the fold\n"
    )
    assert entry(pieces, "1.1").endswith(
        "bench:\n  size: 129 x 44 mm\n  across: 15 tab 1 | 55 top | 44 front | 15 tab 2\n"
        "  glued: tab 1 to inside of greeting back, 44 mm from the fold, "
        "tab 2 to inside of greeting front, 55 mm from the fold"
    )


def test_a_finished_size_is_that_of_the_panels():
    # 60 x 0.65 = 39, 90 x 0.65 = 58.5: 59, 25 x 0.65 = 16.25: 16. The finished size is that, and not 58.5 mm.
    pieces = tray("base", "25 mm | 60 mm | 25 mm", "25 mm | 90 mm | 25 mm", "    finished: 60 x 90 x 25 mm\n")
    assert entry(pieces, "0.65").endswith("finished: 39 x 59 x 16 mm")


def test_strips_are_woven_without_rounding_where_they_would_not_fit_rounded():
    # Five strips of 1/2 in in slits of 2 1/2 in: at 0.9 rounded they would still take 2 1/2 in, of 2 1/4 in.
    slits = "".join(f"      - cut from {at} across 1/2 down to {at} across 3 down\n" for at in ("1", "2", "3"))
    pieces = f"  mat:\n    from: card\n    size: 4 x 3 1/2 in\n    lines:\n{slits}"
    pieces += "  strip:\n    from: card\n    count: 5\n    size: 1/2 x 4 in\n    woven through: mat\n"
    made = resized(recipe(pieces, units="inches"), "0.9")
    assert not made.wrong
    assert {dict(note.facts)["piece"] for note in made.notes if note.code == "not-rounded"} == {"mat", "strip"}
    assert "strip:\n  size: 0.45 x 3.6 in" in entry_of(made)


def test_a_sleeve_round_a_square_drawer_is_as_long_as_the_side_that_goes_in():
    pieces = tray("drawer", "20 mm | 60 mm | 20 mm", "20 mm | 60 mm | 20 mm", "    slides in: sleeve\n")
    pieces += "  sleeve:\n    from: card\n    size: 180 x 60 mm\n    across: 62 | 22 | 62 | 22 | 12 glue flap\n"
    made = entry(pieces + "    fold: sleeve\n", holds="1 pen of 90 x 20 x 18 mm")
    # It lies 20 mm high, as the drawer is: walls of 20 + 0.15 mm, taken up to 21. Across 18 mm and 1 mm to spare, the
    # card of 0.3 mm, and 0.6 mm since the flaps are longer now: 19.9. Down 90 + 1 + 0.3, a flap at either end (0.6 mm)
    # and as much again: 92.5.
    assert made == (
        "drawer:\n  across: 21 mm | 20 mm | 21 mm\n  down: 21 mm | 93 mm | 21 mm\n"
        "sleeve:\n  size: 102 x 93 mm\n  across: 22 | 23 | 22 | 23 | 12 glue flap"
    )


def test_the_flaps_round_a_pocket_stay():
    # 80 x 0.7 = 56, 58 x 0.7 = 40.6: 41; 12 mm of glue on three sides stay. 120 x 160 mm are 84 x 112.
    pieces = (
        "  page:\n    from: card\n    size: 120 x 160 mm\n"
        "  pocket:\n    from: card\n    size: 104 x 70 mm\n    across: 12 | 80 | 12\n    down: 58 | 12\n"
        "    corners: cut away\n    goes on: page, centred\n"
    )
    assert entry(pieces, "0.7").endswith("pocket:\n  size: 80 x 53 mm\n  across: 12 | 56 | 12\n  down: 41 | 12")


def test_the_side_flaps_of_an_envelope_stay_and_those_that_close_it_are_scaled():
    # 15 mm of glue at the sides stay; 120 x 0.7 = 84, 50, 80 and 45 x 0.7 = 35, 56 and 31.5: 32.
    envelope = (
        "  envelope:\n    from: card\n    size: 150 x 175 mm\n    across: 15 | 120 | 15\n    down: 50 | 80 | 45\n"
        "    corners: cut away\n    fold: envelope\n"
    )
    assert entry(envelope, "0.7") == ("envelope:\n  size: 114 x 123 mm\n  across: 15 | 84 | 15\n  down: 35 | 56 | 32")


def test_the_walls_of_a_tray_without_flaps_are_scaled():
    # No flap is glued, though 20 mm are narrow beside 100 mm. 20 x 1.5 = 30.
    tray_ = (
        "  tray:\n    from: card\n    size: 140 x 120 mm\n    across: 20 | 100 | 20\n    down: 20 | 80 | 20\n"
        "    corners: cut away\n    fold: tray\n"
    )
    assert entry(tray_, "1.5") == "tray:\n  size: 210 x 180 mm\n  across: 30 | 150 | 30\n  down: 30 | 120 | 30"


def test_a_tube_that_is_given_flat_stays_the_tube_it_is_rolled_to():
    # 170 mm go once round 50 mm (157.1) and lap by 12.9 mm; 0.7 times as large 119 mm round 35 mm (110.0), 9 mm over.
    tube = "  tube:\n    from: card\n    size: 170 x 80 mm\n    fold: tube\n    finished: 50 x 80 mm\n"
    assert entry(tube, "0.7") == "tube:\n  size: 119 x 56 mm\n  finished: 35 x 56 mm"


def test_how_far_woven_strips_stand_out_is_scaled_with_them():
    # Four strips of 10 mm each way make a mat of 40 mm, of which 20 mm stand out at either end: 80 mm. Half as large
    # again they are 15 and 120 mm, and 30 mm stand out.
    pieces = (
        "  dark:\n    from: card\n    count: 4\n    size: 10 x 80 mm\n    woven with: light, 20 mm over at each end\n"
        "  light:\n    from: card\n    count: 4\n    size: 80 x 10 mm\n"
    )
    assert entry(pieces, "1.5") == (
        "dark:\n  size: 15 x 120 mm\n  woven with: light, 30 mm over at each end\nlight:\n  size: 120 x 15 mm"
    )
