"""The form as it is filled in: what is typed and chosen goes into the draft."""

from cloths import NAME, part_and_name
from clock import today
from fields import CLOTH_LISTS, CLOTH_TICKS
from impression import LISTS
from telling import arrive, by_id

NEXT = 'input:not([type="radio"], [type="checkbox"], [type="file"]), select:not([disabled]), .next a.button'
OF_THE_DRAFT = ("sex", "age_months", "paper", "born", "measured")


class Filling:
    def __init__(self, session, fields):
        self._session, self._fields = session, fields
        self._lists = dict(LISTS)  # those of the impression and the cloth, and their holders
        self._ticks = {name: (ticked, left) for name, ticked, left in CLOTH_TICKS}

    def on_input(self):
        return (
            ("#name", self._named),
            ('[data-in][type="text"]:not([data-in="impression"])', self._typed),
        )

    def on_keydown(self):
        return (('main > section input:not([type="radio"], [type="checkbox"])', _go_on),)

    def on_change(self):
        return (('[name]:not([type="text"]):not([name="doing"])', self._picked),)

    def _named(self, box):
        self._session.draft.name = box.value
        self._session.keep()
        self._session.tell("kit")

    def _typed(self, box):
        session, name, holder = self._session, box.id, box.getAttribute("data-in")
        draft = session.draft
        session.touched.add(name)
        draft.put(holder, name, self._fields.kept(name, box.value))
        if holder == "measurements" and not draft.measured:
            draft.measured = today()
            by_id("measured").value = draft.measured
        self._fields.dress(name, box.value)
        if part_and_name(name)[1] == NAME:  # it changes nothing that is drawn
            session.keep()
            session.tell("kit")
        else:
            session.changed(soon=True)

    def _picked(self, box):
        """A radio button, a list or a tick was set."""
        session, name, value = self._session, box.name, box.value
        draft = session.draft
        if name == "garment":
            session.pick_kind(value)
            return
        if name == "unit":
            draft.switch_unit(value, session.catalogue.lengths)
            session.tell("fill")
        elif name in self._lists:
            draft.put(self._lists[name], name, value)
            self._fields.impression.fill(draft)
        elif name in self._fields.options:
            default = self._fields.options[name]["default"]
            draft.put("options", name, "" if value == default else value)
        elif name in CLOTH_LISTS:
            draft.put("cloth", name, "" if value == CLOTH_LISTS[name] else value)
        elif name in self._ticks:
            ticked, left = self._ticks[name]
            draft.put("cloth", name, ticked if box.checked and ticked != left else "")
        elif name in OF_THE_DRAFT:
            setattr(draft, name, value)
            self._fields.show_age(draft)
        if name == "paper":
            session.keep()
        else:
            session.changed()


def _go_on(box):
    """Enter: to the next field that can be seen, or to what comes next."""
    boxes = list(box.closest("main > section").querySelectorAll(NEXT))
    after = False
    for other in boxes:
        if after and other.checkVisibility():
            arrive(other, other.closest(".field") or other)
            return
        after = after or other.isSameNode(box)
