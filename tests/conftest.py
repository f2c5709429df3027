"""What holds for every test. No clock judges any of them: hypothesis may take as long as the machine needs. A usual run
asks the same questions each time, so that what passes here passes elsewhere; a long one makes new ones."""

from __future__ import annotations

from hypothesis import HealthCheck, settings

from workbench.long import LONG, tries

settings.register_profile(
    "any machine",
    deadline=None,
    derandomize=not LONG,
    max_examples=tries(50, 200),
    suppress_health_check=[HealthCheck.too_slow],
    print_blob=True,
)
settings.load_profile("any machine")
