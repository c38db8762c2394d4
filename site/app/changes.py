"""What the page changes in the draft because the user took an offer: each with a way back."""

from cloths import CLOTH, field_of
from draft import HOLDERS, IMPRESSION, FormDraft
from telling import by_id


class Changes:
    def __init__(self, session, fields):
        self._session, self._fields = session, fields

    def answers(self):
        return {
            "remedy": lambda _, button: self.take(
                {button.getAttribute("data-option"): button.getAttribute("data-value")}),
            "meant": lambda name, _: self._take_meant(name),
            "instead": lambda _, button: self._take_instead(
                button.getAttribute("data-field"), button.getAttribute("data-value")),
            "leave-out": lambda _, button: self._leave_out(button.getAttribute("data-field")),
            "afresh": lambda *_: self._start_afresh(),
        }

    def take(self, change, back_to="verdict"):
        """Set options, and fields of the cloth, to what is said to help: {name: text}."""
        before = self._held(change)
        self._put(change)
        labels = [self._fields.label(name) or "The cloth" for name in change]
        named = labels[0] if len(labels) == 1 else "%d things" % len(labels)
        self._session.undo.offer("%s changed." % named, lambda: self._put(before))
        by_id(back_to).focus()

    def _take_meant(self, name):
        """Measurements become what they were meant to be."""
        draft, meant = self._session.draft, self._fields.meant[name]["meant"]
        before = [(field, draft.get("measurements", field)) for field, _ in meant]
        self._measure(meant)
        changed = "One number" if len(meant) == 1 else "%d numbers" % len(meant)
        self._session.undo.offer("%s changed." % changed, lambda: self._measure(before))
        by_id(name).focus()

    def _measure(self, texts):
        for name, text in texts:
            self._session.draft.put("measurements", name, text)
        self._session.refill()

    def _take_instead(self, field, value):
        """Set what would be right for the time, the place and the rank."""
        session = self._session
        if field == "garment":
            before = session.draft.garment
            session.pick_kind(value)
            session.undo.offer("Another garment.", lambda: session.pick_kind(before))
            return
        name = field_of("main", field)
        if field.startswith("options."):
            name = field[len("options."):]
        elif field in IMPRESSION:
            name = field
        before = self._held([name])
        self._put({name: value})
        label = self._fields.label(name) or by_id("field-" + name).querySelector("label").textContent
        session.undo.offer("%s changed." % label, lambda: self._put(before))

    def impress(self, texts, said):
        """Change the impression."""
        draft = self._session.draft
        before = {name: draft.get("impression", name) for name in texts}
        for name in texts:
            draft.put("impression", name, texts[name])
        self._fields.impression.fill(draft)
        self._session.changed()
        self._session.undo.offer(said, lambda: self.impress(before, "Changed back."))

    def _leave_out(self, name):
        """Drop an option or measurement that this page has no field for."""
        session = self._session
        holder = next(h for h in HOLDERS if session.draft.get(h, name))
        before = session.draft.get(holder, name)

        def put(text):
            session.draft.put(holder, name, text)
            session.changed()

        put("")
        session.undo.offer("“%s” is left out." % name, lambda: put(before))
        by_id("verdict").focus()

    def _start_afresh(self):
        session = self._session
        fresh = FormDraft(session.draft.garment, session.draft.unit)
        fresh.paper = session.draft.paper
        fresh.impression = dict(session.draft.impression)  # the whole kit's, not this form's
        self._swap(fresh, session.draft, "The form is empty again.")
        session.touched = set()
        by_id(self._fields.asked[0]).focus()

    def _held(self, names):
        return {name: self._session.draft.get(_holder(name), name) for name in names}

    def _put(self, texts):
        for name in texts:
            self._session.draft.put(_holder(name), name, texts[name])
        self._session.refill()

    def _swap(self, new, old, text):
        self._session.show(new, self._session.own)
        self._session.undo.offer(text, lambda: self._swap(old, new, "Changed back."))


def _holder(name):
    """Which texts of a draft an option, a cloth's field or the impression's belongs to."""
    if name in IMPRESSION:
        return "impression"
    return "cloth" if name.startswith(CLOTH) else "options"
