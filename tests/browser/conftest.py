"""What several browser tests share."""

import pytest

from tests.conftest import PlainSite


@pytest.fixture(scope="module")
def module_site(dist):
    """One server for all tests of a module that share a visitor."""
    plain = PlainSite(dist)
    yield plain
    plain.stop()
