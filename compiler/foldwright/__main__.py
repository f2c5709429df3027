"""`python -m foldwright`."""

from __future__ import annotations

from foldwright.cli import main

main()
