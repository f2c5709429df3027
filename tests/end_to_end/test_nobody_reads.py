"""A command whose reader has gone (`foldwright build recipes | head`) does its work and ends with its true status."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from workbench.command_line import GOOD, HANG, MISFIT, write


@pytest.mark.parametrize("text", [GOOD, MISFIT])
@pytest.mark.parametrize(
    "said", ["build recipes --out out --only tutorial", "check recipes", "check recipes --format json"]
)
def test_the_status_is_the_true_one(tmp_path: Path, text: str, said: str) -> None:
    words = said.split()
    for number in range(3):
        write(tmp_path / "recipes", f"card-{number}", text)
    reads, writes = os.pipe()
    os.close(reads)
    try:
        done = subprocess.run(
            [sys.executable, "-m", "foldwright", *words],
            cwd=tmp_path,
            stdout=writes,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
            timeout=HANG,
        )
    finally:
        os.close(writes)
    assert done.returncode == (0 if text == GOOD else 1), done.stderr
    assert "Traceback" not in done.stderr and "BrokenPipe" not in done.stderr
    if words[0] == "build":
        assert len(list((tmp_path / "out").glob("card-*/tutorial.html"))) == 3
