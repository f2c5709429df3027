"""`foldwright --version` says what the package's own metadata says."""

from __future__ import annotations

import tomllib
from pathlib import Path

from workbench.command_line import TOP, foldwright


def test_the_version_is_the_package_s(tmp_path: Path) -> None:
    project = tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    done = foldwright("--version", cwd=tmp_path)
    assert (done.status, done.out, done.err) == (0, f"foldwright {project['version']}\n", "")


def test_the_help_tells_of_it(tmp_path: Path) -> None:
    assert "foldwright --version" in foldwright("--help", cwd=tmp_path).out
