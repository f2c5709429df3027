"""What holds for every test. No clock judges any of them: hypothesis may take as long as the machine needs."""

from __future__ import annotations

from hypothesis import HealthCheck, settings

settings.register_profile("any machine", deadline=None, suppress_health_check=[HealthCheck.too_slow], print_blob=True)
settings.load_profile("any machine")
