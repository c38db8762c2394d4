"""The cloth: laying the pieces on it while the user watches, and how to chalk them there."""

import asyncio

import telling
from safe import esc
from telling import by_id, set_html, set_text, show
from watching import Watching

SECONDS = 5  # to search for a shorter lay, unless the user has seen enough


class Cutting:
    """`changes` takes a way that would save cloth.

    `laid` is the request whose lay stands on the page, with the rounds it took, so that its files can
    be made of the very same lay; None once the pattern or the cloth is another.
    """

    def __init__(self, session, changes):
        self._session, self._changes = session, changes
        self._watching = Watching("lay", "The lay", session.worker.ready)
        self.laid = None
        self._of = None  # the draft's request that the lay on the page answers
        self._torn = False
        self._ways = []
        session.hear("drawn", lambda _: self._check())

    def answers(self):
        return {
            "lay": lambda how, _: self._lay(how == "torn"),
            "stop-lay": lambda *_: self._stop(),
            "ways": lambda *_: self._try_ways(),
            "way": lambda number, _: self._changes.take(self._ways[int(number)]["change"], "lay"),
            "next-piece": lambda _, button: _next_piece(button),
        }

    async def _lay(self, tearable=False):
        async def lay():
            request = self._session.ask()
            request.update({"do": "lay", "seconds": SECONDS, "tearable": tearable})
            self._show(request, await self._session.worker.steady.lay(request, self._progress))

        await self._watching.through(lay)
        self._check()

    async def _stop(self):
        """The user has seen enough: the best lay so far is the lay, the ways found so far the ways."""
        self._watching.so_far("Finishing")
        await self._session.worker.steady.stop()

    def _check(self):
        """Say when what is laid is no longer what is drawn. Only the unit switched: lay it in that."""
        if self._of is None:
            return
        asked = self._session.ask()
        if asked == self._of:
            return
        current = by_id("laid").getAttribute("data-current") == "yes"
        self.laid = None
        by_id("laid").setAttribute("data-current", "no")
        self._show_ways({"ok": True, "ways": [], "going_on": True})
        self._watching.say("The pattern or the cloth has changed since: lay it again.")
        if current and asked["unit"] != self._of["unit"] and not self._watching.busy:
            asyncio.create_task(self._lay(self._torn))

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
        if not result["ok"]:
            self._watching.refused(result)
            return
        self._of = dict(request)
        for key in ("seconds", "tearable"):
            del self._of[key]
        self._of["do"] = "draft"
        self._torn = request["tearable"]
        self.laid = dict(request)
        self.laid.update({"seconds": 3600, "max_rounds": result["rounds"]})
        _show_lay("lay", "chalk", result)
        further = result["further"]
        for place in ("lining-laid", "lining-chalked", "lining-drawing"):
            show(place, bool(further))
        if further:
            _show_lay("lining", "lining-chalk", further[0])
        self._show_ways({"ok": True, "ways": [], "going_on": True})
        by_id("laid").setAttribute("data-current", "yes")
        show("laid")


def _show_lay(place, chalk, lay):
    set_html(place + "-figures", _figures_html(lay))
    set_html(place + "-picture", lay["picture"])
    set_html(place + "-notes", _sentences(lay["notes"] + [lay["tearing"]]))
    set_html(chalk, _chalk_html(lay["chalk"], chalk))


def _figures_html(result):
    rows = [("To buy", result["buy_length"])]
    if result["cut_length"] != result["buy_length"]:
        rows.append(("To cut, after washing", result["cut_length"]))
    rows.append(("Used", result["used"]))
    if result["missing"]:
        rows.append(("Too short by", result["missing"]))
    for key, label in (("weight", "Weight"), ("price", "Price")):
        if result[key]:
            rows.append((label, result[key]))
    return "<dl>%s</dl>" % "".join(
        "<div><dt>%s</dt><dd>%s</dd></div>" % (label, esc(text)) for label, text in rows
    )


def _chalk_html(chalk, group):
    """Each piece folded: a table of marks, how to join them, and a diagonal to check."""
    pieces = []
    titles = [piece["title"] for piece in chalk["pieces"]]
    for number, piece in enumerate(chalk["pieces"], 1):
        after = ""
        if number < len(titles):
            after = '<button type="button" data-do="next-piece">Next: %d. %s</button>' % (
                number + 1, esc(titles[number])
            )
        marks = "".join(map(_mark_html, piece["marks"]))
        pieces.append(
            '<details class="chalk-piece" name="%s"><summary><span>%d. %s</span></summary>%s%s'
            '<table><thead><tr><th scope="col">Mark</th>%s</tr></thead><tbody>%s</tbody></table>%s%s'
            "</details>"
            % (group, number, esc(piece["title"]), piece["picture"], _sentences(piece["before"]),
               "".join('<th scope="col">%s</th>' % (column[0].upper() + column[1:])
                       for column in piece["columns"]),
               marks, _sentences(piece["joins"] + [piece["check"]]), after)
        )
    return _sentences(chalk["first"]) + "".join(pieces)


def _mark_html(mark):
    """Its letter and two numbers, and what it is for under them."""
    label, across, down, note = [esc(text) for text in mark]
    row = '<tr><th scope="row">%s</th><td>%s</td><td>%s</td></tr>' % (label, across, down)
    return row + '<tr class="what-for"><td></td><td colspan="2">%s</td></tr>' % note if note else row


def _ways_html(result):
    if not result["ok"]:
        return _sentences([p["message"] for p in result["problems"]])
    if not result["ways"]:
        none = "Nothing that was tried makes it fit, or saves cloth worth speaking of."
        return "" if result.get("going_on") else "<p>%s</p>" % none
    out = [
        '<li>%s <button type="button" class="remedy" data-do="way:%d">Take it</button></li>'
        % (esc(way["sentence"]), number)
        for number, way in enumerate(result["ways"])
    ]
    return '<ul class="cards">%s</ul>' % "".join(out)


def _next_piece(button):
    """Fold the piece that is chalked, and unfold the one after it."""
    piece = button.closest("details")
    after = piece.nextElementSibling
    piece.open = False
    after.open = True
    summary = after.querySelector("summary")
    summary.focus()
    summary.scrollIntoView()


def _sentences(sentences):
    sentences = [s for s in sentences if s]
    if not sentences:
        return ""
    return "<ul>%s</ul>" % "".join("<li>%s</li>" % esc(s) for s in sentences)
