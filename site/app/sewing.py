"""The sewing: the steps in order, with their pictures, and ticks that outlive a reload."""

import asyncio

import telling
from clock import today
from draft import looks_of
from kitlives import come_to
from lasttime import written
from pyscript import document
from remembered import Remembered
from safe import esc
from telling import by_id, set_html, set_text, show
from words import marked

PACE = ("stitches", "stitching_seconds")


class Sewing:
    def __init__(self, session):
        self._session = session
        self._wanted = self._again = False
        self._garment = {"done": [], "progress": ""}  # whose steps stand on the page
        self._busy = False
        self._of = ""  # the request that they answer
        self._plans = Remembered("sewn", 2, "steps")
        session.hear("drawn", lambda _: asyncio.create_task(self._refresh()))
        session.hear("part", self.look)

    def answers(self):
        return {
            "step-done": lambda name, button: self._step_done(name, button),
            "all-steps": lambda _, button: _show_all(button),
        }

    def on_input(self):
        return (("[data-pace]", self._typed),)

    def on_toggle(self):
        return ((".step", self._opened),)

    def on_change(self):
        return (("[data-step]", self._tick), ("[data-pace]", lambda _: self._refresh()))

    def look(self):
        """Another part of the page is shown. The steps are made once that is theirs, and then again
        whenever the pattern changes."""
        if document.documentElement.dataset.part == "sewing":
            if not self._wanted:
                for name in PACE:
                    by_id(name).value = str(self._session.view_part("pace").get(name, ""))
                self._show_kept()
            self._wanted = True
            asyncio.create_task(self._open())

    def _show_kept(self):
        """What was worked out when the page was last here, until it is worked out again."""
        request = self._request()
        kept = self._plans.found(request)
        if kept:
            self._garment = self._session.sewn()
            self._say_pace(self._pace()[1])
            try:
                self._show(request, kept[1])
            except Exception:  # what is kept is not what this page keeps
                self._plans.drop()
                self._of = ""

    async def _open(self):
        await self._refresh()
        self._session.tell("opened")

    async def _refresh(self):
        """One at a time; what changed meanwhile makes another."""
        if self._busy:
            self._again = True
        if not self._wanted or self._busy:
            return
        self._busy = self._again = True
        try:
            while self._again:
                self._again = False
                if self._of != written(self._request()):
                    set_text("sewing-said", "Working out the steps…")
                await self._make()
        except Exception as error:
            set_text("sewing-said", "The steps could not be made (%s)." % telling.plain(error))
        finally:
            self._busy = False

    async def _make(self):
        if not await self._session.worker.ready():
            set_text("sewing-said", "The steps come as soon as the drafting tools run: see above.")
            return
        pace, problem = self._pace()
        if problem:
            self._say_pace(problem)
        request, garment = self._request(), self._session.sewn()
        result = await self._session.worker.run(request)
        if pace and result and not result["ok"] and result["problems"][0]["field"] in PACE:
            problem = result["problems"][0]["message"]
            for name in PACE:
                del request[name]
            result = await self._session.worker.run(request)
        self._say_pace(problem)
        if not result or not result["ok"]:
            problem = result["problems"][0]["message"] if result else "the tools stopped."
            set_text("sewing-said", "Not yet: " + problem)
            return
        self._garment = garment
        self._plans.keep(request, request, result)
        self._show(request, result)

    def _request(self):
        request = self._session.ask()
        request.update(looks_of(self._session.draft))
        request["do"] = "sew"
        request.update(self._pace()[0])
        return request

    def _show(self, request, result):
        self._of = written(request)
        set_text("sewing-said", "")
        set_html("sewing-sum", _sum_html(result))
        set_text("sewing-time", "about %s" % result["work"]["time"])
        seen, at = [], self._at(result["steps"])
        set_html("steps", "".join(self._step_html(step, seen, at) for step in result["steps"]))
        set_html("materials", _materials_html(result) + "".join(
            '<p class="heed">%s</p>' % esc(c) for c in result["cautions"]))
        set_html("care", "".join("<p>%s</p>" % esc(s) for s in result["care"]))
        set_html("profile", result["profile"])
        show("profile-part", bool(result["profile"]))
        set_html("together", result["together"])
        show("together-part", bool(result["together"]))
        show("sewing-made")
        self._count()

    def _pace(self):
        """(The user's own stitches and seconds, when both are numbers; what is wrong with them, or "")."""
        found, problem = {}, ""
        for name in PACE:
            text = by_id(name).value.strip()
            try:
                found[name] = float(text.replace(",", "."))
            except ValueError:
                if text and not problem:
                    problem = "“%s” is not a number such as 40." % text[:20]
        return (found if len(found) == len(PACE) else {}), problem

    def _say_pace(self, problem):
        set_text("stitches-problem", problem)
        for name in PACE:
            by_id("field-" + name).setAttribute("data-mark", "wrong" if problem else "")
            by_id(name).setAttribute("aria-invalid", "true" if problem else "false")

    def _typed(self, box):
        """A field of the pace was typed in."""
        self._session.view_part("pace")[box.id] = box.value
        self._session.keep()

    def _at(self, steps):
        """The step that is under way: the one opened last, else the first that is not done."""
        names = [step["id"] for step in steps]
        at = self._session.view.get("step")
        left = [name for name in names if name not in self._garment["done"]]
        return at if at in names else left[0] if left else ""

    def _opened(self, step):
        if step.open:
            self._session.view["step"] = step.querySelector("[data-step]").getAttribute("data-step")
            self._session.keep()

    def _step_done(self, name, button):
        """Tick a step, fold it, and unfold the next."""
        step = button.closest("details")
        box = step.querySelector("[data-step]")
        box.checked = True
        self._tick(box)
        after = step.parentElement.nextElementSibling
        step.open = False
        if after:
            after.querySelector("details").open = True
            telling.arrive(after.querySelector("summary"))

    def _tick(self, box):
        step, ticked = box.getAttribute("data-step"), box.checked
        done = self._garment["done"]
        if ticked and step not in done:
            done.append(step)
        elif not ticked and step in done:
            done.remove(step)
        box.closest("details").setAttribute("data-done", "yes" if ticked else "no")
        left = self._count()
        come_to(self._garment, "sewn", not left, today())
        self._session.keep()
        self._session.tell("kit")

    def _count(self):
        """Say how many steps are done; how many are left."""
        boxes = by_id("steps").querySelectorAll("input[type=checkbox]")
        ticked = by_id("steps").querySelectorAll("input[type=checkbox]:checked")
        set_text("steps-done", "%d of %d steps done" % (ticked.length, boxes.length))
        self._garment["progress"] = "%d of %d" % (ticked.length, boxes.length)
        return boxes.length - ticked.length

    def _step_html(self, step, seen, at):
        lines = "".join(
            "<li>%s: <b>%s</b></li>" % (esc(line["label"]), esc(line["text"])) for line in step["lines"]
        )
        cautions = "".join('<p class="heed">%s</p>' % esc(c) for c in step["cautions"])
        time = ' <span class="aside">%s</span>' % esc(step["time"]) if step["time"] else ""
        done = step["id"] in self._garment["done"]
        return (
            '<li><details class="step" name="step" data-done="%s"%s><summary><span><b>%d. %s</b>%s</span>'
            '</summary>%s<div>%s%s%s</div><div class="buttons">'
            '<label class="row"><input type="checkbox" data-step="%s"%s><span>Done</span></label>'
            '<button type="button" class="main" data-do="step-done:%s">Done, and on</button>'
            "</div></details></li>"
            % (
                "yes" if done else "no", " open" if step["id"] == at else "",
                step["number"], esc(step["title"]), time,
                '<div class="step-picture">%s</div>' % step["picture"] if step["picture"] else "",
                "".join("<p>%s</p>" % marked(s, seen) for s in step["sentences"]),
                '<ul class="lines">%s</ul>' % lines if lines else "",
                cautions, esc(step["id"]), " checked" if done else "", esc(step["id"]),
            )
        )


def _show_all(button):
    """All the steps, or again only those about the one that is unfolded."""
    every = button.getAttribute("aria-expanded") != "true"
    button.setAttribute("aria-expanded", "true" if every else "false")
    by_id("steps").setAttribute("data-all", "yes" if every else "no")


def _sum_html(result):
    pace = "your own pace" if result["pace"]["timed"] else "a usual pace"
    return (
        "<p>About %s by hand, at %s: %s stitches, %d m of thread. It weighs about %d g.</p>"
        % (result["work"]["time"], pace, result["work"]["stitches"], result["work"]["thread"] // 1000 + 1,
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
