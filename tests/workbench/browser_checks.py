"""What the browser tests ask two checkers of pages: the Nu HTML checker and axe-core. Not a test."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

from playwright.sync_api import Page

NU = Path(sys.prefix) / "share" / "foldwright" / "node_modules" / "vnu-jar" / "build" / "dist" / "vnu.jar"
AXE = Path(sys.prefix) / "share" / "foldwright" / "node_modules" / "axe-core" / "axe.min.js"
FALSE_ALARM = re.compile(
    r"Resource violates Content Security Policy \(meta tag\): image “data:image/(?:png|jpeg|svg\+xml);base64,[^”]*” "
    r"blocked by “img-src” directive\."
    r"|Resource violates Content Security Policy \(meta tag\): (?:external stylesheet|external script|image) "
    r"“[^”:]*” blocked by “(?:style|script|img)-src” directive\."
    r"|CSS: (?:“container-type”: Property “container-type” doesn't exist|Unrecognized at-rule “@container”)\.?\s*"
)
"""The checker knows no `img-src data:` (it complains of `img-src * data:` too), nor that a page from a file may load
its neighbours by `'self'` and `file:`; test_page and test_library see that browsers obey. Its list of CSS is older than
queries of containers (CSS Containment Module Level 3)."""


def complaints(*files: Path) -> list[dict[str, Any]]:
    """What the checker has to say, warnings too."""
    # One compiler of Java's two is enough for so few pages: half the work. It wants deeper stacks.
    words = ["java", "-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC", "-Xss8m", "-jar", str(NU)]
    words += ["--format", "json", "--stdout", "--exit-zero-always", "--also-check-svg"]
    done = subprocess.run([*words, *map(str, files)], capture_output=True, text=True, check=True)
    found: list[dict[str, Any]] = json.loads(done.stdout)["messages"]
    return [one for one in found if not FALSE_ALARM.fullmatch(one["message"])]


def told(found: list[dict[str, Any]]) -> str:
    return "\n".join(
        f"{one.get('url')}:{one.get('lastLine')} {one['message']} {one.get('extract', '')}" for one in found
    )


def violations(page: Page, tags: list[str]) -> list[str]:
    """What axe finds on the page that is open, one line a place; not inside its frames. Its own code is not held back
    by the page's policy."""
    if not page.evaluate("() => 'axe' in window"):
        page.evaluate(AXE.read_text(encoding="utf-8"))
    options = {"runOnly": {"type": "tag", "values": tags}, "preload": False, "resultTypes": ["violations"]}
    # Who is not there cannot answer, and would be waited for.
    options["iframes"] = False
    found: dict[str, Any] = page.evaluate("options => axe.run(document, options)", options)
    return [
        f"{one['id']} ({one['impact']}): {node['html'][:120]} {node['failureSummary']}"
        for one in found["violations"]
        for node in one["nodes"]
    ]
