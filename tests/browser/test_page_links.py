"""Links: what they bring, what is wrong with them, and that they never cost anyone their own draft."""

import pytest
from visitor import MEASURED, Visitor

pytestmark = pytest.mark.browser

LINK = "#apron-dress&v=2&unit=cm&bust_girth=104cm&waist_girth=88cm&torso_length=41cm&end"


@pytest.fixture
def visitor(profiles):
    someone = Visitor(profiles, profiles.site)
    yield someone
    assert someone.errors == []
    someone.close()


def address(visitor):
    return visitor.page.evaluate("location.hash")


def part(visitor):
    """The address of the part that is shown: that of no draft."""
    return "#" + visitor.page.evaluate("document.documentElement.dataset.part")


def test_a_link_opened_first_says_what_it_is_and_whose_body_it_holds_and_is_nobodys_yet(visitor):
    visitor.open(LINK.replace("&end", "&name=Osgar&end"))
    said = visitor.text("notices")
    assert "came by a link: apron dress, drawn for Osgar" in said
    assert "bust girth 104 cm" in said and "waist girth 88 cm" in said
    assert visitor.typed("bust_girth") == "104"
    assert "example" not in visitor.text("whose")
    visitor.page.click("[data-do=look]")
    assert part(visitor) == "#pieces" and "not yours yet" in visitor.text("notices")
    visitor.reload()
    assert "came by a link" in visitor.text("notices") and visitor.typed("bust_girth") == "104"
    visitor.page.click("[data-do=mine]")
    visitor.settle()
    assert visitor.typed("bust_girth") == "" and visitor.text("notices") == ""


def test_a_link_can_be_made_for_ones_own_measurements_without_the_body_it_came_with(visitor):
    visitor.open()
    visitor.type(name="Hild", **MEASURED)
    visitor.page.goto("about:blank")
    visitor.open(LINK.replace("&end", "&name=Osgar&shaping=a-line&hem_girth=222cm&end"))
    visitor.page.click("[data-do=for-me]")
    visitor.settle()
    assert visitor.typed("bust_girth") == "92" and visitor.typed("name") == "Hild"
    assert visitor.page.is_checked("input[name=shaping][value=a-line]")
    assert visitor.typed("hem_girth") == "222"
    assert "hem girth" in visitor.text("done-text"), "a length that was cut for another body is named"
    assert wearers(visitor) == ["Hild"]
    visitor.open()
    assert visitor.typed("hem_girth") == "222" and visitor.typed("bust_girth") == "92"


def test_a_link_made_for_someone_who_has_measured_nothing_yet_asks_for_their_numbers(visitor):
    visitor.open(LINK.replace("apron-dress", "tunic").replace("&end", "&name=Osgar&gores=all&end"))
    visitor.page.click("[data-do=for-me]")
    visitor.settle()
    assert part(visitor) == "#wearer" and visitor.typed("bust_girth") == "" and visitor.typed("name") == ""
    assert visitor.page.is_checked("input[name=garment][value=tunic]")
    assert visitor.page.is_checked("input[name=gores][value=all]")
    visitor.type(bust_girth="92", waist_girth="78")
    assert wearers(visitor) == ["no name yet"]
    visitor.page.click("[data-do=undo]")
    visitor.settle()
    assert visitor.typed("bust_girth") == "92", "what was typed since stays"


def wearers(visitor):
    """Of the kit, by what they are called there."""
    visitor.page.reach("#kit")
    return visitor.page.locator("[data-wearer] summary > span:first-child").all_inner_texts()


def test_a_link_does_not_replace_the_visitors_own_draft(visitor):
    visitor.open()
    visitor.type(name="Hild", **MEASURED)
    own = visitor.pattern()
    visitor.page.goto("about:blank")
    visitor.open(LINK)
    assert visitor.typed("bust_girth") == "104" and visitor.typed("name") == ""
    assert "Your own is kept" in visitor.text("notices")
    visitor.page.click("[data-do=mine]")
    visitor.settle()
    assert visitor.typed("name") == "Hild"
    assert visitor.pattern() == own
    assert address(visitor) == part(visitor)


def test_changes_to_a_visited_draft_survive_a_reload_and_leave_ones_own_alone(visitor):
    visitor.open()
    visitor.type(name="Hild", **MEASURED)
    visitor.page.goto("about:blank")
    visitor.open(LINK)
    visitor.type(waist_girth="86,5", name="Osgar")
    visitor.reload()
    assert visitor.typed("waist_girth") == "86,5" and visitor.typed("name") == "Osgar"
    assert "Osgar" not in address(visitor)
    other_tab = visitor.new_page()
    other_tab.goto(visitor.site.url)
    visitor.settle()
    assert visitor.typed("name") == "Hild" and visitor.typed("waist_girth") == "78"


def test_a_links_draft_can_be_kept_instead(visitor):
    visitor.open()
    visitor.type(name="Hild", **MEASURED)
    visitor.page.goto("about:blank")
    visitor.open(LINK)
    visitor.page.click("[data-do=theirs]")
    visitor.settle()
    visitor.open()
    assert visitor.typed("bust_girth") == "104"
    assert wearers(visitor) == ["Hild", "no name yet"]


def test_keeping_the_links_draft_can_be_undone(visitor):
    visitor.open()
    visitor.type(name="Hild", **MEASURED)
    visitor.page.goto("about:blank")
    visitor.open(LINK)
    visitor.page.click("[data-do=theirs]")
    visitor.settle()
    visitor.page.click("[data-do=undo]")
    visitor.settle()
    visitor.open()
    assert visitor.typed("name") == "Hild" and visitor.typed("bust_girth") == "92"


def test_a_link_pasted_into_the_open_page_is_shown(visitor):
    visitor.open()
    visitor.type(name="Hild", **MEASURED)
    visitor.page.evaluate("hash => { location.hash = hash }", LINK)
    visitor.page.wait_for_function("document.getElementById('bust_girth').value === '104'")
    visitor.settle()
    visitor.page.click("[data-do=mine]")
    visitor.settle()
    assert visitor.typed("name") == "Hild" and visitor.typed("bust_girth") == "92"


def test_opening_ones_own_link_again_asks_nothing(visitor):
    visitor.open()
    visitor.type(name="Hild", **MEASURED)
    link = visitor.link()
    visitor.page.goto("about:blank")
    visitor.page.goto(link)
    visitor.settle()
    assert visitor.text("notices") == ""
    assert visitor.typed("name") == "Hild"


def test_a_link_cut_in_half_says_so_and_fills_in_what_arrived(visitor):
    visitor.open(LINK[: LINK.index("&torso")])
    assert "cut short" in visitor.text("notices")
    assert visitor.typed("bust_girth") == "104"
    assert "still to measure" in visitor.text("not-current")
    visitor.page.goto("about:blank")
    visitor.open(LINK[: LINK.index("&torso") - 3])
    assert "cut short" in visitor.text("notices")
    assert "8 cm" in visitor.problem("waist_girth")


def test_a_link_from_a_later_version_says_so_and_what_it_adds_can_be_left_out(visitor):
    visitor.open(LINK.replace("v=2", "v=7").replace("&end", "&ribbons=3&end"))
    assert "another version" in visitor.text("notices")
    assert visitor.typed("bust_girth") == "104"
    assert "ribbons" in visitor.text("homeless")
    visitor.page.click("[data-do=leave-out]")
    visitor.settle()
    assert visitor.text("homeless") == "" and visitor.text("not-current") == ""


@pytest.mark.parametrize(
    ("fragment", "said"),
    [
        ("#ball-gown&bust_girth=92cm", "ball-gown"),
        ("#" + "x" * 9000, "9000 characters"),
        ("#%F0%9F&&&=&%", "does not know"),
    ],
)
def test_a_link_that_cannot_be_read_says_so_and_leaves_the_draft(visitor, fragment, said):
    visitor.open()
    visitor.type(**MEASURED)
    visitor.page.goto("about:blank")
    visitor.open(fragment)
    assert said in visitor.text("notices")
    assert visitor.typed("bust_girth") == "92"
    assert not visitor.scrolls_sideways()
    visitor.page.click("[data-do='close:link']")
    assert address(visitor) == part(visitor)


def test_a_links_unknown_unit_and_bad_numbers_are_said_at_their_places(visitor):
    visitor.open("#apron-dress&unit=furlong&bust_girth=92&waist_girth=x&torso_length=38&sex=cat")
    assert "furlong" in visitor.text("notices") and "“cat”" in visitor.text("notices")
    assert "“x”" in visitor.problem("waist_girth")
    visitor.type(waist_girth="78")
    assert visitor.text("not-current") == ""


def test_a_link_in_millimetres_is_read_in_millimetres(visitor):
    visitor.open("#apron-dress&unit=mm&bust_girth=920&waist_girth=780&torso_length=380")
    assert visitor.typed("bust_girth") == "920 mm"
    assert visitor.pattern()["measurements"]["bust_girth"] == 920


def test_a_links_text_is_never_taken_for_markup(visitor):
    evil = "%3Cimg%20src=x%20onerror=document.title=1%3E"
    visitor.open(f"#apron-dress&bust_girth={evil}&{evil}=1&name={evil}&waist_girth=78cm")
    assert visitor.page.locator("main img").count() == 0
    assert visitor.page.title() != "1"
    assert "<img" in visitor.problem("bust_girth")
