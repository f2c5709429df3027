"""The smallest type of each use is found where it is."""

from __future__ import annotations

import pytest

from printed.making import DRAWING, made
from printed.sizes import USES, least_by_use, least_in_steps

BODY = f"""
<header><h1>Boat</h1><p>In half <small style="font-size:9.5pt">an hour</small></p></header>
<section><h2 style="font-size:12pt">Fold it</h2><p>Fold.</p>
<div>{DRAWING}<p style="font-size:8.5pt">Fold the hull.</p></div></section>
<footer><p style="font-size:7.5pt">The studio</p><p>Its address</p></footer>
"""


def test_every_use_has_its_own() -> None:
    found = least_by_use(made(BODY, "svg{display:block}"))
    assert set(found) == set(USES)
    sizes = {use: (one.size, one.text) for use, one in found.items()}
    assert sizes["body"] == (pytest.approx(9.5, abs=0.01), "an hour")
    assert sizes["heading"] == (pytest.approx(12, abs=0.01), "Fold it")
    assert sizes["caption"] == (pytest.approx(8.5, abs=0.01), "Fold the hull.")
    assert sizes["foot"] == (pytest.approx(7.5, abs=0.01), "The studio")
    # 40 units are 4 cm in `DRAWING`, its letters 4 of them high.
    assert found["drawing"].size == pytest.approx(4 * 72 / 25.4, abs=0.01)


def test_what_stands_last_is_the_foot_only_if_it_is_no_section() -> None:
    assert "foot" not in least_by_use(made("<h1>a</h1><section><p>b</p></section>"))
    assert "foot" not in least_by_use(made("<h1>a</h1><p>b</p>"))


def test_a_use_that_does_not_come_is_left_out() -> None:
    assert set(least_by_use(made("<h1>a</h1><p>b</p>"))) == {"heading", "body"}


def test_steps_are_entries_with_a_heading() -> None:
    listed = (
        "<ul><li style='font-size:7pt'>card</li></ul><ol><li><h2>Fold</h2><p style='font-size:9pt'>it</p></li></ol>"
    )
    found = least_in_steps(made(f"<h1>a</h1><p style='font-size:6pt'>b</p>{listed}"))
    assert {use: round(one.size, 2) for use, one in found.items()} == {"heading": 11, "body": 9}
