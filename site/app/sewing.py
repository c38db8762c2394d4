"""The sewing: the steps in order, with their pictures, and ticks that outlive a reload."""

import telling
from safe import esc
from telling import by_id, set_html, set_text, show


class Sewing:
    """`ask()` gives a draft's request, `run` answers it; `done` is {garment: [step ids]}, kept by
    `keep()`."""

    def __init__(self, ask, run, ready, done, keep):
        self._ask, self._run, self._ready = ask, run, ready
        self._done, self._keep = done, keep
        self._wanted = False
        self._garment = ""
        self._busy = False

    async def open(self):
        """The user wants the steps: now, and again whenever the pattern changes."""
        self._wanted = True
        await self.refresh()

    async def refresh(self):
        if not self._wanted or self._busy:
            return
        self._busy = True
        set_text("sewing-said", "Working out the steps…")
        try:
            if not await self._ready():
                set_text("sewing-said", "The steps come as soon as the drafting tools run: see above.")
                return
            request = self._ask()
            request["do"] = "sew"
            request.update(self._pace())
            result = await self._run(request)
        except Exception as error:
            set_text("sewing-said", "The steps could not be made (%s)." % telling.plain(error))
            return
        finally:
            self._busy = False
        if not result or not result["ok"]:
            problem = result["problems"][0]["message"] if result else "the tools stopped."
            if result and result["problems"][0]["field"] in ("stitches", "stitching_seconds"):
                set_text("stitches-problem", problem)
            set_text("sewing-said", "Not yet: " + problem)
            return
        self._garment = request["garment"]
        set_text("sewing-said", "")
        set_html("sewing-sum", _sum_html(result))
        set_html("steps", "".join(self._step_html(step) for step in result["steps"]))
        set_html("materials", _materials_html(result))
        set_html("profile", result["profile"])
        show("profile-part", bool(result["profile"]))
        show("sewing-made")
        show("sewing-open", False)
        self._count()

    def _pace(self):
        """The user's own stitches and seconds, when both are numbers."""
        found = {}
        for name in ("stitches", "stitching_seconds"):
            text = by_id(name).value.strip().replace(",", ".")
            try:
                found[name] = float(text)
            except ValueError:
                set_text("stitches-problem", "“%s” is not a number." % text[:20] if text else "")
                return {}
        set_text("stitches-problem", "")
        return found

    def tick(self, step, ticked):
        done = self._done().setdefault(self._garment, [])
        if ticked and step not in done:
            done.append(step)
        elif not ticked and step in done:
            done.remove(step)
        self._keep()
        self._count()

    def _count(self):
        boxes = by_id("steps").querySelectorAll("input[type=checkbox]")
        ticked = by_id("steps").querySelectorAll("input[type=checkbox]:checked")
        set_text("steps-done", "%d of %d steps done" % (ticked.length, boxes.length))

    def _step_html(self, step):
        checked = " checked" if step["id"] in self._done().get(self._garment, []) else ""
        lines = "".join(
            "<li>%s: <b>%s</b></li>" % (esc(line["label"]), esc(line["text"])) for line in step["lines"]
        )
        cautions = "".join('<p class="heed">%s</p>' % esc(c) for c in step["cautions"])
        time = ' <span class="aside">%s</span>' % esc(step["time"]) if step["time"] else ""
        return (
            '<li class="step"><label class="row"><input type="checkbox" data-step="%s"%s>'
            "<span><b>%d. %s</b>%s</span></label>%s<div>%s%s%s</div></li>"
            % (
                esc(step["id"]), checked, step["number"], esc(step["title"]), time,
                '<div class="step-picture">%s</div>' % step["picture"] if step["picture"] else "",
                "".join("<p>%s</p>" % esc(s) for s in step["sentences"]),
                '<ul class="lines">%s</ul>' % lines if lines else "",
                cautions,
            )
        )


def _sum_html(result):
    minutes = result["work"]["minutes"]
    hours, rest = int(minutes // 60), int(minutes % 60) // 5 * 5
    pace = "your own pace" if result["pace"]["timed"] else "a usual pace"
    return (
        "<p>About %d h %d min by hand, at %s: %s stitches, %d m of thread. It weighs about %d g.</p>"
        % (hours, rest, pace, result["work"]["stitches"], result["work"]["thread"] // 1000 + 1,
           result["weight"])
    )


def _materials_html(result):
    return "<ul>%s</ul>" % "".join(
        "<li>%s%s%s</li>"
        % (
            esc(item["what"]),
            ": " + esc(item["amount"]) if item["amount"] else "",
            ' <span class="aside">%s</span>' % esc(item["remark"]) if item["remark"] else "",
        )
        for item in result["materials"]
    )
