"""What several browser tests share."""

import pytest
from visitor import Profiles

from tests.conftest import PlainSite


@pytest.fixture(scope="module")
def module_site(dist):
    """One server for all tests of a module that share a visitor."""
    plain = PlainSite(dist)
    yield plain
    plain.stop()


@pytest.fixture(scope="session")
def profiles(chromium, dist):
    """Browser profiles that have been here before, for whoever does not look at a first visit."""
    plain = PlainSite(dist)
    yield Profiles(chromium, plain)
    plain.stop()
