"""Someone who outfits a group: a visitor who works in the kit's section of the page."""

import json
from pathlib import Path

from visitor import Visitor

PHONE_CAN = """
    window.shared = [];
    navigator.canShare = () => true;
    navigator.share = async data => { shared.push(data); };
    window.promised = 0;
    if (navigator.storage) navigator.storage.persist = async () => { promised += 1; return true; };
"""
KIT_ID = "(JSON.parse(localStorage.getItem('ellwand ' + location.pathname))?.kit ?? null)"


class Leader(Visitor):
    """Does what stands on a button, waits for what the page says, reads the kit's file."""

    def do(self, what):
        """What a kit's button does may take longer than this: wait for what is to come of it."""
        self.unfold("kits-here", "kit-hand")
        self.page.click(f'[data-do="{what}"]')
        self.settle()

    def add(self, wearer, kind):
        self.page.select_option(f'[data-add="{wearer}"]', kind)
        self.settle()

    def garments(self):
        return self.page.eval_on_selector_all(
            ".kit-go b", "titles => titles.map(title => title.textContent)")

    def until(self, script):
        self.page.wait_for_function(script)

    def noticed(self, words, place="notices"):
        """Wait until something is said."""
        self.page.wait_for_function(
            "([place, words]) => document.getElementById(place).innerText.includes(words)",
            arg=[place, words])

    def kit_id(self):
        """Of the kit on the page; None before anything was kept."""
        return self.page.evaluate(KIT_ID)

    def new_kit(self):
        """Begin one, and wait until it is the one on the page."""
        before = self.kit_id()
        self.do("kit:new")
        self.page.wait_for_function(f"before => {KIT_ID} !== before", arg=before)
        self.settle()

    def kept(self, script):
        """What a promise of the store of kits comes to."""
        return self.page.evaluate(f"ellwand.kits.{script}")

    def kit_file(self) -> dict:
        with self.page.expect_download() as caught:
            self.page.click('[data-do="kit:save"]')
        return json.loads(Path(caught.value.path()).read_text(encoding="utf-8"))

    def open_kit(self, text):
        """Choose a kit's file, of that text."""
        self.page.set_input_files(
            "#kit-file", {"name": "a.kit.json", "mimeType": "application/json", "buffer": text.encode()})

    def undo(self):
        self.page.click("[data-do=undo]")
        self.settle()

    def close_page_and_come_back(self):
        """At once, whatever is not saved yet."""
        self.page.close()
        self.new_page()
        self.open()


def kit_sum(someone, words):
    someone.page.wait_for_function(
        "words => document.getElementById('kit-sum').textContent.startsWith(words)", arg=words)


def kit_link(someone, names):
    someone.unfold("kit-hand")
    someone.page.set_checked("#kit-names", names)
    someone.page.evaluate("document.getElementById('kit-link').value = ''")
    someone.page.click("[data-do='kit:link']")
    someone.until("document.getElementById('kit-link').value")
    return someone.typed("kit-link")
