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
def people(chromium, module_site):
    """A leader, and a newcomer who has opened the page before."""
    found = []
    for _ in range(2):
        someone = Leader(chromium, module_site, device_scale_factor=2)
        someone.context.add_init_script(PHONE_CAN)
        found.append(someone.open())
    yield found
    for someone in found:
        assert someone.errors == []
        someone.close()


@pytest.fixture
def leader(people):
    """With a kit of their own on the page, of which only Hild's apron dress is there."""
    someone = people[0]
    someone.new_kit()
    someone.type(name="Hild", **MEASURED)
    yield someone
    assert not someone.scrolls_sideways()


@pytest.fixture
def newcomer(people):
    return people[1]
