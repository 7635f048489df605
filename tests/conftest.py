"""How many examples the laws are tried on: ``--hypothesis-profile=nightly`` for many."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, Phase, settings

# The machine's load is no property of the geometry, so no law has a deadline. The ordinary run
# draws the same examples each time: a change is judged by what it did. The nightly one looks
# for new ones. What a failure depends on is not looked into: it takes longer than a test is given.
PHASES = tuple(p for p in Phase if p is not Phase.explain)
settings.register_profile(
    "ordinary",
    phases=PHASES,
    max_examples=100,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile(
    "nightly",
    phases=PHASES,
    max_examples=2000,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
settings.load_profile("ordinary")


@pytest.hookimpl(tryfirst=True)
def pytest_configure(config: pytest.Config) -> None:
    """Thousands of examples of one law take longer than any test that hangs is given."""
    if config.getoption("--hypothesis-profile", default=None) == "nightly":
        config.option.timeout = 0.0
