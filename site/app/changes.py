"""What the page changes in the draft because the user took an offer: each with a way back."""

from cloths import CLOTH, field_of
from draft import HOLDERS, IMPRESSION, FormDraft
from pyscript import document
from telling import by_id


class Changes:
    def __init__(self, page):
        self._page = page

    def take(self, change, back_to="verdict"):
        """Set options, and fields of the cloth, to what is said to help: {name: text}."""
        page = self._page
        before = self._held(change)
        self._put(change)
        labels = [page.fields.label(name) or "The cloth" for name in change]
        named = labels[0] if len(labels) == 1 else "%d things" % len(labels)
        page.offer_undo("%s changed." % named, lambda: self._put(before))
        by_id(back_to).focus()

    def take_instead(self, field, value):
        """Set what would be right for the time, the place and the rank."""
        page = self._page
        if field == "garment":
            before = page.draft.garment
            self._pick_garment(value)
            page.offer_undo("Another garment.", lambda: self._pick_garment(before))
            return
        name = field_of("main", field)
        if field.startswith("options."):
            name = field[len("options."):]
        elif field in IMPRESSION:
            name = field
        before = self._held([name])
        self._put({name: value})
        label = page.fields.label(name) or by_id("field-" + name).querySelector("label").textContent
        page.offer_undo("%s changed." % label, lambda: self._put(before))

    def impress(self, texts, said):
        """Change the impression."""
        page = self._page
        before = {name: page.draft.get("impression", name) for name in texts}
        for name in texts:
            page.draft.put("impression", name, texts[name])
        page.fields.impression.fill(page.draft)
        page.changed()
        page.offer_undo(said, lambda: self.impress(before, "Changed back."))

    def leave_out(self, name):
        """Drop an option or measurement that this page has no field for."""
        page = self._page
        holder = next(h for h in HOLDERS if page.draft.get(h, name))
        before = page.draft.get(holder, name)

        def put_back():
            page.draft.put(holder, name, before)
            page.changed()

        page.draft.put(holder, name, "")
        page.changed()
        page.offer_undo("“%s” is left out." % name, put_back)
        by_id("verdict").focus()

    def start_afresh(self):
        page = self._page
        fresh = FormDraft(page.draft.garment, page.draft.unit)
        fresh.paper = page.draft.paper
        fresh.impression = dict(page.draft.impression)  # the whole kit's, not this form's
        self._swap(fresh, page.draft, "The form is empty again.")
        page.fields.touched = set()
        by_id(page.fields.asked[0]).focus()

    def _held(self, names):
        return {name: self._page.draft.get(_holder(name), name) for name in names}

    def _put(self, texts):
        page = self._page
        for name in texts:
            page.draft.put(_holder(name), name, texts[name])
        page.fields.fill(page.draft)
        page.changed()

    def _swap(self, new, old, text):
        page = self._page
        page.draft = new
        page.fields.fill(new)
        page.changed()
        page.offer_undo(text, lambda: self._swap(old, new, "Changed back."))

    def _pick_garment(self, name):
        for radio in document.getElementsByName("garment"):
            if radio.value == name:
                radio.checked = True
                self._page.picked(radio)


def _holder(name):
    """Which texts of a draft an option, a cloth's field or the impression's belongs to."""
    if name in IMPRESSION:
        return "impression"
    return "cloth" if name.startswith(CLOTH) else "options"
