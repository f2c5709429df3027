"""Runs the real command line the way a person does: a process of its own, in a folder of its own. Not a test."""

from __future__ import annotations

import atexit
import json
import os
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
HANG = 600
"""Seconds after which a command that hangs is given up; no verdict hangs on it, however busy the machine is."""

GOOD = """\
---
title: Practice card
summary: A folded card to try things on.
makes: 1 card
measured in: inches
level: easy

supplies:
  white card: cardstock, weight 100 lb cover, sheet 8 1/2 x 11 in or A4

tools:
  - paper trimmer with scoring blade
  - bone folder

pieces:
  card:
    from: white card
    size: 8 x 5 in
    across: 4 back | 4 front
    fold: card
---

A plain card.

## Cut and score the card

```step
do: cut and score card
time: 2 min
```

Cut the white card to 8 x 5 in and score it at 4 in.

## Fold the card

```step
do: fold card
time: 1 min
```

Fold it and rub the fold down with the bone folder.
"""
"""A recipe with which nothing at all is the matter."""

MISFIT = GOOD.replace("across: 4 back |", "across: 3 7/8 back |")
"""Its panels do not add up."""


def until(holds: Callable[[], object], what: str) -> None:
    """Wait for something that happens elsewhere; only what hangs is given up."""
    end = time.monotonic() + HANG
    while not holds():
        assert time.monotonic() < end, f"hung waiting until {what}"
        time.sleep(0.01)


@dataclass(frozen=True, slots=True)
class Done:
    status: int
    out: str
    err: str


def foldwright(*words: str | Path, cwd: Path, typed: str = "", **variables: str) -> Done:
    """Run a command; no traceback is ever an answer. With `variables` it is started from nothing, else from `warm`."""
    if variables:
        return _well(*_cold(list(map(str, words)), cwd, typed, variables))
    return _well(*_warm(list(map(str, words)), cwd, typed))


def _well(status: int, out: bytes, err: bytes) -> Done:
    done = Done(status, out.decode(), err.decode())
    assert "Traceback" not in done.out + done.err, done.out + done.err
    return done


def _cold(words: list[str], cwd: Path, typed: str, variables: dict[str, str]) -> tuple[int, bytes, bytes]:
    done = subprocess.run(
        [sys.executable, "-m", "foldwright", *words],
        cwd=cwd,
        input=typed.encode(),
        env={**os.environ, **variables},
        capture_output=True,
        check=False,
        timeout=HANG,
    )
    return done.returncode, done.stdout, done.stderr


def _warm(words: list[str], cwd: Path, typed: str) -> tuple[int, bytes, bytes]:
    line = _warm_process(frozenset(_environment().items()))
    with tempfile.TemporaryDirectory() as folder:
        streams = [Path(folder, name) for name in ("in", "out", "err")]
        for stream in streams:
            stream.write_bytes(typed.encode() if stream.name == "in" else b"")
        request = {"words": words, "cwd": str(cwd), "streams": list(map(str, streams))}
        line.settimeout(HANG)
        line.sendall(json.dumps(request).encode() + b"\n")
        answer = b""
        while not answer.endswith(b"\n"):
            more = line.recv(64)
            assert more, "the warm process has ended"
            answer += more
        return int(answer), streams[1].read_bytes(), streams[2].read_bytes()


def _environment() -> dict[str, str]:
    return {name: value for name, value in os.environ.items() if name != "PYTEST_CURRENT_TEST"}


@cache
def _warm_process(environment: frozenset[tuple[str, str]]) -> socket.socket:
    """One for each environment, for as long as the tests run: it ends when our end of the line is closed."""
    ours, its = socket.socketpair()
    words = [sys.executable, str(Path(__file__).with_name("warm.py")), str(its.fileno())]
    process = subprocess.Popen(words, pass_fds=[its.fileno()], env=dict(environment))
    its.close()
    atexit.register(_ended, process, ours)
    return ours


def _ended(process: subprocess.Popen[bytes], line: socket.socket) -> None:
    line.close()
    process.wait()


def write(folder: Path, slug: str, text: str | bytes = GOOD) -> Path:
    """Lay a recipe at `folder/slug/recipe.md`."""
    home = folder / slug
    home.mkdir(parents=True, exist_ok=True)
    (home / "recipe.md").write_bytes(text.encode() if isinstance(text, str) else text)
    return home


RECORDS = (".foldwright-record", ".foldwright-library")
"""What a build remembers for the next one: it holds the times of files, and is not the same in two places."""


def contents(folder: Path) -> dict[str, bytes]:
    """Every file below a folder, but for the records of builds."""
    files = (path for path in sorted(folder.rglob("*")) if path.is_file() and path.name not in RECORDS)
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}
