"""What holds for every test. No clock judges any of them: hypothesis may take as long as the machine needs."""

from __future__ import annotations

from hypothesis import HealthCheck, settings

from workbench.long import tries

settings.register_profile(
    "any machine",
    deadline=None,
    max_examples=tries(50, 200),
    suppress_health_check=[HealthCheck.too_slow],
    print_blob=True,
)
settings.load_profile("any machine")
