"""What several browser tests share."""

import pytest
from leader import PHONE_CAN, Leader
from visitor import MEASURED, Profiles

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


@pytest.fixture(scope="module")
def somebody(profiles):
    """Who has opened the page before; on a screen with as many dots as a phone's, whose codes are scanned."""
    someone = Leader(profiles, profiles.site, device_scale_factor=2)
    someone.runs_first(PHONE_CAN)
    yield someone.open()
    assert someone.errors == []
    someone.close()


@pytest.fixture
def leader(somebody):
    """With a kit of their own on the page, of which only Hild's apron dress is there."""
    somebody.new_kit()
    somebody.type(name="Hild", **MEASURED)
    yield somebody
    assert not somebody.scrolls_sideways()


@pytest.fixture(scope="module")
def newcomer(profiles):
    """Another, who has opened the page before as well."""
    someone = Leader(profiles, profiles.site)
    yield someone.open()
    assert someone.errors == []
    someone.close()
