"""The cloth: laying the pieces on it while the user watches."""

import asyncio

import telling
from chalkplan import figures_html, on_hand_html, sentences
from lasttime import written
from remembered import Remembered
from safe import esc
from telling import by_id, set_html, set_text, show
from watching import Watching

SECONDS = 5  # to search for a shorter lay, unless the user has seen enough


class Cutting:
    """`chalking` shows where to chalk what is laid, `changes` takes a way that would save cloth, `enlarging`
    shows a piece of it large.

    `laid` is the request whose lay stands on the page, with the rounds it took, so that its files can
    be made of the very same lay; None once the pattern or the cloth is another.
    """

    def __init__(self, session, chalking, changes, enlarging):
        self._session, self._chalking, self._changes = session, chalking, changes
        self._enlarging = enlarging
        self._watching = Watching("lay", "The lay", session.worker.ready)
        self._lays = Remembered("laid", 6, "chalk")
        self.laid = None
        self._of, self._unit = None, ""  # the draft's request that the lay on the page answers, and its unit
        self._torn = False
        self._missing = []  # of each cloth that is laid: by how much it is too short
        self._ways = []
        session.hear("drawn", lambda _: self._check())
        session.hear("part", self._show_kept)

    def answers(self):
        return {
            "lay": lambda how, _: self._lay(how == "torn"),
            "stop-lay": lambda *_: self._stop(),
            "ways": lambda *_: self._try_ways(),
            "way": lambda number, _: self._changes.take(self._ways[int(number)]["change"], "lay"),
        }

    async def _lay(self, tearable=False):
        async def lay():
            request = self._session.ask()
            request.update({"do": "lay", "seconds": SECONDS, "tearable": tearable})
            result = await self._session.worker.steady.lay(request, self._progress)
            if result["ok"]:
                self._lays.keep(_draft_of(request), request, result)
                self._chalking.laid_anew(" ".join(lay["laid_as"] for lay in _shown_of(result)))
                self._show(request, result)
            else:
                self._watching.refused(result)

        await self._watching.through(lay)
        self._check()

    async def _stop(self):
        """The user has seen enough: the best lay so far is the lay, the ways found so far the ways."""
        self._watching.so_far("Finishing")
        await self._session.worker.steady.stop()

    def _check(self):
        """Show what was laid of what is drawn, now or before. Else say when what is laid is no longer what
        is drawn. Only the unit switched: lay it in that."""
        asked = self._session.ask()
        if self._show_kept() or self._of is None:
            self._say_too_short()
            return
        current = by_id("laid").getAttribute("data-current") == "yes"
        self.laid = None
        by_id("laid").setAttribute("data-current", "no")
        self._chalking.say_current(False)
        self._show_ways({"ok": True, "ways": [], "going_on": True})
        self._watching.say("The pattern or the cloth has changed since: lay it again.")
        if current and asked["unit"] != self._unit:
            asyncio.create_task(self._lay(self._torn))

    def _show_on_hand(self, lay):
        """What is cut from pieces that are there already, and what is left."""
        of_the_kit = self._session.own is None
        told = on_hand_html(lay, of_the_kit)
        set_html("lay-on-hand", told)
        show("lay-left", bool(told))
        if lay.get("on_hand"):
            by_id("lay-left").open = True
        for number in range(len(lay.get("on_hand", ()))):
            self._enlarging.know("on-hand-%d" % number, lay)

    def _say_too_short(self):
        """In the bar, where what is laid is what is drawn."""
        if not self.laid or written(self._session.ask()) != self._of:
            return
        for whose, missing in zip(("cloth", "lining's cloth"), self._missing):
            if missing and by_id("bar").getAttribute("data-current") != "no":
                set_text("status", "The %s is %s too short." % (whose, missing))
                by_id("show-me").setAttribute("data-field", "lay-figures")
                show("show-me")
                return

    def _show_kept(self):
        """Show what was laid of what is on the form. Whether it stands there, or is being made."""
        asked = self._session.ask()
        if self._watching.busy or self.laid and written(asked) == self._of:
            return True
        kept = self._lays.found(asked)
        try:
            if kept:
                self._watching.say("")
                self._show(*kept)
            return bool(kept)
        except Exception:  # what is kept is not what this page keeps
            self._lays.drop()
            self.laid = self._of = None
            return False

    async def _try_ways(self):
        """What would save cloth, each way as it is found."""
        if self._watching.busy:
            return
        self._watching.busy = True
        self._show_ways({"ok": True, "ways": [], "going_on": True})
        by_id("ways-progress").value = 0
        set_text("ways-trying", "Laying it as it is")
        show("ways-working")
        show("lay-ways", False)
        show("lay-buttons", False)
        try:
            request = self._session.ask()
            request.update(self.laid or {"seconds": SECONDS})
            request["do"] = "save"
            self._show_ways(await self._session.worker.steady.save(request, self._tried))
        except Exception as error:
            set_html("ways", "<p>%s</p>" % esc(telling.plain(error)))
        finally:
            self._watching.busy = False
            show("ways-working", False)
            show("lay-ways")
            show("lay-buttons")
        self._check()

    def _tried(self, step):
        by_id("ways-progress").value = step["done"]
        if step["trying"]:
            set_text("ways-trying", "Trying: " + step["trying"])
        if len(step["ways"]) != len(self._ways):
            self._show_ways(step)

    def _show_ways(self, result):
        self._ways = result.get("ways", [])
        set_html("ways", _ways_html(result))

    def _progress(self, step):
        whose = "" if step["cloth"] == "main" else "The %s: " % step["cloth"]
        so_far = "%s%s, %s of it used" % (whose, step["cut_length"], step["used"])
        self._watching.so_far(so_far, step["done"])

    def _show(self, request, result):
        self._of, self._unit = written(_draft_of(request)), request["unit"]
        self._torn = request["tearable"]
        self.laid = dict(request)
        self.laid.update({"seconds": 3600, "max_rounds": result["rounds"]})
        lays = _shown_of(result)
        for place, lay in zip(("lay", "lining"), lays):
            _show_lay(place, lay)
            self._enlarging.know(place + "-picture", lay)
        self._show_on_hand(result)
        for place in ("lining-laid", "lining-drawing"):
            show(place, len(lays) > 1)
        self._chalking.show(lays)
        self._missing = [lay["missing"] for lay in lays]
        self._show_ways({"ok": True, "ways": [], "going_on": True})
        by_id("laid").setAttribute("data-current", "yes")
        self._say_too_short()
        show("laid")
        show("laid-files")
        show("laid-others")


def _draft_of(request):
    """The draft's request that one for a lay answers."""
    of = dict(request)
    for key in ("seconds", "tearable"):
        del of[key]
    of["do"] = "draft"
    return of


def _shown_of(result):
    """The lays of the main cloth and, where there is one, of the lining."""
    return [result] + result["further"][:1]


def _show_lay(place, lay):
    set_html(place + "-figures", figures_html(lay))
    set_html(place + "-picture", lay["picture"])
    set_html(place + "-notes", sentences(lay["notes"] + [lay["tearing"]]))


def _ways_html(result):
    if not result["ok"]:
        return sentences([p["message"] for p in result["problems"]])
    if not result["ways"]:
        none = "Nothing that was tried makes it fit, or saves cloth worth speaking of."
        return "" if result.get("going_on") else "<p>%s</p>" % none
    out = [
        '<li>%s <button type="button" class="remedy" data-do="way:%d">Take it</button></li>'
        % (esc(way["sentence"]), number)
        for number, way in enumerate(result["ways"])
    ]
    return '<ul class="cards">%s</ul>' % "".join(out)
