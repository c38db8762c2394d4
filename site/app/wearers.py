"""Several wearers on one device: the one being drafted for, those who wait, and wearers' files.

The wearer drafted for is part of the draft; `keeping.waiting` holds the others, and both are kept
together. Nobody is ever written over: whoever leaves the form goes back among those who wait.
"""

import asyncio

from draft import in_a_unit_of_the_page
from pyscript import window
from safe import esc
from takeaway import hand_over
from telling import by_id, done, plain, set_html, set_text, show

UNNAMED = "no name yet"
LARGEST = 1000000  # bytes; more is not even read
WAITS = "This comes as soon as the drafting tools run: see below."


def today():
    """The date here, as ISO text."""
    now = window.Date.new()
    return "%04d-%02d-%02d" % (now.getFullYear(), now.getMonth() + 1, now.getDate())


def is_nobody(person):
    return not (person["measurements"] or person["name"].strip() or person["born"])


class Wearers:
    """`engine` runs requests; `ready()` waits until it can."""

    def __init__(self, page, engine, ready):
        self.page, self._engine, self._ready = page, engine, ready

    @property
    def waiting(self):
        return self.page.keeping.waiting

    def do(self, what):
        if what == "another":
            self.another()
        elif what == "delete":
            self.delete()
        elif what == "save":
            asyncio.create_task(self.save_file())
        elif what == "open":
            by_id("wearer-file").click()

    # --- Who is drafted for ----------------------------------------------------------------------

    def refresh(self):
        """The list of wearers, once there is more than one; a link's draft is nobody's yet."""
        own = self.page.own is None
        names = [(-1, self.page.draft.name)] + [(i, p["name"]) for i, p in enumerate(self.waiting)]
        names.sort(key=lambda entry: entry[1].lower())
        set_html("wearer-list", "".join(
            '<option value="%d"%s>%s</option>'
            % (i, " selected" if i == -1 else "", esc(name.strip() or UNNAMED)) for i, name in names
        ))
        by_id("wearer-list").value = "-1"
        show("wearer-switch", own and bool(self.waiting))
        show("wearer-delete", bool(self.waiting))
        show("more-wearers", own)
        show("start-from", not self.page.draft.measurements)

    def another(self):
        if is_nobody(self.page.draft.person()):
            by_id("name").focus()
            return
        before = self._leave()
        self._enter(self._nobody())
        self.page.offer_undo("A new wearer. %s is kept." % _called(before), lambda: self._back(before))
        by_id("name").focus()

    def choose(self, index):
        if index >= 0:
            person = self.waiting[index]
            self._leave()
            self._take(person)
            self.page.undo = None  # what it would undo belongs to who has left
            done("")

    def delete(self):
        gone = self.page.draft.person()
        self._take(self.waiting[0])
        self.page.offer_undo("%s is deleted." % _called(gone), lambda: self._restore(gone))
        by_id("wearer-title").focus()

    def _restore(self, person):
        self._leave()
        self._enter(person)

    def _back(self, person):
        """To a wearer who waits, if they still do."""
        if person in self.waiting:
            self._leave()
            self._take(person)

    def _leave(self):
        """The wearer drafted for goes among those who wait, unless nothing is known of them."""
        person = self.page.draft.person()
        if not is_nobody(person):
            self.waiting.append(person)
        return person

    def _take(self, person):
        self.waiting.remove(person)
        self._enter(person)

    def _enter(self, person):
        page = self.page
        page.draft.become(person, page.lengths)
        page.fields.touched = set()
        page.fields.fill(page.draft)
        set_text("wearer-said", "")
        page.changed()

    def _nobody(self):
        return {"unit": self.page.draft.unit, "name": "", "measured": "", "born": "", "sex": "",
                "age_months": "", "measurements": {}, "start": {}}

    # --- Start values ----------------------------------------------------------------------------

    def start_from(self, name):
        """Fill the empty form with a size's start values, each marked until it is replaced."""
        page = self.page
        sizes = [size for size in page.fields.catalog["sizes"] if size["name"] == name]
        by_id("size").value = ""
        if not sizes:
            return
        texts = sizes[0]["values"][page.draft.unit]
        for measure in texts:
            if not page.draft.get("measurements", measure):
                page.draft.put("measurements", measure, texts[measure])
                page.draft.start[measure] = texts[measure]
        self._refill()
        page.offer_undo("Start values of a size: replace each as you measure.", self._drop_starts)

    def _drop_starts(self):
        draft = self.page.draft
        for name in [name for name in draft.measurements if draft.is_start(name)]:
            del draft.measurements[name]
        draft.start = {}
        self._refill()

    def _refill(self):
        self.page.fields.fill(self.page.draft)
        self.page.changed()

    # --- Files -----------------------------------------------------------------------------------

    async def save_file(self):
        person = self.page.draft.person()
        wearer = {key: person[key] for key in ("name", "unit", "measured", "sex", "born")}
        wearer["measurements"] = person["measurements"]
        if person["age_months"] and not person["born"]:
            wearer["age"] = int(person["age_months"])
        result = await self._answer({"do": "write-wearer", "wearer": wearer})
        if result:
            hand_over(result["text"], result["type"], result["name"])
            set_text("wearer-said", "%s is in your downloads." % result["name"])

    async def open_file(self, box):
        """A wearer's file becomes a wearer more. Whoever is drafted for waits meanwhile."""
        file = box.files.item(0)
        if not file:
            return
        try:
            if file.size > LARGEST:
                set_text("wearer-said", "This file is too large to be a wearer's.")
                return
            text = str(await file.text())
        except Exception as error:
            set_text("wearer-said", "This file cannot be read (%s)." % plain(error))
            return
        finally:
            box.value = ""
        result = await self._answer({"do": "read-wearer", "text": text})
        if result:
            self._let_in(result["wearer"])

    def _let_in(self, wearer):
        person = self._nobody()
        for key in ("name", "measured", "born", "sex", "measurements"):
            person[key] = wearer.get(key) or person[key]
        if "age" in wearer:
            person["age_months"] = str(wearer["age"])
        person["unit"] = wearer["unit"]
        in_a_unit_of_the_page(person)
        before = self._leave()
        self._enter(person)
        if before in self.waiting:
            self.page.offer_undo(
                "%s is here, as one wearer more." % _called(person), lambda: self._unlet(person, before)
            )

    def _unlet(self, person, before):
        """Back to who was there; the newcomer waits only if something was typed since."""
        if self.page.draft.person() == person and before in self.waiting:
            self._take(before)
        else:
            self._back(before)

    async def _answer(self, request):
        """The worker's result, or None when the reason has been said."""
        try:
            if not await self._ready():
                set_text("wearer-said", WAITS)
                return None
            result = await self._engine.run(request)
        except Exception as error:
            set_text("wearer-said", "That did not work (%s). Please try again." % plain(error))
            return None
        if not result["ok"]:
            problems = " ".join(problem["message"] for problem in result["problems"])
            set_text("wearer-said", problems)
            return None
        return result


def _called(person):
    return person["name"].strip() or "The wearer"

