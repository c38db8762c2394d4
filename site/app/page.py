"""The page: its draft, what the user does with it, and what comes back from the worker."""

import keeping
import kitvalues
import lasttime
import takeaway
import telling
from changes import Changes
from cloths import NAME, part_and_name
from draft import FormDraft, looks_of, period_of, request_of, to_link
from example import EXAMPLE_NAME
from fields import CLOTH_LISTS, CLOTH_TICKS, Fields
from impression import LISTS
from kits import Kits
from link import write_link
from outcome import Outcome
from pyscript import document, window
from pyscript.ffi import to_js
from stage import STEP, Stage
from telling import by_id, show
from visiting import Visiting
from wearers import today

LAY_FILES = ("chalk-plan.pdf", "lay.svg", "lay-lining.svg", "booklet.pdf")


class Page:
    """`redraw`, `run_bytes`, `laid` and `drawn` are given by main.py before anything happens."""

    def __init__(self, catalog):
        self.garments = [garment["name"] for garment in catalog["garments"]]
        self.measures = [measure["name"] for measure in catalog["measures"]]
        self.lengths = {
            g["name"]: [o["name"] for o in g["options"] if o["kind"] == "length"]
            for g in catalog["garments"]
        }
        self.fields = Fields(catalog)
        self.ticks = {name: (ticked, left) for name, ticked, left in CLOTH_TICKS}
        self.stage = Stage(by_id("cloth"))
        self.outcome = Outcome(self.fields, self.stage)
        self.changes = Changes(self)
        self.visiting = Visiting(self)
        self.kits = Kits(self.garments, self.lengths, self.show_garment, self._say_unkept)
        self.draft = FormDraft(self.garments[0])
        self.own = None  # the user's draft while another one, come by a link, is on the page
        self.view = {}
        self.asked = {}  # what is being drawn
        self.asked_of_example = True  # and whether that is the example
        self.undo = None
        self.redraw = None
        self.run_bytes = None
        self.laid = None  # called for the request whose lay stands on the page, if there is one
        self.kit_list = None  # given by main.py: the kit's section
        self.wearers = None  # given by main.py: the other wearers, and wearers' files
        self.handed = None  # given by main.py: what comes by a link that is no single draft
        self.drawn = None  # called when a new pattern stands on the page
        self.advice = None  # given by main.py
        self.said_cautions = ()  # what the pattern on the page says to take care of
        self.lists = dict(LISTS)  # the lists of the impression and the cloth, and their holders
        self._unkept = False

    # --- Coming in -------------------------------------------------------------------------------

    async def open(self):
        """Put on the page what was kept, or what the link holds; keep what was typed before this."""
        self.view, said = await self.kits.open()
        early, early_name = self.fields.early(), by_id("name").value
        telling.notice("kept", [said] if said else [], [("close:kept", "Close")])
        self.draft = self.kits.draft()
        self.stage.adopt()
        self._arrange()
        self.handed.open("")
        self.visiting.open(window.location.hash)
        for holder, name, text in early:
            self.fields.touched.add(name)
            self.draft.put(holder, name, text)
        self.draft.name = early_name or self.draft.name
        self.fields.fill(self.draft)
        self.fields.count_changed(self.draft)
        show("afresh", not self.draft.is_empty())
        if self.draft.is_example(self.fields.asked) and not self.draft.options:
            document.documentElement.removeAttribute("data-returning")
        self.outcome.say_whose(self.draft)
        self.fields.mark_starts(self.draft)
        self.wearers.refresh()
        self.kit_list.refresh()
        if lasttime.check(self.ask()):
            self.stage.adopt()
        if early or early_name:
            self.changed()
        if not self.kits.works:
            self._say_unkept()

    # --- What the user does ----------------------------------------------------------------------

    def typed(self, box):
        """A field with a text was typed in."""
        name = box.id
        if name == "name":
            self.draft.name = box.value
            self.keep()
            self.wearers.refresh()
            self.kit_list.refresh()
            return
        self.fields.touched.add(name)
        self.draft.put(box.getAttribute("data-in"), name, box.value)
        if box.getAttribute("data-in") == "measurements" and not self.draft.measured:
            self.draft.measured = today()
            by_id("measured").value = self.draft.measured
        self.fields.dress(name, box.value)
        if part_and_name(name)[1] == NAME:
            self.keep()
            self.kit_list.refresh()
            return
        self.changed(soon=True)

    def picked(self, box):
        """A radio button or a list was set."""
        name, value = box.name, box.value
        if name == "unit":
            self.draft.switch_unit(value, self.lengths)
            self.fields.fill(self.draft)
        elif name == "garment" and self.own is None:
            self.show_garment(kitvalues.look_at(self.kits.kit, value))
            return
        elif name == "garment":
            self.draft.garment = value
            self.fields.fill(self.draft)
            self.stage.fit()
        elif name in self.lists:
            self.draft.put(self.lists[name], name, value)
            self.fields.impression.fill(self.draft)
        elif name == "doing":
            boxes = document.getElementsByName("doing")
            self.view["doing"] = [box.value for box in boxes if box.checked]
            self.keep()
            self.advice.refresh()
            return
        elif name in self.fields.options:
            default = self.fields.options[name]["default"]
            self.draft.put("options", name, "" if value == default else value)
        elif name in CLOTH_LISTS:
            self.draft.put("cloth", name, "" if value == CLOTH_LISTS[name] else value)
        elif name in self.ticks:
            ticked, left = self.ticks[name]
            self.draft.put("cloth", name, ticked if box.checked and ticked != left else "")
        elif name in ("sex", "age_months", "paper", "born", "measured"):
            setattr(self.draft, name, value)
            self.fields.show_age(self.draft)
        else:
            return
        if name == "paper":
            self.keep()
        else:
            self.changed()

    def impressed(self, box):
        """The year of the impression was typed."""
        self.draft.put("impression", box.id, box.value)
        self.fields.impression.say(self.draft)
        self.keep()
        self.advice.soon()

    def offer_undo(self, text, undo):
        self.undo = undo
        telling.done(text)

    def undo_last(self):
        undo, self.undo = self.undo, None
        telling.done("")
        by_id("verdict").focus()
        if undo:
            undo()

    def go_to(self, name):
        field = by_id("field-" + name)
        if not field:
            place = by_id(name)
            place.scrollIntoView(to_js({"block": "center"}))
            place.focus()
            return
        around = field.closest("details")
        if around:
            around.open = True
        field.scrollIntoView(to_js({"block": "center"}))
        box = by_id(name) or field.querySelector("input")
        box.focus()

    def zoom(self, how):
        if how == "all":
            self.stage.fit()
        else:
            self.stage.zoom_by(STEP if how == "in" else 1 / STEP)

    def folded(self):
        """A group was folded or unfolded."""
        self.view["open"] = [d.id for d in document.querySelectorAll("details[id]") if d.open]
        self.keep()

    def changed(self, soon=False):
        """The draft is another now: keep it and have it drawn."""
        self.keep()
        if self.own is None:
            lasttime.drop()
        else:
            lasttime.check(self.ask())
        self.fields.count_changed(self.draft)
        self.fields.mark_starts(self.draft)
        show("afresh", not self.draft.is_empty())
        if soon:
            show("start-from", not self.draft.measurements)
            self.redraw.soon()
        else:
            self.wearers.refresh()
            self.kit_list.refresh()
            self.redraw.now()
        if not self.redraw.able:
            self.outcome.say_waiting(self.draft)

    def show_garment(self, garment_id):
        """Put a garment of the kit on the form, with its wearer and its cloth."""
        self.kits.kit["at"] = garment_id
        self.draft, self.own, self.undo = self.kits.draft(), None, None
        telling.done("")
        self.fields.touched = set()
        self.fields.fill(self.draft)
        self.stage.fit()
        self.changed()

    # --- Keeping ---------------------------------------------------------------------------------

    def keep(self):
        """The user's own draft in storage; a link's draft, or one that storage refuses, in the
        address."""
        if self.own is not None:
            keeping.in_address(self.fragment(self.draft), self.draft.name)
        elif self.kits.keep(self.draft, self.view):
            keeping.clear_address()
        else:
            self._say_unkept()

    def _say_unkept(self):
        """Nothing can be kept here but the address."""
        if not self.draft.is_empty():
            keeping.in_address(self.fragment(self.draft), self.draft.name)
        if not self._unkept:
            self._unkept = True
            telling.notice("kept", [keeping.NOT_KEPT], [("close:kept", "Close")])

    def fragment(self, draft, with_name=False):
        """The draft as a link's fragment."""
        asked, needed = self.fields.wanted(draft.garment)
        order = self.measures + self.fields.option_order
        return write_link(to_link(draft, asked, needed, self.lengths, order, with_name))

    def _arrange(self):
        doing = self.view.get("doing")
        doing = self.view["doing"] = doing if isinstance(doing, list) else []
        for box in document.getElementsByName("doing"):
            box.checked = box.value in doing
        opened = self.view.get("open")
        if isinstance(opened, list):
            for fold in document.querySelectorAll("details[id]"):
                fold.open = fold.id in opened

    # --- What comes back -------------------------------------------------------------------------

    def ask(self):
        return request_of(self.draft, self.fields.asked, self.fields.needed, today())

    def ask_of(self, garment_id):
        """The request for the steps of any garment of the kit."""
        draft = kitvalues.draft_of(self.kits.kit, garment_id, self.lengths)
        asked, needed = self.fields.wanted(draft.garment)
        request = request_of(draft, asked, needed, today())
        request["do"] = "sew"
        return request

    def ask_to_sew(self):
        request = self.ask()
        request.update(looks_of(self.draft))
        return request

    def ask_to_draw(self):
        """The same, for the page itself to show."""
        self.asked_of_example = self.draft.is_example(self.fields.asked)
        self.asked = self.ask()
        return self.asked

    def show(self, result):
        """Put a draft's result on the page, or say beside each field why there is none."""
        if result["ok"]:
            aged = result["age_months"]
            self.draft.aged = "" if aged is None else aged
            self.fields.show_age(self.draft)
        if self.outcome.show(result, self.draft, self.asked_of_example):
            own = self.own is None and not self.draft.is_empty()
            lasttime.keep(self.asked if own else None, result["preview"])
            self.said_cautions = result["cautions"]
            self.advice.show_cautions()
            self.kit_list.refresh()
            self.drawn()
        self.advice.refresh()

    # --- Taking away -----------------------------------------------------------------------------

    def file_request(self, kind):
        request = self.ask()
        name = self.draft.name.strip()
        if not name and self.draft.is_example(self.fields.asked):
            name = EXAMPLE_NAME
        request.update({
            "do": "file", "kind": kind, "name": name,
            "paper": by_id("paper").value,
        })
        laid = self.laid()
        if laid and kind in LAY_FILES:
            for key in ("seconds", "max_rounds", "tearable"):
                request[key] = laid[key]
        elif kind == "booklet.pdf" and not laid:
            request["cloth"] = request["cloths"] = {}
        if kind == "booklet.pdf":
            request.update(period_of(self.draft))
            request["activities"] = self.view["doing"]
        return request

    # --- The sewing ------------------------------------------------------------------------------

    def view_part(self, name):
        """A part of what is kept of the view, to be changed in place: "pace", {field: as typed}."""
        part = self.view.get(name)
        if not isinstance(part, dict):
            part = self.view[name] = {}
        return part

    def sewn(self):
        """The garment whose steps are ticked: one of the kit, or what a link's draft has in its place."""
        if self.own is None:
            return self.kits.garment()
        return self.view_part("visiting").setdefault(self.draft.garment, {"done": [], "progress": ""})

    async def take(self, kind):
        await takeaway.take(kind, self.file_request(kind), self.run_bytes, self.redraw.settled)

    def link(self):
        """The address of this draft, with the name in it if that is ticked."""
        fragment = self.fragment(self.draft, by_id("with-name").checked)
        return takeaway.address() + "#" + fragment

    def title(self):
        """What the draft on the page is called."""
        return "%s, drafted with Ellwand" % self.fields.title_of(self.draft.garment)
