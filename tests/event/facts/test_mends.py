"""What is told of a shelf or a list of guests, and the mends that put it right: its finding is gone afterwards."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from foldwright.event.facts.guests import read_guests
from foldwright.event.facts.projects import Offered
from foldwright.event.facts.stock import check_stock, read_stock
from foldwright.finding import Finding, Place, Strength
from foldwright.finding.changes import changed
from foldwright.mending.mends import with_mends

FILE = "list"
OFFERED = (
    Offered("tag", ("Twine tag", "tag")),
    Offered("box", ("Drawer box", "box"), "as written"),
    Offered("box", ("Drawer box, large", "box"), "large"),
)
SHELF = [
    ("charcoal card: 0 sheets\nribbon: 4 yd\n", "stock-nothing", ["ribbon: 4 yd\n"]),
    ("card: 6 sheets, 5 x 11 in\n", "stock-size-alone", ["card: 6 of 5 x 11 in\n", "card: 6 sheets, 1 of 5 x 11 in\n"]),
    ("card: 6 sheets at 0.40\n", "stock-price", ["card: 6 sheets\n"]),
    ("card: 6 shets\n", "unknown-word", ["card: 6 sheets\n"]),
    ("ribbon: 2 of 20\n", "no-unit", None),
    ("drawing pinz: 40\n", "stock-name-near", ["drawing pins: 40\n"]),
]
GUESTS = [
    ("name, projct\nAda, tag\n", "guests-column-taken", ["name, project\nAda, tag\n"]),
    ("name, project\nAda, Twine tga\n", "guests-project-unknown-near", ["name, project\nAda, Twine tag\n"]),
    ("name, project\nAda, tag\n, tag\n", "guests-no-name", ["name, project\nAda, tag\n"]),
    ("name, project\nAda, tag\nAda, tag\n", "guests-name-twice", ["name, project\nAda, tag\n"]),
    (
        "name, project\nAda, boat\n",
        "guests-project-unknown",
        [f"name, project\nAda, {one}\n" for one in ("Twine tag", "Drawer box", '"Drawer box, large"')],
    ),
    ("name, project, size\nAda, Drawer box, lareg\n", "guests-size-unknown-near", None),
    ("guest of ours, project\nAda, tag\n", "guests-name-column", ["name, project\nAda, tag\n"]),
]


def of_shelf(text: str) -> tuple[Finding, ...]:
    shelf, findings = read_stock(text, FILE)
    return (*findings, *check_stock(shelf, ["drawing pins", "card", "ribbon"]))


def of_guests(text: str) -> tuple[Finding, ...]:
    return read_guests(text.encode(), FILE, OFFERED).findings


def mended(findings: Sequence[Finding], text: str, code: str) -> list[str]:
    """The text after each mend of the first finding of that name."""
    finding = next(one for one in findings if one.code == code)
    (found,) = with_mends([finding], {FILE: text})
    return [changed(text, mend.changes) for mend in found.mends]


@pytest.mark.parametrize(("text", "code", "ways"), SHELF)
def test_a_line_of_the_shelf_is_put_right(text: str, code: str, ways: list[str] | None) -> None:
    after = mended(of_shelf(text), text, code)
    assert after
    assert ways is None or after == ways
    assert all(code not in {one.code for one in of_shelf(each)} for each in after)


@pytest.mark.parametrize(("text", "code", "ways"), GUESTS)
def test_a_line_of_the_list_of_guests_is_put_right(text: str, code: str, ways: list[str] | None) -> None:
    after = mended(of_guests(text), text, code)
    assert after
    assert ways is None or after == ways
    assert all(code not in {one.code for one in of_guests(each)} for each in after)


@pytest.mark.parametrize(
    ("code", "fact"),
    [
        ("stock-which", "names"),
        ("guests-project-several", "known"),
        ("guests-size-unknown", "known"),
    ],
)
def test_each_of_the_names_it_may_be_can_be_typed(code: str, fact: str) -> None:
    finding = Finding.of(code, Strength.FAULT, Place(FILE, 0, 3), **{fact: ("drawer box", "drawer box, large")})
    assert mended([finding], "box: 2", code) == [
        "drawer box: 2",
        "drawer box, large: 2" if code == "stock-which" else '"drawer box, large": 2',
    ]
