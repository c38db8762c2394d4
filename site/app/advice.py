"""AdvicePart on time, place and rank beside the choices it speaks of, a group's own rules, and cautions.

It is asked of the worker only once something of it was chosen, and again when that changes. It never
holds anything up: a draft is drawn whatever is said here.
"""

import asyncio

from cloths import LOOKS, field_of
from draft import period_of
from pyscript import document, window
from safe import esc
from takeaway import with_text
from telling import by_id, set_html, set_text, show

PROBLEMS = ("year", "region", "rank", "cloth_fibre", "cloth_weave", "cloth_colour", "house_rules")
WANTING = {
    "year": "Type a year as well, and the advice comes.",
    "region": "Choose a land as well, and the advice comes.",
}
AT_THE_CLOTH = ("dyeing", "fulling")  # what people do to a cloth before they cut it
MARKS = {"right": "✓", "note": "i", "unknown": "?", "unusual": "!", "wrong": "✗"}
PATIENCE = 0.5  # seconds without typing before what is typed is asked about
LARGEST = 100000  # bytes of a file of house rules that is still read
WAITS = "This comes as soon as the drafting tools run: see below."


class AdvicePart:
    """`page` holds the draft; `run` answers a request; `ready()` waits for the worker."""

    def __init__(self, page, run, ready):
        self._page, self._run, self._ready = page, run, ready
        self._asked = None  # the request whose answer stands on the page
        self._result = None
        self._busy = False
        self._typed_at = -PATIENCE

    # --- Asking ------------------------------------------------------------------------------------

    def soon(self):
        """Something is being typed."""
        self._typed_at = _now()
        self.refresh()

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
                    if not await self._ready():
                        return
                    _mark("advice-asked")
                    result = await self._run(request)
                    if not result:
                        return
                    self._result = result
                    _mark("advised")
                self._asked = request
            if changed:
                self._show()
            self._tint()
            document.documentElement.dataset.advised = "yes"
        finally:
            self._busy = False

    async def _quiet(self):
        """A year that is half typed is no wrong one."""
        while _now() - self._typed_at < PATIENCE:
            await asyncio.sleep(PATIENCE - (_now() - self._typed_at) + 0.001)

    def _request(self):
        """None while nothing was chosen that there could be advice on."""
        page = self._page
        draft = page.draft
        request = {name: text for name, text in period_of(draft).items() if text}
        doing = page.view.get("doing")
        if doing:
            request["activities"] = doing
        if not request or list(request) == ["rank"]:
            return None
        choices = {}
        for name, option in page.fields.options.items():
            if option["kind"] == "choice" and draft.get("options", name):
                choices[name] = draft.get("options", name)
        whole = page.ask()
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
            beside.append(_advice_html(advice, offered))
        if result:
            set_html("advice-garment", _headed(result, garment) + _rulings_html(
                house, [r for r in rulings if r["field"] not in LOOKS], True) + "".join(garment))
        set_html("advice-cloth", _rulings_html(
            house, [r for r in rulings if r["field"] in LOOKS], False) + "".join(cloth))
        self._show_house(house)
        cautions = result["cautions"] if result else []
        self.show_cautions()
        at_cloth = [c["sentence"] for c in cautions if c["moment"] in ("dyeing", "washing")]
        set_html("cloth-cautions", _list(at_cloth))
        show("cloth-cautions-part", bool(at_cloth))
        if at_cloth and [what for what in AT_THE_CLOTH if what in self._page.view["doing"]]:
            by_id("cloth-cautions-part").open = True
        against = [a["headline"] for a in (result["advice"] if result else ())
                   if a["severity"] in ("unusual", "wrong")]
        against += [r["sentence"] for r in rulings]
        set_text("advice-said", ". ".join(against) if against else
                 "Right for the time and place." if result and result["advice"] else "")

    def _tint(self):
        """A colour that is a word and not a dye's name is shown as the dye that it is taken for."""
        if self._result and self._result.get("dye"):
            draft = self._page.draft
            self._page.fields.impression.tint(
                self._result["dye"], draft.get("cloth", "cloth_fibre"))

    def show_cautions(self):
        """Those on wearing it which the pattern does not give already."""
        said = self._page.said_cautions
        worn = [c["sentence"] for c in (self._result or {}).get("cautions", ())
                if c["moment"] == "wearing" and c["sentence"] not in said]
        set_html("worn", _list(worn))
        show("worn-part", bool(worn))

    def _show_problems(self, problems):
        said = {}
        draft = self._page.draft
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
        kept = bool(self._page.draft.get("impression", "rules"))
        show("house-close", kept)
        set_text("house-open", "Open another group's rules" if kept else "Open your group's rules")
        set_html("house", "<h3>%s</h3>%s%s" % (
            esc(_owned(house["group"]) + " own rules"), _quote(house), _list(house["shows"])
        ) if house else "")

    # --- House rules -------------------------------------------------------------------------------

    async def open_rules(self, box):
        """A group's file becomes part of the draft; what it leaves no choice in fills empty fields."""
        set_text("house-said", "")
        await with_text(
            box, LARGEST, "This file is too large to be house rules.", "house-said", self._use_rules
        )

    async def _use_rules(self, text):
        if not await self._ready():
            set_text("house-said", WAITS)
            return
        result = await self._run({"do": "read-house-rules", "text": text})
        if not result:
            return
        if not result["ok"]:
            set_text("house-said", " ".join(p["message"] for p in result["problems"]))
            return
        changed = {"rules": result["link_text"]}
        for name in result["fills"]:
            if not self._page.draft.get("impression", name):
                changed[name] = result["fills"][name]
        self._page.changes.impress(changed, "The rules of %s are here." % result["group"])

    def close_rules(self):
        self._page.changes.impress({"rules": ""}, "The group's rules are removed.")


def _headed(result, told):
    """That the organiser goes first, above the first advice."""
    return '<p class="aside">%s</p>' % esc(result["organiser_first"]) if told or result["house"] else ""


def _rulings_html(house, rulings, whole):
    """What the group says of this choice; `whole` has its message as well."""
    if not house or not (rulings or whole):
        return ""
    said = "".join(
        "<li>%s%s</li>" % (esc(r["sentence"]), _buttons_html(r["alternatives"])) for r in rulings
    )
    return '<div class="house"><h3>%s says</h3>%s%s</div>' % (
        esc(house["group"]), _quote(house) if whole else "",
        "<ul>%s</ul>" % said if said else "<p>Nothing against this.</p>" if whole else "",
    )


def _quote(house):
    return '<p class="quote">%s</p>' % esc(house["message"]) if house["message"] else ""


def _owned(name):
    return name + ("’" if name.endswith("s") else "’s")


def _advice_html(advice, offered):
    """As a card; what a card before has `offered` is not offered again."""
    fresh = [a for a in advice["alternatives"] if (a["field"], a["value"]) not in offered]
    offered.update((a["field"], a["value"]) for a in fresh)
    more = "".join(_ground_html(ground) for ground in advice["more"])
    return (
        '<div class="advice" data-severity="%s"><h3><span aria-hidden="true">%s</span> %s</h3><p>%s</p>%s'
        '<details><summary><span>%s</span> <span class="aside">who says so</span></summary>%s%s</details>'
        "</div>"
        % (advice["severity"], MARKS[advice["severity"]], esc(advice["headline"]), esc(advice["sentence"]),
           _buttons_html(fresh),
           esc(_capital(advice["sure_text"])), _source_html(advice), more)
    )


def _buttons_html(alternatives):
    if not alternatives:
        return ""
    return '<div class="remedies"><span class="aside">Right instead:</span>%s</div>' % "".join(
        '<button type="button" data-do="instead" data-field="%s" data-value="%s">%s</button>'
        % (esc(a["field"]), esc(a["value"]), esc(a["label"])) for a in alternatives
    )


def _ground_html(ground):
    title = "<b>%s.</b> " % esc(ground["title"]) if ground["title"] else ""
    return "<p>%s%s <i>%s</i></p>%s" % (
        title, esc(ground["sentence"]), esc(_capital(ground["sure_text"]) + "."), _source_html(ground))


def _source_html(ground):
    dispute = "<p>But: %s</p>" % esc(ground["dispute"]) if ground["dispute"] else ""
    return '%s<p class="source">%s</p>' % (dispute, esc(_capital(ground["source"])))


def _list(sentences):
    return "<ul>%s</ul>" % "".join("<li>%s</li>" % esc(s) for s in sentences) if sentences else ""


def _capital(text):
    return text[:1].upper() + text[1:]


def _now():
    return window.performance.now() / 1000


def _mark(name):
    window.performance.clearMarks(name)
    window.performance.mark(name)
