"""What came back from the worker: the pattern on the page, or beside each field why there is none."""

import lasttime
from draft import HOLDERS
from example import EXAMPLE_MEASUREMENTS
from pyscript import document
from results import doubted, parts, verdict, wide
from safe import esc
from telling import by_id, set_html, set_text, show


class Outcome:
    """Knows what stands on the page, so that what is not current can be marked as that."""

    def __init__(self, session, fields, stage):
        self._session, self.fields, self.stage = session, fields, stage
        self.example_shown = True
        session.hear("answered", self._answered)
        session.hear("changed", self._changed)

    def _answered(self, result):
        """Put a draft's result on the page, or say beside each field why there is none."""
        session = self._session
        if result["ok"]:
            self.fields.show_age(session.draft)
        if self._show(result, session.draft):
            own = session.own is None and not session.draft.is_empty()
            lasttime.keep(session.asked if own else None, result["preview"])
            session.tell("drawn", result)

    def _show(self, result, draft):
        """True when there is a new pattern; otherwise the last good one stays, marked."""
        homeless = self.fields.show_problems(result.get("problems", ()), draft)
        self._say_homeless(homeless, draft)
        if not result["ok"]:
            self._say_not_current(result["problems"], draft)
            return False
        document.documentElement.removeAttribute("data-returning")
        self.example_shown = self._session.asked_of_example
        changed = self.stage.show(result["preview"], wide(result["preview"]))
        set_html("peek", result["preview"])
        made = parts(result)
        for place in made:
            set_html(place, made[place])
            show(place + "-part", bool(made[place]))
        show("lining-cloth", "lining" in result["cloths"])
        set_text("verdict", verdict(result))
        doubts = [name for name in doubted(result) if self.fields.has(name)]
        fine = result["passed"] and not doubts
        by_id("verdict").setAttribute("data-passed", "yes" if fine else "no")
        self.fields.show_defaults(result["options"])
        estimated = {e["name"]: e["text"] for e in result["estimated"]}
        example = {}
        if self._session.is_example():
            example = {n: EXAMPLE_MEASUREMENTS[draft.unit][n] for n in self.fields.needed}
        self.fields.show_measures(draft, example, estimated)
        show("not-current", False)
        self.say_whose()
        set_text("what-changed", "Changed: %s." % ", ".join(changed) if changed else "")
        self._say_status(verdict(result), "verdict" if not result["passed"] else doubts[0] if doubts else "")
        return True

    def say_whose(self):
        show("example", self._session.is_example())
        by_id("stage").setAttribute("data-example", "yes" if self.example_shown else "no")
        set_text("whose", "An example, until you type your own measurements."
                 if self.example_shown else "Drawn from what you typed.")

    def _changed(self, _):
        if self._session.worker.redraw.able:
            return  # else there is no worker yet to draw what was typed
        if not self._session.is_example() or self._session.draft.options:
            text = "yours is drawn as soon as the drafting tools are here"
            self._mark_not_current(text + ".", text, "")

    def _say_not_current(self, problems, draft):
        errors = [p for p in problems if p["severity"] == "error"]
        missing = [
            p["field"] for p in errors
            if p["field"] in self.fields.needed and not draft.get("measurements", p["field"])
        ]
        count = len(errors)
        if len(missing) == count:
            labels = ", ".join(self.fields.label(name) for name in missing)
            long = "still to measure: %s." % labels
            short = "%d still to measure" % count
        else:
            more = " And %d more to put right." % (count - 1) if count > 1 else ""
            long = errors[0]["message"] + more
            short = "%d to put right" % count
        at_home = [p["field"] for p in errors if self.fields.has(p["field"])]
        self._mark_not_current(long, short, at_home[0] if at_home else "homeless")

    def _mark_not_current(self, long, short, where):
        set_text("not-current", "Not current: " + long)
        show("not-current")
        show("example", self._session.is_example())
        self._say_status("Not current: %s." % short, where)

    def _say_status(self, text, where):
        """In the bar, with a way to the place where something is to be done."""
        set_text("status", text)
        by_id("bar").setAttribute("data-current", "no" if text.startswith("Not current") else "yes")
        by_id("show-me").setAttribute("data-field", where)
        show("show-me", bool(where))

    def _say_homeless(self, problems, draft):
        """Problems whose field is not on this page, each with a way to drop what it speaks of."""
        out = []
        for problem in problems:
            name = problem["field"]
            drop = any(draft.get(holder, name) for holder in HOLDERS)
            button = (
                '<button type="button" data-do="leave-out" data-field="%s">Leave it out</button>'
                % esc(name) if drop else ""
            )
            out.append("<li>%s %s</li>" % (esc(problem["message"]), button))
        set_html("homeless", "<ul>%s</ul>" % "".join(out) if out else "")
        show("homeless", bool(out))
