"""What is there before the first page is asked for."""

from __future__ import annotations

from pathlib import Path

import pytest

from workbench.command_line import GOOD
from workbench.desk import desk

MAPS = Path("/proc/self/maps")


@pytest.mark.skipif(not MAPS.exists(), reason="what a process has loaded is only seen where the system shows it")
def test_what_two_threads_cannot_load_at_once_is_loaded_before_anybody_asks(tmp_path: Path) -> None:
    """Two pages that were opened first, one after the other in a moment, left a desk in which nothing was compiled."""
    folder = tmp_path / "recipes"
    (folder / "card").mkdir(parents=True)
    (folder / "card" / "recipe.md").write_text(GOOD, encoding="utf-8")
    with desk(folder) as opened:
        loaded = Path(f"/proc/{opened.process.pid}/maps").read_text(encoding="utf-8")
    assert "_multiarray_umath" in loaded
    assert "shapely/lib" in loaded
