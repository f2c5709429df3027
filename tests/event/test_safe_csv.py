"""A CSV that a spreadsheet may open: no cell begins as a formula does, and the rest comes back as it was."""

from __future__ import annotations

import csv
import io

from foldwright.event.setting import safe_csv


def test_no_cell_is_taken_for_a_formula() -> None:
    rows = [("=SUM(A1)", "+1", "-2", "@x", "\tcard"), ("card, blue", 'a "b"', "line\nend", "é", "")]
    back = list(csv.reader(io.StringIO(safe_csv(rows).decode("utf-8-sig"))))
    assert back[0] == ["'=SUM(A1)", "'+1", "'-2", "'@x", "'\tcard"]
    assert back[1] == list(rows[1])
