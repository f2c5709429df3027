"""What the tests run from a process that is already warm is what a person gets who starts the program from nothing."""

from __future__ import annotations

from pathlib import Path

import pytest

from workbench.command_line import GOOD, MISFIT, contents, foldwright, write

COLD = {"PYTHONDONTWRITEBYTECODE": "1"}
"""Any variable has the program started from nothing; this one changes nothing that is said."""


@pytest.mark.parametrize(
    ("words", "status"),
    [
        (["check", "box"], 1),
        (["build", "card", "--out", "out", "--only", "card"], 0),
        (["kit", "card", "--for", "0"], 2),
        (["bild"], 2),
    ],
    ids=["check", "build", "kit", "unknown"],
)
def test_warm_and_cold_say_and_make_the_same(tmp_path: Path, words: list[str], status: int) -> None:
    done, made = [], []
    for name, variables in (("warm", {}), ("cold", COLD)):
        home = tmp_path / name / "here"
        write(home, "card", GOOD)
        write(home, "box", MISFIT)
        done.append(foldwright(*words, cwd=home, **variables))
        made.append(contents(home))
    assert done[0] == done[1]
    assert done[0].status == status
    assert made[0] == made[1]
