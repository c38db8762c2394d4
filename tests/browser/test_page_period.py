"""Time, place and rank on the page: advice beside the choices, house rules, the cloth in its colour."""

import io
import json
import re
from pathlib import Path

import pdfplumber
import pytest
from visitor import DESKTOP, MEASURED, PHONE, Visitor

from drafting.period.dyes import DYES, READABLE, contrast, tone
from drafting.period.house_rules import read_house_rules, read_link_text

pytestmark = pytest.mark.browser

RULES = {
    "format": "ellwand-house-rules", "version": 1, "group": "Marram Farm", "years": [850, 950],
    "regions": ["denmark"], "ranks": ["farmer", "poor"], "colours": ["walnut", "weld"],
    "not_allowed": ["zip", "wristwatches"], "message": "Ask Hild before you buy cloth.",
}  # fmt: skip
PERMISSIONS = ["clipboard-read", "clipboard-write"]
NEVER_ASKED = "performance.getEntriesByName('advice-asked').length === 0"


class Guest(Visitor):
    """A visitor who wants to be let in at the gate."""

    def shows(self, **fields):
        self.page.evaluate("document.getElementById('impression').open = true")
        for name, text in fields.items():
            if name == "year":
                self.page.fill("#year", text)
            else:
                self.page.select_option(f"#{name}", text)
        self.advised()

    def advised(self):
        """Wait until the advice is that on what is chosen."""
        self.settle()
        self.page.wait_for_function("document.documentElement.dataset.advised === 'yes'")

    def brings(self, rules):
        text = rules if isinstance(rules, str) else json.dumps(rules)
        self.page.set_input_files(
            "#house-file", {"name": "rules.json", "mimeType": "application/json", "buffer": text.encode()}
        )

    def undo(self):
        self.page.click("[data-do=undo]")
        self.advised()

    def colours(self, place):
        return self.page.evaluate(
            "id => { const style = getComputedStyle(document.getElementById(id));"
            " return [style.getPropertyValue('--dye'), style.getPropertyValue('--chalk')]; }", place
        )


@pytest.fixture
def visitor(profiles):
    """Nobody yet, and nothing chosen."""
    someone = Guest(profiles, profiles.site)
    someone.context.grant_permissions(PERMISSIONS)
    someone.open()
    yield someone
    assert someone.errors == []
    someone.close()


def test_nothing_is_asked_of_the_worker_until_something_is_chosen(visitor):
    visitor.type(**MEASURED)
    visitor.until_offline_ready()
    assert visitor.page.evaluate(NEVER_ASKED)
    assert not visitor.text("advice-garment") and not visitor.text("advice-cloth")
    visitor.shows(year="980", region="denmark")
    assert not visitor.page.evaluate(NEVER_ASKED)
    assert "Apron dress: right" in visitor.text("advice-garment")


def test_advice_stands_beside_its_choice_with_the_organiser_first_and_the_source_one_tap_away(visitor):
    visitor.shows(year="980", region="denmark", rank="farmer", cloth_colour="madder")
    garment, cloth = visitor.text("advice-garment"), visitor.text("advice-cloth")
    assert garment.startswith("This is advice, not a rule.") and "organiser's own rules" in garment
    assert "Madder red: unusual" in cloth and "Madder red" not in garment
    source = visitor.page.locator("#advice-cloth .advice", has_text="Madder red").locator("details")
    assert not source.locator(".source").first.is_visible()
    source.locator("summary").click()
    assert source.locator(".source").first.is_visible()
    assert re.match("Likely|Well attested|Disputed", source.locator("summary").inner_text())


def test_what_would_be_right_is_one_tap_away_and_can_be_undone(visitor):
    visitor.shows(year="980", region="denmark", cloth_colour="madder")
    visitor.page.locator("#advice-cloth [data-do=instead]").first.click()
    visitor.advised()
    assert visitor.typed("cloth_colour") != "madder" and "unusual" not in visitor.text("advice-cloth")
    visitor.undo()
    assert visitor.typed("cloth_colour") == "madder" and "unusual" in visitor.text("advice-cloth")


def test_another_garment_is_one_tap_away_and_can_be_undone(visitor):
    visitor.shows(year="1060", region="england")
    assert re.search("Apron dress: (wrong|unusual)", visitor.text("advice-garment"))
    visitor.page.locator("#advice-garment [data-do=instead][data-field=garment]").first.click()
    visitor.advised()
    assert "Apron dress" not in visitor.text("advice-garment")
    visitor.undo()
    assert visitor.page.is_checked("input[name=garment][value=apron-dress]")


def test_a_cut_that_is_right_is_one_tap_away(visitor):
    visitor.pick("garment", "cloak")
    visitor.pick("shape", "half-circle")
    visitor.shows(year="900", region="norway")
    assert "half circle: unusual" in visitor.text("advice-garment")
    visitor.page.click("#advice-garment [data-do=instead][data-field='options.shape']")
    visitor.advised()
    assert visitor.page.is_checked("input[name=shape][value=rectangle]")
    assert "unusual" not in visitor.text("advice-garment")


def test_half_an_impression_says_what_is_wanting_and_bad_years_block_nothing(visitor):
    visitor.type(**MEASURED)
    visitor.shows(year="980")
    assert "Choose a land as well" in visitor.problem("region")
    visitor.shows(year="last winter", region="norway")
    assert "last winter" in visitor.problem("year") and not visitor.problem("region")
    assert "checks pass" in visitor.text("status") and visitor.drawing()
    assert visitor.pattern()["measurements"]["bust_girth"] == 920


def test_a_year_that_is_half_typed_is_not_called_wrong(visitor):
    visitor.shows(region="denmark")
    visitor.page.evaluate(
        """() => { window.said = [];
            new MutationObserver(() => said.push(document.getElementById("year-problem").textContent))
                .observe(document.getElementById("year-problem"), {childList: true}); }"""
    )
    visitor.page.locator("#year").press_sequentially("980", delay=40)
    visitor.advised()
    assert "Apron dress: right" in visitor.text("advice-garment")
    assert not any("does not read" in said for said in visitor.page.evaluate("said"))


def test_the_pictures_take_the_cloths_colour_and_its_chalk_reads_on_it(visitor):
    plain = visitor.colours("stage")
    for dye, fibre in (("weld", ""), ("woad-deep", "linen"), ("undyed-white", "wool"), ("kermes", "wool")):
        visitor.shows(cloth_colour=dye, cloth_fibre=fibre)
        cloth, chalk = visitor.colours("stage")
        expected = tone(dye, fibre or "wool")
        assert (cloth, chalk) == (expected.cloth, expected.chalk)
        assert contrast(cloth, chalk) >= READABLE  # source: WCAG 2.1, success criterion 1.4.3
        assert visitor.colours("bar") == visitor.colours("lay-picture") == [cloth, chalk]
        assert DYES[dye].title.capitalize() in visitor.text("dye-shown")
    visitor.shows(cloth_colour="")
    assert visitor.colours("stage") == plain


def test_every_dye_can_be_told_by_its_pattern(visitor):
    """source: WCAG 2.1, success criterion 1.4.1: colour is not the only means."""
    patterns = {}
    for dye in ("madder", "weld", "woad", "lichen-purple", "deep-green", "walnut", "undyed-grey"):
        visitor.page.select_option("#cloth_colour", dye)
        visitor.settle()
        patterns[dye] = visitor.page.eval_on_selector_all(
            "#dye path", "paths => [...new Set(paths.map(path => path.getAttribute('d')))].join()"
        )
    assert all(patterns.values()) and len(set(patterns.values())) == len(patterns)


def test_the_chosen_colour_prints_black_on_white(visitor):
    visitor.shows(cloth_colour="weld")
    visitor.page.emulate_media(media="print")
    assert visitor.colours("stage") == ["#fff", "#000"]


def test_cautions_stand_where_they_apply_and_nothing_is_said_twice(visitor):
    visitor.shows(cloth_colour="woad", cloth_fibre="synthetic")
    assert "Synthetics melt" in visitor.text("worn-part")
    assert "dye or full it yourself" in visitor.text("cloth-cautions-part")
    visitor.page.click("#cloth-cautions-part summary")
    assert "woad vat is caustic" in visitor.text("cloth-cautions-part")
    visitor.page.click("#cloth-cautions-part summary")
    visitor.page.check("input[name=doing][value=fulling]")
    visitor.advised()
    assert "Fulling takes hot water" in visitor.text("cloth-cautions-part")
    said = visitor.page.locator(".caution li").all_inner_texts()
    said = [sentence for sentence in said if sentence]
    assert len(said) == len(set(said))
    visitor.reload()
    visitor.advised()
    assert visitor.page.is_checked("input[name=doing][value=fulling]")


def test_a_groups_rules_are_shown_as_its_own_and_can_be_removed_and_brought_back(visitor):
    visitor.shows(year="980", region="denmark", cloth_colour="madder")
    visitor.brings(RULES)
    visitor.page.wait_for_selector("#advice-garment .house")
    visitor.advised()
    house = visitor.page.inner_text("#advice-garment .house")
    assert house.startswith("Marram Farm says") and "Ask Hild before you buy cloth." in house
    assert "Marram Farm shows 850–950, not 980." in house
    ours = visitor.page.locator("#advice-garment .advice").all_inner_texts()
    assert ours and not any("Marram" in text for text in ours)
    assert "walnut brown or weld yellow" in visitor.page.inner_text("#advice-cloth .house")
    visitor.page.click("#advice-cloth .house [data-do=instead]")
    visitor.advised()
    assert visitor.typed("cloth_colour") == "walnut"
    visitor.page.click("#house-close")
    visitor.advised()
    assert "Marram" not in visitor.text("advice-garment") + visitor.text("house")
    visitor.undo()
    assert "Marram Farm says" in visitor.text("advice-garment")


def test_rules_fill_an_empty_impression_and_can_be_undone_as_a_whole(visitor):
    visitor.page.evaluate("document.getElementById('impression').open = true")
    visitor.brings(RULES)
    visitor.page.wait_for_selector("#advice-garment .house")
    assert (visitor.typed("year"), visitor.typed("region")) == ("850-950", "denmark")
    visitor.undo()
    assert (visitor.typed("year"), visitor.typed("region")) == ("", "") and not visitor.text("house")


def test_a_file_that_is_no_house_rules_says_so_and_changes_nothing(visitor):
    visitor.shows(year="980", region="denmark")
    visitor.brings('{"format": "ellwand-kit"}')
    visitor.page.wait_for_function("document.getElementById('house-said').textContent")
    assert "no file of house rules" in visitor.text("house-said")
    assert visitor.typed("year") == "980" and "Marram" not in visitor.text("advice-garment")


def test_a_link_carries_the_impression_the_rules_and_the_cloth(visitor, profiles):
    visitor.type(**MEASURED)
    visitor.shows(year="900", region="denmark", rank="farmer", cloth_colour="weld", cloth_fibre="wool",
                  cloth_weave="twill")
    visitor.brings(RULES)
    visitor.page.wait_for_selector("#advice-garment .house")
    link = visitor.link()
    other = Guest(profiles, visitor.site)
    other.context.grant_permissions(PERMISSIONS)
    other.open("#" + link.partition("#")[2])
    other.advised()
    for name in ("year", "region", "rank", "cloth_colour", "cloth_fibre", "cloth_weave"):
        assert other.typed(name) == visitor.typed(name)
    assert "Marram Farm says" in other.text("advice-garment")
    carried = re.search("rules=([^&]+)", other.link())[1]
    assert read_link_text(carried.replace("+", " ")) == read_house_rules(json.dumps(RULES))
    other.close()


def test_what_a_link_says_that_is_not_known_is_kept_and_told(visitor):
    visitor.page.goto("about:blank")
    visitor.open("#apron-dress&v=2&bust_girth=92cm&waist_girth=78cm&torso_length=38cm&year=980"
                 "&region=Atlantis&cloth_colour=octarine&rules=9~zzz&end")
    visitor.advised()
    assert "Atlantis" in visitor.problem("region") and visitor.typed("region") == "Atlantis"
    assert "octarine" in visitor.problem("cloth_colour")
    assert visitor.text("house_rules-problem")
    assert "checks pass" in visitor.text("status")
    link = visitor.link()
    assert "region=Atlantis" in link and "cloth_colour=octarine" in link and "rules=9~zzz" in link


def test_the_booklet_has_the_advice_and_the_groups_rules(visitor):
    visitor.type(**MEASURED)
    visitor.shows(year="980", region="denmark", cloth_colour="madder", cloth_fibre="linen")
    visitor.brings(RULES)
    visitor.page.wait_for_selector("#advice-garment .house")
    with pdfplumber.open(io.BytesIO(visitor.download("booklet.pdf"))) as pdf:
        text = " ".join(" ".join((page.extract_text() or "").split()) for page in pdf.pages)
    for words in ("What Marram Farm says", "Our advice for a farmer", "Madder red: unusual",
                  "Linen: wash the cloth hot"):
        assert words in text, words


def test_a_changed_colour_leaves_the_lay_standing(visitor):
    visitor.type(**MEASURED)
    visitor.lay(enough=True)
    visitor.shows(year="980", region="denmark", cloth_colour="woad")
    assert visitor.text("lay-said") == ""
    fill = "getComputedStyle(document.querySelector('#lay-picture rect.cloth')).fill"
    red, green, blue = (int(tone("woad").cloth[i:i + 2], 16) for i in (1, 3, 5))
    assert visitor.page.evaluate(fill) == f"rgb({red}, {green}, {blue})"


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("screen", [PHONE, DESKTOP])
def test_with_everything_said_no_screen_scrolls_sideways(visitor, screen, scheme):
    visitor.page.set_viewport_size(screen)
    visitor.page.emulate_media(color_scheme=scheme)
    visitor.shows(year="900-1000", region="denmark", rank="poor", cloth_colour="neon",
                  cloth_fibre="synthetic", cloth_weave="velvet")
    visitor.brings(RULES)
    visitor.page.wait_for_selector("#advice-garment .house")
    visitor.page.evaluate("for (const fold of document.querySelectorAll('details')) fold.open = true")
    assert not visitor.scrolls_sideways()
    small = visitor.page.evaluate(
        """() => [...document.querySelectorAll("#garment, #cutting, #stage")]
            .flatMap(part => [...part.querySelectorAll("button, select, summary")])
            .filter(e => e.checkVisibility() && !e.closest(".word"))
            .map(e => [e.textContent, e.getBoundingClientRect()])
            .filter(([_, box]) => box.width < 43.9 || box.height < 43.9).map(([text]) => text)"""
    )
    # source: WCAG 2.2, success criterion 2.5.5 (44 by 44 CSS pixels), which excepts words in a text
    assert small == []


def test_house_rules_are_written_in_a_form_used_saved_and_sent(visitor, profiles):
    page = visitor.page
    visitor.shows(year="900", region="denmark")
    for name, text in (("group", "Marram Farm"), ("years", "850-950"), ("fibres", "wool, linen"),
                       ("not_allowed", "zip, silk"), ("regions", "Atlantis")):
        visitor.unfold("impression", "rules-form")
        page.fill(f"#rules_{name}", text)
    page.click("[data-do='rules:use']")
    page.wait_for_function("document.getElementById('rules_regions-problem').textContent")
    assert "Atlantis" in visitor.problem("rules_regions") and not visitor.problem("rules_years")
    page.fill("#rules_regions", "Denmark")
    with page.expect_download() as caught:
        page.click("[data-do='rules:file']")
    rules = read_house_rules(Path(caught.value.path()).read_bytes())
    assert rules.group == "Marram Farm" and rules.years == (850, 950) and rules.regions == ("denmark",)
    page.click("[data-do='rules:use']")
    page.wait_for_selector("#house h3")
    assert "Marram Farm’s own rules" in page.text_content("#house")
    page.click("[data-do='rules:link']")
    page.wait_for_function("document.getElementById('rules-link').value")
    link = visitor.typed("rules-link")
    assert "bust_girth" not in link
    other = Guest(profiles, visitor.site)
    other.open()
    other.type(**MEASURED)
    other.page.goto("about:blank")
    other.open("#" + link.partition("#")[2])
    other.page.wait_for_selector("[data-do='rules:take']")
    assert "The rules of Marram Farm came by a link" in other.text("notices")
    assert other.typed("bust_girth") == MEASURED["bust_girth"] and not other.page.is_visible("#house h3")
    other.page.click("[data-do='rules:take']")
    other.page.wait_for_selector("#house h3", state="attached")
    assert other.typed("year") == "850-950" and other.text("notices") == ""
    other.close()
