"""What lies on a face in another size. Every number is reckoned by hand beside its check."""

from __future__ import annotations

import pytest

from begin.resize.made_up import entry_of, recipe, resized

TRAY = """  base:
    from: card
    size: 160 x 144 mm
    across: 40 left | 80 floor | 40 right
    down: 40 back | 64 floor | 40 front
    flaps: joined to left and right, trimmed 1 mm
    fold: tray
"""
PANEL = """  panel:
    from: card
    size: 100 x 140 mm
"""


def lain(under: str, size: str, lies: str, more: str = "") -> str:
    return recipe(f"{under}  piece:\n    from: card\n    size: {size}\n    goes on: {lies}\n{more}")


def in_size(under: str, size: str, lies: str, scale: str, more: str = "") -> tuple[str, set[str]]:
    """The entry of the piece, and the codes of the notes."""
    made = resized(lain(under, size, lies, more), scale)
    assert not made.wrong, (made.checked.findings, made.broken)
    entry = entry_of(made)
    return entry[entry.index("piece:\n") :] if "piece:\n" in entry else "", {note.code for note in made.notes}


def test_a_label_keeps_its_shape():
    # The floor is 80 x 64 mm: 10 mm show at the sides, 23 mm above and below; more than an eighth of 18 mm is wide.
    # Three quarters: 60 x 3/4 = 45, 18 x 3/4 = 13.5, and 14 is the nearest mark (the larger of two as near).
    entry, codes = in_size(TRAY, "60 x 18 mm", "inside of base floor, centred", "0.75")
    assert entry == "piece:\n  size: 45 x 14 mm"
    assert codes == {"label"}


@pytest.mark.parametrize(
    ("scale", "size"),
    [
        # The panel becomes 60 x 84, 150 x 210 and 200 x 280 mm; 4 mm show all round, 8 mm of either side.
        ("0.6", "52 x 76 mm"),
        ("1.5", "142 x 202 mm"),
        ("2", "192 x 272 mm"),
    ],
)
def test_a_mat_keeps_its_border(scale, size):
    entry, codes = in_size(PANEL, "92 x 132 mm", "panel, centred", scale)
    assert entry == f"piece:\n  size: {size}"
    assert codes == {"keeps-border"}


def test_three_narrow_borders_stay_and_the_wide_one_is_scaled():
    # 5 mm show left, right and below, 45 mm above. At 1.4 the panel is 140 x 196 mm: 140 - 10 across; above
    # 45 x 1.4 = 63, so 196 - 5 - 63 down.
    entry, codes = in_size(PANEL, "90 x 90 mm", "panel, lined up 5 mm from the bottom", "1.4")
    assert entry == "piece:\n  size: 130 x 128 mm"
    assert codes == {"keeps-border"}


def test_a_cover_sticks_out_as_far_as_it_did():
    # 3 mm on every side of 100 x 140 mm; at 0.5 the panel is 50 x 70 mm.
    entry, codes = in_size(PANEL, "106 x 146 mm", "panel, centred", "0.5")
    assert entry == "piece:\n  size: 56 x 76 mm"
    assert codes == {"keeps-overhang"}


def test_a_roof_sticks_out_in_proportion():
    # 15 mm beyond either side at the top: 130 x 0.6 = 78 across, 40 x 0.6 = 24 down, on a panel of 60 x 84 mm.
    entry, codes = in_size(PANEL, "130 x 40 mm", "panel, lined up at the top, centred", "0.6")
    assert entry == "piece:\n  size: 78 x 24 mm"
    assert codes == {"sticks-out"}


def test_what_hardly_sticks_out_still_does():
    # 1 mm in all across. At 0.5 both would be rounded to 50 mm (50.5 to 51 at the most): it stays beyond the panel.
    entry, _ = in_size(PANEL, "101 x 30 mm", "panel, lined up at the top", "0.5")
    assert entry == "piece:\n  size: 51 x 15 mm"


def test_what_is_as_wide_as_its_face_stays_so():
    # 100 x 0.83 = 83; 31 x 0.83 = 25.73.
    entry, _ = in_size(PANEL, "100 x 31 mm", "panel, centred", "0.83")
    assert entry == "piece:\n  size: 83 x 26 mm"


def test_a_label_stays_within_its_face():
    # 1 mm in all is left across, 139 mm down. At 0.5: 99 x 0.5 = 49.5, rounded 50, and the panel is 50 mm wide.
    entry, _ = in_size(PANEL, "99 x 30 mm", "panel, lined up 70 mm from the top", "0.5")
    assert entry.startswith("piece:\n  size: 49 x 15 mm")


def test_a_wide_distance_from_an_edge_is_scaled_and_a_narrow_one_stays():
    # A label of 48 x 24 mm: an eighth of 24 is 3 mm. 30 x 1.3 = 39 mm; 2 mm stay.
    lies = "panel, lined up 30 mm from the bottom and 2 mm from the left"
    entry, _ = in_size(PANEL, "48 x 24 mm", lies, "1.3")
    # 48 x 1.3 = 62.4; 24 x 1.3 = 31.2.
    assert entry == "piece:\n  size: 62 x 31 mm\n  goes on: panel, lined up 39 mm from the bottom, 2 mm from the left"


def test_a_size_that_follows_from_a_face_keeps_a_narrow_border_and_scales_a_wide_one():
    # 4 mm of 92 x 132 mm are narrow: nothing is to be written. 25 mm of 50 x 90 mm are wide: 25 x 1.2 = 30.
    entry, _ = in_size(PANEL, "4 mm smaller on every side than panel", "panel, centred", "1.2")
    assert entry == ""
    entry, _ = in_size(PANEL, "25 mm smaller on every side than panel", "panel, centred", "1.2")
    assert entry == "piece:\n  size: 30 mm smaller on every side than panel"


def test_the_border_of_a_mat_on_a_mat_stays():
    second = "  top:\n    from: card\n    size: 84 x 124 mm\n    goes on: piece, centred\n"
    made = resized(lain(PANEL, "92 x 132 mm", "panel, centred", second), "1.5")
    # 150 - 8 - 8 = 134 and 210 - 8 - 8 = 194.
    assert "top:\n  size: 134 x 194 mm" in entry_of(made)


def test_a_length_in_the_other_units_falls_on_marks_of_its_own():
    # A front of 4 x 6 in, at 1.5: 6 x 9 in, that is 152.4 x 228.6 mm. 90 x 140 mm leave 5.8 and 6.2 mm: a mat.
    # 152.4 - 11.6 = 140.8 and 228.6 - 12.4 = 216.2; a ruler shows 140.5 and 216.
    under = "  front:\n    from: card\n    size: 4 x 6 in\n"
    entry, _ = in_size(under, "90 x 140 mm", "front, centred", "1.5")
    assert entry == "piece:\n  size: 140.5 x 216 mm"


def test_where_nothing_would_be_left_of_a_mat_it_is_a_label():
    # 8 mm all round are narrow beside 64 mm (an eighth is 8). A tenth of 80 mm is 8 mm: no border of 8 mm is left.
    under = "  panel:\n    from: card\n    size: 80 x 120 mm\n"
    made = resized(lain(under, "64 x 104 mm", "panel, centred"), "0.1")
    # 64 / 10 = 6.4 and 104 / 10 = 10.4.
    assert "piece:\n  size: 6 x 10 mm" in entry_of(made)
    assert "label" in {note.code for note in made.notes}


def test_a_wide_border_that_is_even_stays_even():
    # 25 mm all round a piece of 50 x 90 mm are wide. 25 x 0.7 = 17.5: 18; the panel is 70 x 98 mm, so 34 x 62 mm are
    # left. So many times as large it would be 35 x 63 mm, and 17.5 mm would show.
    entry, codes = in_size(PANEL, "50 x 90 mm", "panel, centred", "0.7")
    assert entry == "piece:\n  size: 34 x 62 mm"
    assert codes == {"label"}
