"""Runs the real command line the way a person does: a process of its own, in a folder of its own. Not a test."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

TOP = Path(__file__).resolve().parents[1]

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


@dataclass(frozen=True, slots=True)
class Done:
    status: int
    out: str
    err: str


def foldwright(*words: str | Path, cwd: Path, typed: str = "", timeout: float = 120, **variables: str) -> Done:
    """Run a command; no traceback is ever an answer."""
    done = subprocess.run(
        [sys.executable, "-m", "foldwright", *map(str, words)],
        cwd=cwd,
        input=typed.encode(),
        env={**os.environ, **variables},
        capture_output=True,
        check=False,
        timeout=timeout,
    )
    out, err = done.stdout.decode(), done.stderr.decode()
    assert "Traceback" not in out + err, out + err
    return Done(done.returncode, out, err)


def write(folder: Path, slug: str, text: str | bytes = GOOD) -> Path:
    """Lay a recipe at `folder/slug/recipe.md`."""
    home = folder / slug
    home.mkdir(parents=True, exist_ok=True)
    (home / "recipe.md").write_bytes(text.encode() if isinstance(text, str) else text)
    return home


def contents(folder: Path) -> dict[str, bytes]:
    """Every file below a folder."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()
    }
