"""What stands on the page, where it is kept and who draws it: the one thing every section is handed.

What the sections hear of (news.py):

    "fill"              the draft's texts are others than the form's fields show
    "another"           another garment stands on the form
    "changed", soon     the draft is another now; `soon` while it is being typed
    "kit"               what the kit's lists show is another now
    "answered", result  the worker has drawn what was asked for, or says why not
    "drawn", result     a new pattern stands on the page
    "opened"            something was opened or closed
    "part"              another part of the page is shown
    "seen"              the page has come to the front, or has left it
    "link", fragment    a draft has come by a link
    "rules", text       a group's house rules have
    "another kit"       has taken the place of the one on the page
    "saved", "saved as a file", "unkept"    the kit was, or cannot be
    "kept again"                            it can be, after all
"""

import form
import keeping
import kitvalues
import lasttime
import telling
from catalogue import Catalogue
from clock import today
from draft import FormDraft, request_of, steps_of, text_of, to_link
from kits import Kits
from link import write_link
from news import News
from running import Running
from undo import Undo


class Session:
    """`draft` is on the form; `own` is the user's while that is another's, come by a link. `view` is how
    the page is arranged, `touched` the fields that the user has changed."""

    def __init__(self, described):
        self.catalogue = Catalogue(described)
        self.news = news = News()
        self.hear, self.tell = news.hear, news.tell
        self.undo = Undo()
        self.kits = Kits(self.catalogue, self.undo, news)
        self.worker = Running(self._ask_to_draw, self._answered)
        self.draft, self.own = FormDraft(self.catalogue.garments[0]), None
        self.view = {}
        self.touched = set()
        self.asked = {}  # what is being drawn
        self.asked_of_example = True  # and whether that is the example
        self._unkept = False
        self.hear("unkept", self.say_unkept)
        self.hear("kept again", self._kept_again)
        self.hear("another kit", self._take_another_kit)

    @property
    def kit(self):
        return self.kits.kit

    # --- What is on the form ---------------------------------------------------------------------

    def put(self, draft, own=None):
        """Have a draft on the page. It is shown by whoever calls, when all else is in its place."""
        self.draft, self.own = draft, own
        if own is not None:
            self.view_part("waiting").pop("link " + draft.garment, None)
        self._set_options_aside()

    def show(self, draft, own=None):
        self.put(draft, own)
        self.refill()

    def _take_another_kit(self):
        self.view["waiting"] = {}
        self.show_garment(self.kit["at"])

    def show_garment(self, garment_id):
        """Put a garment of the kit on the form, with its wearer and its cloths."""
        self.kit["at"] = garment_id
        self.put(self.kits.draft())
        self.undo.drop()
        self.touched = set()
        self.tell("fill")
        self.tell("another")
        self.changed()

    def pick_kind(self, kind):
        """Another kind of garment for the wearer on the form."""
        if self.own is None:
            self.show_garment(kitvalues.look_at(self.kit, kind))
            return
        self.draft.garment = kind
        self.tell("fill")
        self.tell("another")
        self.changed()

    def refill(self):
        """The draft was changed, and not by typing."""
        self.tell("fill")
        self.changed()

    def changed(self, soon=False):
        """The draft is another now: keep it and have it drawn. `soon`: more may be typed."""
        self._set_options_aside()
        self.keep()
        if self.own is None:
            lasttime.drop()
        else:
            lasttime.check(self.ask())
        self.tell("changed", soon)
        if soon:
            self.worker.redraw.soon()
        else:
            self.tell("kit")
            self.worker.redraw.now()

    def _set_options_aside(self):
        """What cannot matter as the options stand waits until it can again, and is not drawn with."""
        draft, garment = self.draft, self.catalogue.garment(self.draft.garment)
        whose = self.kit["at"] if self.own is None else "link"
        waiting = self.view_part("waiting").setdefault(whose + " " + draft.garment, {})
        for option in garment["options"] if garment and (draft.options or waiting) else ():
            name = option["name"]
            if not option["when"]:
                continue
            if not form.matters(garment, option, draft.options):
                if draft.get("options", name):
                    waiting[name] = draft.get("options", name)
                    draft.put("options", name, "")
            elif name in waiting:
                draft.put("options", name, draft.get("options", name) or waiting[name])
                del waiting[name]

    def change_kit(self, garment_id):
        """The kit itself was changed: a garment of it goes on the form, and it is saved."""
        self.show_garment(garment_id)
        self.kits.touched()

    def sewn(self):
        """The garment whose chalk marks and steps are ticked: one of the kit, or what a link's draft has in
        its place."""
        if self.own is None:
            return self.kits.garment()
        visiting, kind = self.view_part("visiting"), self.draft.garment
        kept = visiting.get(kind)
        try:
            sewn = {"done": steps_of(kept["done"]), "progress": text_of(kept["progress"])}
        except (KeyError, TypeError, ValueError):  # there is none, or it is not what this page keeps
            sewn = {"done": [], "progress": ""}
        visiting[kind] = sewn
        return sewn

    # --- What is asked of the worker -------------------------------------------------------------

    def is_example(self):
        return self.draft.is_example(self.catalogue.wanted(self.draft.garment)[0])

    def ask(self, draft=None):
        """The request for the draft on the form, or for another."""
        draft = draft or self.draft
        asked, needed = self.catalogue.wanted(draft.garment)
        return request_of(draft, asked, needed, today())

    def _ask_to_draw(self):
        self.asked_of_example, self.asked = self.is_example(), self.ask()
        return self.asked

    def _answered(self, result):
        if result["ok"]:
            aged = result["age_months"]
            self.draft.aged = "" if aged is None else aged
        self.tell("answered", result)

    # --- Keeping ---------------------------------------------------------------------------------

    def keep(self):
        """The user's own draft in storage; a link's draft, or one that storage refuses, in the
        address."""
        if self.own is not None:
            keeping.in_address(self.fragment(self.draft), self.draft.name)
        elif self.kits.keep(self.draft, self.view):
            keeping.clear_address()
        else:
            self.say_unkept()

    def say_unkept(self):
        """Nothing can be kept here but the address."""
        if not self.draft.is_empty():
            keeping.in_address(self.fragment(self.draft), self.draft.name)
        if not self._unkept:
            self._unkept = True
            telling.notice("kept", [keeping.NOT_KEPT], [("close:kept", "Close")])

    def _kept_again(self):
        self._unkept = False
        telling.notice("kept", [])
        if self.own is None:
            keeping.clear_address()

    def fragment(self, draft, with_name=False):
        """The draft as a link's fragment."""
        known = self.catalogue
        asked, needed = known.wanted(draft.garment)
        order = known.measures + [option["name"] for option in known.garment(draft.garment)["options"]]
        return write_link(to_link(draft, asked, needed, known.lengths, order, with_name))

    def view_part(self, name):
        """A part of what is kept of the view, to be changed in place: "pace", {field: as typed}."""
        part = self.view.get(name)
        if not isinstance(part, dict):
            part = self.view[name] = {}
        return part
