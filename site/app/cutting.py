"""The cloth: laying the pieces on it while the user watches, and how to chalk them there."""

import asyncio

import telling
from safe import esc
from telling import by_id, set_html, set_text, show

SECONDS = 5  # to search for a shorter lay, unless the user has seen enough


class Cutting:
    """`ask()` gives a draft's request, `engine` lays it, `ready()` waits for the worker.

    `laid` is the request whose lay stands on the page, with the rounds it took, so that its files can
    be made of the very same lay; None once the pattern or the cloth is another.
    """

    def __init__(self, ask, engine, ready):
        self._ask, self._engine, self._ready = ask, engine, ready
        self.laid = None
        self._of = None  # the draft's request that the lay on the page answers
        self._torn = False
        self._busy = False

    async def lay(self, tearable=False):
        if self._busy:
            return
        self._busy = True
        show("lay-working")
        show("lay-buttons", False)
        set_text("lay-said", "")
        by_id("lay-progress").removeAttribute("value")
        set_text("lay-so-far", "Getting the cloth out")
        try:
            if not await self._ready():
                set_text("lay-said", "The lay comes as soon as the drafting tools run: see above.")
                return
            request = self._ask()
            request.update({"do": "lay", "seconds": SECONDS, "tearable": tearable})
            self._show(request, await self._engine.lay(request, self._progress))
            self.check()
        except Exception as error:
            set_text("lay-said", "The lay could not be made (%s). Please try again." % telling.plain(error))
        finally:
            self._busy = False
            show("lay-working", False)
            show("lay-buttons")

    async def stop(self):
        """The user has seen enough: the best lay so far is the lay."""
        set_text("lay-so-far", "Finishing")
        await self._engine.stop_lay()

    def check(self):
        """Say when what is laid is no longer what is drawn. Only the unit switched: lay it in that."""
        if self._of is None:
            return
        asked = self._ask()
        if asked == self._of:
            return
        current = by_id("laid").getAttribute("data-current") == "yes"
        self.laid = None
        by_id("laid").setAttribute("data-current", "no")
        set_html("ways", "")
        set_text("lay-said", "The pattern or the cloth has changed since: lay it again.")
        if current and asked["unit"] != self._of["unit"] and not self._busy:
            asyncio.create_task(self.lay(self._torn))

    async def ways(self):
        """What would save cloth."""
        button = by_id("lay-ways")
        button.setAttribute("aria-busy", "true")
        set_html("ways", "<p>Trying what would save cloth…</p>")
        await asyncio.sleep(0.05)
        try:
            request = self._ask()
            request["do"] = "save"
            result = await self._engine.run(request)
        except Exception as error:
            set_html("ways", "<p>%s</p>" % esc(telling.plain(error)))
            return
        finally:
            button.removeAttribute("aria-busy")
        set_html("ways", _ways_html(result))

    def _progress(self, part, used, length):
        by_id("lay-progress").value = part
        set_text("lay-so-far", "%s, %s of it used" % (length, used))

    def _show(self, request, result):
        if not result["ok"]:
            set_text("lay-said", "Not yet: " + " ".join(p["message"] for p in result["problems"]))
            return
        self._of = dict(request)
        for key in ("seconds", "tearable"):
            del self._of[key]
        self._of["do"] = "draft"
        self._torn = request["tearable"]
        self.laid = dict(request)
        self.laid.update({"seconds": 3600, "max_rounds": max(1, result["rounds"])})
        set_html("lay-figures", _figures_html(result))
        set_html("lay-picture", result["picture"])
        set_html("lay-notes", _sentences(result["notes"] + [result["tearing"]]))
        set_html("chalk", _chalk_html(result["chalk"]))
        set_html("ways", "")
        by_id("laid").setAttribute("data-current", "yes")
        show("laid")


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


def _chalk_html(chalk):
    """Each piece folded: a table of marks, how to join them, and a diagonal to check."""
    pieces = []
    titles = [piece["title"] for piece in chalk["pieces"]]
    for number, piece in enumerate(chalk["pieces"], 1):
        after = ""
        if number < len(titles):
            after = '<button type="button" data-do="next-piece">Next: %d. %s</button>' % (
                number + 1, esc(titles[number])
            )
        marks = "".join(
            '<tr><th scope="row">%s</th><td>%s</td><td>%s</td></tr>' % tuple(esc(t) for t in mark)
            for mark in piece["marks"]
        )
        pieces.append(
            '<details class="chalk-piece" name="chalk"><summary><span>%d. %s</span></summary>%s'
            '<table><thead><tr>'
            '<th scope="col">Mark</th><th scope="col">From left selvedge</th>'
            '<th scope="col">From cut end</th></tr></thead><tbody>%s</tbody></table>%s%s</details>'
            % (number, esc(piece["title"]), piece["picture"], marks,
               _sentences(piece["joins"] + [piece["check"]]), after)
        )
    return _sentences(chalk["first"]) + "".join(pieces)


def _ways_html(result):
    if not result["ok"]:
        return _sentences([p["message"] for p in result["problems"]])
    if not result["ways"]:
        return "<p>Nothing that was tried makes it fit, or saves cloth worth speaking of.</p>"
    out = []
    for way in result["ways"]:
        button = ""
        name = way.get("option") or way.get("cloth") and "cloth_" + way["cloth"]
        if name:
            button = (
                '<button type="button" class="remedy" data-do="remedy" data-option="%s" '
                'data-value="%s">Take it</button>' % (esc(name), esc(way["value"]))
            )
        out.append("<li>%s %s</li>" % (esc(way["sentence"]), button))
    return '<ul class="cards">%s</ul>' % "".join(out)


def next_piece(button):
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
