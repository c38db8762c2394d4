"""Ways about the page: to a part of it, to a field, into a fold, and to what a word means."""

import telling
from pyscript import document, window
from pyscript.ffi import to_js
from telling import arrive, by_id
from words import explained


class Wayfinding:
    def __init__(self, session):
        self._session = session

    def answers(self):
        return {
            "section": lambda name, _: go_to_part(name),
            "go-to": lambda _, button: go_to(button.getAttribute("data-field")),
            "word": lambda name, _: _explain(name),
            "close": lambda notice, _: telling.notice(notice, []),
        }

    def on_click(self):
        return (("#word", lambda _: _explain("")),)  # beside the explanation

    def on_toggle(self):
        return ((":not([data-wearer]):not([data-cloth])", self._folded),)

    def _folded(self, _):
        """A group was folded or unfolded."""
        opened = [fold.id for fold in document.querySelectorAll("details[id]") if fold.open]
        self._session.view["open"] = opened
        self._session.keep()


def go_to(name):
    """To a field, or to any place of that id."""
    field = by_id("field-" + name)
    place = field or by_id(name)
    arrive(by_id(name) or field.querySelector("input"), place)


def go_to_part(name):
    """Show a part of the page from its beginning."""
    window.ellwand.goTo(name)
    arrive(by_id(name + "-title"))
    window.scrollTo(to_js({"top": 0, "behavior": "instant"}))


def _explain(name):
    """Open a word's explanation, or close it; the browser brings the focus back to the word."""
    dialog = by_id("word")
    if dialog.open:
        dialog.close()
    if name:
        telling.set_text("word-title", name[0].upper() + name[1:])
        telling.set_text("word-text", explained(name))
        dialog.showModal()
