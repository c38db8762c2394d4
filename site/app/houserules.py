"""A group's rules written in a form: used, saved as a file, sent as a link; and a link that brings some."""

import asyncio

import telling
from advice import WAITS
from exchange import address, copy_text, hand_over
from keeping import clear_address
from link import write_rules
from pyscript import document
from telling import by_id, set_text
from wayfinding import go_to_part

COPIED = "Copied. Whoever opens it sees the rules first, and may use them."


class HouseRulesForm:
    """`advice` uses rules."""

    def __init__(self, session, advice):
        self._session, self._advice = session, advice
        self._came = ""  # the rules that a link has brought, as link text
        session.hear("rules", lambda rules: asyncio.create_task(self._offer(rules)))

    def answers(self):
        return {
            "rules:use": lambda *_: self._use(),
            "rules:file": lambda *_: self._save(),
            "rules:link": lambda *_: self._copy_link(),
            "rules:take": lambda *_: self._take(),
            "rules:leave": lambda *_: self._leave(),
        }

    def on_toggle(self):
        return (("#rules-form", self._opened),)

    async def _use(self):
        written = await self._written()
        if written:
            await self._advice.use_rules(written["link_text"])

    async def _save(self):
        written = await self._written()
        if written:
            hand_over(written["text"], written["type"], written["name"])
            set_text("rules-said", "%s is in your downloads." % written["name"])

    async def _copy_link(self):
        written = await self._written()
        if written:
            link = address() + "#" + write_rules(written["link_text"])
            await copy_text(link, "rules-link", "rules-said", COPIED)

    async def _written(self):
        """The worker's answer to what is typed; None where it is said what is wrong."""
        boxes = list(document.querySelectorAll("[data-rule]"))
        typed = {box.getAttribute("data-rule"): box.value for box in boxes}
        result = await self._answer({"do": "write-house-rules", "rules": typed})
        said = {p["field"]: p["message"] for p in result["problems"]} if result and not result["ok"] else {}
        for box in boxes:
            set_text(box.id + "-problem", said.get(box.id, ""))
            by_id("field-" + box.id).setAttribute("data-mark", "wrong" if box.id in said else "")
            box.setAttribute("aria-invalid", "true" if box.id in said else "false")
        return result if result and result["ok"] else None

    async def _answer(self, request):
        set_text("rules-said", "")
        if not await self._session.worker.ready():
            set_text("rules-said", WAITS)
            return None
        return await self._session.worker.run(request)

    async def _opened(self, fold):
        """The rules that are in use stand in the form, to be changed; not over what is typed there."""
        rules = self._session.draft.get("impression", "rules")
        boxes = list(document.querySelectorAll("[data-rule]"))
        if not fold.open or not rules or [box for box in boxes if box.value]:
            return
        result = await self._answer({"do": "read-house-rules", "text": rules})
        if result and result["ok"]:
            for box in boxes:
                box.value = result["typed"].get(box.getAttribute("data-rule"), "")

    # --- Rules that came by a link -----------------------------------------------------------------

    async def _offer(self, rules):
        telling.notice("link", ["A group's rules came by a link. They are read as soon as the tools run."])
        result = await self._answer({"do": "read-house-rules", "text": rules})
        if not result:
            return
        if not result["ok"]:
            said = [problem["message"] for problem in result["problems"]]
            telling.notice("link", said, [("rules:leave", "Close")])
            return
        self._came = rules
        said = ["The rules of %s came by a link. Nothing of yours has changed." % result["group"]]
        said += result["shows"] + ([result["message"]] if result["message"] else [])
        telling.notice("link", said, [("rules:take", "Use these rules"), ("rules:leave", "Leave them")])

    async def _take(self):
        rules = self._came
        self._leave()
        go_to_part("garment")
        by_id("impression").open = True
        await self._advice.use_rules(rules)

    def _leave(self):
        self._came = ""
        telling.notice("link", [])
        clear_address()
