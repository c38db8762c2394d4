"""The last pattern stands there at once on the next visit, and never passes for a current one."""

import pytest
from visitor import MEASURED, Gate, Visitor

pytestmark = pytest.mark.browser

KEPT = "localStorage.getItem('ellwand ' + location.pathname + ' last')"
INTERPRETERS = "**/{micropython,pyodide}/*"
WORKER = "**/pyodide/*"
FROM_LAST_TIME = "From last time: it is drawn again as soon as the drafting tools are here."


@pytest.fixture(scope="module")
def returning(chromium, module_site):
    """Someone with a dress of their own, whose visits can be stopped at any stage of loading."""
    someone = Visitor(chromium, module_site, service_workers="block").open()
    someone.type(**MEASURED, length="111")
    yield someone
    assert someone.errors == []
    someone.close()


@pytest.fixture
def drawn(returning):
    """A new page of theirs with nothing held back, once its pattern is kept: (visitor, outlines)."""
    returning.page.close()
    returning.new_page()
    returning.open()
    if returning.typed("length") != "111":
        returning.type(length="111")
    returning.page.wait_for_function(KEPT)
    return returning, returning.drawing()


def reopen(visitor, held, fragment=""):
    """The page as it stands while what is held back is on its way."""
    visitor.page.close()
    visitor.new_page()
    gate = Gate(visitor.page, held)
    visitor.open(fragment, settled=False)
    return gate


def usable(visitor):
    visitor.page.wait_for_selector("html[data-usable]")


def test_it_stands_there_before_any_python_runs_and_says_what_it_is(drawn):
    visitor, outlines = drawn
    gate = reopen(visitor, INTERPRETERS)
    assert visitor.drawing() == outlines
    assert visitor.text("not-current") == FROM_LAST_TIME
    visitor.unfold("piece-list-part")
    assert "checks pass" in visitor.text("verdict") and "Front" in visitor.text("piece-list")
    assert visitor.text("whose") == "" and visitor.text("example") == ""
    gate.open()
    visitor.settle()
    assert visitor.text("not-current") == ""
    assert visitor.drawing() == outlines
    assert visitor.page.get_attribute("html", "data-last") is None


def test_it_stays_marked_until_it_is_drawn_again(drawn):
    visitor, outlines = drawn
    gate = reopen(visitor, WORKER)
    usable(visitor)
    assert visitor.text("not-current") == FROM_LAST_TIME and visitor.drawing() == outlines
    visitor.type(settled=False, length="109")
    assert visitor.text("not-current").startswith("Not current: ")
    gate.open()
    visitor.settle()
    assert visitor.text("not-current") == "" and visitor.drawing() != outlines


def test_a_change_that_was_never_drawn_leaves_none(drawn):
    visitor, _ = drawn
    visitor.kill_worker()
    visitor.type(settled=False, length="107")
    assert visitor.page.evaluate(KEPT) is None
    reopen(visitor, INTERPRETERS)
    assert visitor.text("not-current") == "" and visitor.text("verdict") == ""


def test_that_of_another_draft_is_taken_away_before_anything_can_be_done(drawn):
    visitor, outlines = drawn
    kept = visitor.page.evaluate(KEPT)
    visitor.type(length="105")
    visitor.page.wait_for_function(f"{KEPT}?.length > 0")
    visitor.page.goto("about:blank")
    visitor.page.goto(visitor.site.url + "manifest.webmanifest")
    address = "'ellwand ' + location.pathname.replace('manifest.webmanifest', '') + ' last'"
    visitor.page.evaluate(f"kept => localStorage.setItem({address}, kept)", kept)
    reopen(visitor, WORKER)
    usable(visitor)
    assert visitor.text("not-current") == "" and visitor.text("verdict") == ""
    assert visitor.drawing() != outlines


def test_a_link_to_another_draft_does_not_show_it(drawn):
    visitor, _ = drawn
    for fragment in ("#apron-dress&bust_girth=80cm", "#hood"):
        reopen(visitor, INTERPRETERS, fragment)
        assert visitor.text("not-current") == ""
        assert visitor.page.get_attribute("html", "data-last") is None
    reopen(visitor, INTERPRETERS, "#cutting")
    assert visitor.text("not-current") == FROM_LAST_TIME


@pytest.mark.parametrize("broken", ["{", "null", "{}", '{"drawing": 1, "worn": {}}'])
def test_an_unreadable_one_is_dropped(drawn, broken):
    visitor, outlines = drawn
    visitor.page.add_init_script(
        f"localStorage.setItem('ellwand ' + location.pathname + ' last', {broken!r})"
    )
    visitor.page.reload()
    visitor.settle()
    assert visitor.drawing() == outlines and visitor.text("not-current") == ""
