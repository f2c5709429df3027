"""compiler/start.py: any old Python can run it, it finds a new one, and a second run wastes no time."""

from __future__ import annotations

import ast
import importlib.util
import os
import subprocess
import sys
from pathlib import Path
from types import ModuleType

import pytest

TOP = Path(__file__).resolve().parents[2]
START = TOP / "compiler" / "start.py"


@pytest.fixture
def start(monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    spec = importlib.util.spec_from_file_location("start", START)
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def program(path: Path, text: str) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text("#!/bin/sh\n" + text, encoding="utf-8")
    path.chmod(0o755)
    return path


def a_python(path: Path, version: str) -> Path:
    """A program that answers like a Python of that version."""
    return program(path, f"echo {version.replace('.', ' ')}\n")


def test_every_word_of_it_is_spelled_for_python_3_6() -> None:
    ast.parse(START.read_text(encoding="utf-8"), feature_version=(3, 6))


def test_it_imports_nothing_but_the_standard_library() -> None:
    tree = ast.parse(START.read_text(encoding="utf-8"))
    imported = {
        name.name.partition(".")[0] for node in ast.walk(tree) if isinstance(node, ast.Import) for name in node.names
    }
    assert imported
    assert imported <= set(sys.stdlib_module_names)
    assert not [node for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)]


def test_the_oldest_python_that_is_new_enough_is_taken(
    start: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    a_python(tmp_path / "bin" / "python3", "3.9")
    a_python(tmp_path / "bin" / "python3.14", "3.14")
    wanted = a_python(tmp_path / "bin" / "python3.13", "3.13")
    monkeypatch.setenv("PATH", str(tmp_path / "bin"))
    monkeypatch.setenv("PYENV_ROOT", str(tmp_path / "none"))
    monkeypatch.setattr(start.sys, "executable", str(tmp_path / "bin" / "python3"))
    assert start.find_python() == str(wanted)


def test_a_python_in_the_versions_folder_is_found(
    start: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    a_python(tmp_path / "bin" / "python3", "3.11")
    # A stand-in that is on the path but has no Python behind it answers with an error.
    program(tmp_path / "bin" / "python3.12", "echo 'python3.12: not found' >&2; exit 127\n")
    wanted = a_python(tmp_path / "kept" / "versions" / "3.12.1" / "bin" / "python", "3.12")
    monkeypatch.setenv("PATH", f"{tmp_path / 'bin'}:/bin:/usr/bin")
    monkeypatch.setenv("PYENV_ROOT", str(tmp_path / "kept"))
    monkeypatch.setattr(start.sys, "executable", str(tmp_path / "bin" / "python3"))
    assert start.find_python() == str(wanted)


def test_uv_is_asked_when_there_is_no_other(start: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    wanted = a_python(tmp_path / "by-uv", "3.12")
    program(tmp_path / "bin" / "uv", f'[ "$2" = find ] && echo {wanted}\n')
    monkeypatch.setenv("PATH", str(tmp_path / "bin"))
    monkeypatch.setenv("PYENV_ROOT", str(tmp_path / "none"))
    monkeypatch.setattr(start.sys, "executable", str(a_python(tmp_path / "bin" / "python3", "3.6")))
    assert start.find_python() == str(wanted)


def test_no_python_is_said_plainly(start: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setenv("PYENV_ROOT", str(tmp_path))
    monkeypatch.setattr(start.sys, "executable", str(a_python(tmp_path / "python3", "3.6")))
    with pytest.raises(SystemExit, match=r"needs Python 3\.12"):
        start.find_python()


def test_what_the_system_lacks_is_installed_when_that_is_allowed(
    start: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    calls = tmp_path / "calls"
    program(tmp_path / "bin" / "apt-get", f'echo "$@" >> {calls}\n')
    monkeypatch.setenv("PATH", f"{tmp_path / 'bin'}:/bin:/usr/bin")
    monkeypatch.setattr(start, "allowed", list)
    start.see_to(["libpango-1.0-0"])
    assert calls.read_text().splitlines() == [
        "update -qq",
        "install --yes --no-install-recommends libpango-1.0-0",
    ]


def test_what_the_system_lacks_is_one_command_to_type_when_it_is_not(
    start: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    program(tmp_path / "bin" / "apt-get", f"touch {tmp_path / 'called'}\n")
    monkeypatch.setenv("PATH", f"{tmp_path / 'bin'}:/bin:/usr/bin")
    monkeypatch.setattr(start, "allowed", lambda: None)
    with pytest.raises(SystemExit):
        start.see_to(["chromium", "default-jre-headless"])
    assert "sudo apt-get install chromium default-jre-headless" in capsys.readouterr().err
    assert not (tmp_path / "called").exists()


def test_a_second_run_has_nothing_to_set_up() -> None:
    words = [
        sys.executable,
        "-c",
        f"import sys; sys.path[:0] = [{str(START.parent)!r}]; import start; start.set_up('test')",
    ]
    subprocess.run(words, check=True, cwd=TOP)
    done = subprocess.run(words, check=True, cwd=TOP, capture_output=True, text=True)
    # Whatever is installed is said.
    assert done.stdout + done.stderr == ""


def test_an_unknown_command_shows_what_there_is() -> None:
    done = subprocess.run([sys.executable, START, "fly"], capture_output=True, text=True, check=False)
    assert done.returncode == 2
    for command in ("build", "test", "lint", "bench"):
        assert f"compiler/start.py {command}" in done.stdout


def test_every_pin_is_one_exact_version_and_nothing_else(start: ModuleType) -> None:
    pins = [pin for section in ("run", "test", "npm") for pin in start.pinned(section)]
    assert len(pins) > 60
    for pin in pins:
        name, version = pin.split("==")
        assert name.replace("-", "").replace("_", "").isalnum()
        assert version.replace(".", "").isalnum()


def test_the_pins_are_what_runs_here(start: ModuleType) -> None:
    from importlib.metadata import version

    for pin in start.pinned("run") + start.pinned("test"):
        name, wanted = pin.split("==")
        assert version(name) == wanted, "run compiler/start.py test once more: .venv is not what the pins say"


def test_continuous_integration_calls_the_command_of_the_readme() -> None:
    script = (TOP / ".ci" / "run").read_text(encoding="utf-8")
    assert "python3 compiler/start.py test" in script
    assert os.access(TOP / ".ci" / "run", os.X_OK)
    assert "python3 compiler/start.py test" in (TOP / "README.md").read_text(encoding="utf-8")
    assert "python3 compiler/start.py build" in (TOP / "README.md").read_text(encoding="utf-8")
