"""Advice on time, place and rank beside the choices it speaks of, a group's own rules, and cautions.

It is asked of the worker only once something of it was chosen, and again when that changes. It never
holds anything up: a draft is drawn whatever is said here.
"""

import asyncio

from advicecards import advice_html, headed, list_html, owned, quote_html, rulings_html
from clock import mark, now
from cloths import LOOKS, field_of
from draft import period_of
from exchange import with_text
from pyscript import document
from safe import esc
from telling import by_id, set_html, set_text, show

PROBLEMS = ("year", "region", "rank", "cloth_fibre", "cloth_weave", "cloth_colour", "house_rules")
WANTING = {
    "year": "Type a year as well, and the advice comes.",
    "region": "Choose a land as well, and the advice comes.",
}
AT_THE_CLOTH = ("dyeing", "fulling")  # what people do to a cloth before they cut it
PATIENCE = 0.5  # seconds without typing before what is typed is asked about
LARGEST = 100000  # bytes of a file of house rules that is still read
WAITS = "This comes as soon as the drafting tools run: see below."


class AdvicePart:
    def __init__(self, session, fields, changes):
        self._session, self._fields, self._changes = session, fields, changes
        self._said = ()  # what the pattern on the page says to take care of
        self._asked = None  # the request whose answer stands on the page
        self._result = None
        self._busy = False
        self._typed_at = -PATIENCE
        session.hear("drawn", self._drawn)
        session.hear("answered", lambda _: self.refresh())

    def answers(self):
        return {
            "house-open": lambda *_: by_id("house-file").click(),
            "house-close": lambda *_: self._close_rules(),
        }

    def on_input(self):
        return (('[data-in="impression"]', self._typed),)

    def on_change(self):
        return (('[name="doing"]', self._set_doing), ("#house-file", self._open_rules))

    def _typed(self, box):
        """The year of the impression."""
        draft = self._session.draft
        draft.put("impression", box.id, box.value)
        self._fields.impression.say(draft)
        self._session.keep()
        self._typed_at = now()
        self.refresh()

    def _set_doing(self, _):
        boxes = document.getElementsByName("doing")
        self._session.view["doing"] = [box.value for box in boxes if box.checked]
        self._session.keep()
        self.refresh()

    # --- Asking ------------------------------------------------------------------------------------

    def refresh(self):
        """Something may have changed, or been drawn. `<html data-advised>` says whether it is told."""
        document.documentElement.dataset.advised = "no"
        if not self._busy:
            asyncio.create_task(self._follow())

    async def _follow(self):
        self._busy = True
        changed = False
        try:
            while self._request() != self._asked:
                await self._quiet()
                changed, request = True, self._request()
                if request is None:
                    self._result = None
                else:
                    if not await self._session.worker.ready():
                        return
                    mark("advice-asked")
                    result = await self._session.worker.run(request)
                    if not result:
                        return
                    self._result = result
                    mark("advised")
                self._asked = request
            if changed:
                self._show()
            self._tint()
            document.documentElement.dataset.advised = "yes"
        finally:
            self._busy = False

    async def _quiet(self):
        """A year that is half typed is no wrong one."""
        while now() - self._typed_at < PATIENCE:
            await asyncio.sleep(PATIENCE - (now() - self._typed_at) + 0.001)

    def _request(self):
        """None while nothing was chosen that there could be advice on."""
        session, draft = self._session, self._session.draft
        request = {name: text for name, text in period_of(draft).items() if text}
        doing = session.view.get("doing")
        if doing:
            request["activities"] = doing
        if not request or list(request) == ["rank"]:
            return None
        choices = {}
        for name, option in self._fields.options.items():
            if option["kind"] == "choice" and draft.get("options", name):
                choices[name] = draft.get("options", name)
        whole = session.ask()
        for key in ("garment", "unit", "sex", "age_months", "born", "measured", "today"):
            request[key] = whole[key]
        stature = whole["measurements"].get("stature", "")
        request.update({
            "do": "advise", "forgiving": True, "options": choices,
            "measurements": {"stature": stature} if stature else {},
        })
        return request

    # --- Showing -----------------------------------------------------------------------------------

    def _show(self):
        result = self._result
        if result and not result["ok"]:
            set_html("advice-garment", '<p class="problem">%s</p>' % esc(
                " ".join(p["message"] for p in result["problems"])))
            result = None
        elif not result:
            set_html("advice-garment", "")
        self._show_problems(result["problems"] if result else ())
        house = result["house"] if result else None
        rulings = house["rulings"] if house else []
        cloth, garment, offered = [], [], set()
        for advice in result["advice"] if result else ():
            beside = cloth if advice["field"] in LOOKS else garment
            beside.append(advice_html(advice, offered))
        if result:
            set_html("advice-garment", headed(result, garment) + rulings_html(
                house, [r for r in rulings if r["field"] not in LOOKS], True) + "".join(garment))
        set_html("advice-cloth", rulings_html(
            house, [r for r in rulings if r["field"] in LOOKS], False) + "".join(cloth))
        self._show_house(house)
        cautions = result["cautions"] if result else []
        self._show_cautions()
        at_cloth = [c["sentence"] for c in cautions if c["moment"] in ("dyeing", "washing")]
        set_html("cloth-cautions", list_html(at_cloth))
        show("cloth-cautions-part", bool(at_cloth))
        if at_cloth and [what for what in AT_THE_CLOTH if what in self._session.view["doing"]]:
            by_id("cloth-cautions-part").open = True
        against = [a["headline"] for a in (result["advice"] if result else ())
                   if a["severity"] in ("unusual", "wrong")]
        against += [r["sentence"] for r in rulings]
        set_text("advice-said", ". ".join(against) if against else
                 "Right for the time and place." if result and result["advice"] else "")

    def _tint(self):
        """A colour that is a word and not a dye's name is shown as the dye that it is taken for."""
        if self._result and self._result.get("dye"):
            draft = self._session.draft
            self._fields.impression.tint(
                self._result["dye"], draft.get("cloth", "cloth_fibre"))

    def _drawn(self, result):
        self._said = result["cautions"]
        self._show_cautions()

    def _show_cautions(self):
        """Those on wearing it which the pattern does not give already."""
        worn = [c["sentence"] for c in (self._result or {}).get("cautions", ())
                if c["moment"] == "wearing" and c["sentence"] not in self._said]
        set_html("worn", list_html(worn))
        show("worn-part", bool(worn))

    def _show_problems(self, problems):
        said = {}
        draft = self._session.draft
        for problem in problems:
            name = problem["field"]
            name = field_of("main", name) if name in LOOKS else name
            if name in WANTING and not draft.get("impression", name).strip():
                said[name] = WANTING[name]
            elif name in PROBLEMS:
                said[name] = (said.get(name, "") + " " + problem["message"]).strip()
        for name in PROBLEMS:
            fold = by_id("field-" + name).closest("details")
            if fold and name in said and said[name] != by_id(name + "-problem").textContent:
                fold.open = True  # what does not read must be seen
            set_text(name + "-problem", said.get(name, ""))
            by_id("field-" + name).setAttribute("data-mark", "warned" if name in said else "")

    def _show_house(self, house):
        kept = bool(self._session.draft.get("impression", "rules"))
        show("house-close", kept)
        set_text("house-open", "Open another group's rules" if kept else "Open your group's rules")
        set_html("house", "<h3>%s</h3>%s%s" % (
            esc(owned(house["group"]) + " own rules"), quote_html(house), list_html(house["shows"])
        ) if house else "")

    # --- House rules -------------------------------------------------------------------------------

    async def _open_rules(self, box):
        """A group's file becomes part of the draft; what it leaves no choice in fills empty fields."""
        set_text("house-said", "")
        await with_text(
            box, LARGEST, "This file is too large to be house rules.", "house-said", self.use_rules
        )

    async def use_rules(self, text):
        """Rules as a file's or a link's text."""
        if not await self._session.worker.ready():
            set_text("house-said", WAITS)
            return
        result = await self._session.worker.run({"do": "read-house-rules", "text": text})
        if not result:
            return
        if not result["ok"]:
            set_text("house-said", " ".join(p["message"] for p in result["problems"]))
            return
        changed = {"rules": result["link_text"]}
        for name in result["fills"]:
            if not self._session.draft.get("impression", name):
                changed[name] = result["fills"][name]
        self._changes.impress(changed, "The rules of %s are here." % result["group"])

    def _close_rules(self):
        self._changes.impress({"rules": ""}, "The group's rules are removed.")
