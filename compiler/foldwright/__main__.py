"""`python -m foldwright`."""

from __future__ import annotations

import sys

from foldwright.cli import main

sys.exit(main())
