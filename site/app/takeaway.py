"""The section of what the user takes away: files, and the link."""

import asyncio

from draft import period_of
from example import EXAMPLE_NAME
from exchange import address, copy_text, share_file, share_link, take_file
from lasttime import written
from pyscript import document
from telling import by_id, set_text

LAY_FILES = ("chalk-plan.pdf", "chalk-plan.json", "lay.svg", "lay-lining.svg", "booklet.pdf")
WAITING = {
    "tiled.pdf": "Making the sheets…",
    "pieces.svg": "Making the drawing…",
    "pattern.json": "Writing the numbers…",
    "booklet.pdf": "Making the booklet…",
    "chalk-plan.pdf": "Making the chalk plan…",
    "chalk-plan.json": "Writing the numbers…",
    "lay.svg": "Drawing the lay…",
    "lay-lining.svg": "Drawing the lay…",
}


class TakeAway:
    """`cutting.laid` is the lay that files are made of; `codes` shows a link's QR codes."""

    def __init__(self, session, cutting, codes):
        self._session, self._cutting, self._codes = session, cutting, codes
        session.hear("drawn", lambda _: asyncio.create_task(self._count()))
        session.hear("part", lambda: asyncio.create_task(self._count()))

    def answers(self):
        return {
            "take": lambda kind, button: take_file(
                self._session.worker, self._request(kind), "took-" + kind, button, WAITING[kind]),
            "copy-link": lambda *_: self._copy(),
            "share:link": lambda *_: share_link("took-link", self._title(), self._link()),
            "share": lambda said, _: share_file(said),
            "qr:draft": lambda *_: self._codes.open(self._link, "show-qr"),
        }

    def on_change(self):
        return (("#with-name", lambda _: self._codes.check()),
                ("#paper, #whole", lambda _: self._count()))

    async def _count(self):
        """How many sheets it will be, on the button; asked only while it is to be seen."""
        if document.documentElement.dataset.part != "take-away":
            return
        request = self._sheets()
        of = written(request)
        set_text("sheet-count", "")
        if not await self._session.worker.ready():
            return
        result = await self._session.worker.run(request)
        if result and result["ok"] and of == written(self._sheets()):
            count = result["sheets"]
            said = "1 sheet" if count == 1 else "%d sheets" % count
            set_text("sheet-count", " ·\u00a0" + said.replace(" ", "\u00a0"))

    def _sheets(self):
        request = self._request("tiled.pdf")
        request["do"] = "sheets"
        return request

    def _request(self, kind):
        session = self._session
        draft, request = session.draft, session.ask()
        name = draft.name.strip() or (EXAMPLE_NAME if session.is_example() else "")
        request.update({"do": "file", "kind": kind, "name": name, "paper": by_id("paper").value})
        if kind == "tiled.pdf":
            request["whole"] = by_id("whole").checked
        laid = self._cutting.laid
        if laid and kind in LAY_FILES:
            for key in ("seconds", "max_rounds", "tearable"):
                request[key] = laid[key]
        elif kind == "booklet.pdf" and not laid:
            request["cloths"] = {}
        if kind == "booklet.pdf":
            request.update(period_of(draft))
            request["activities"] = session.view["doing"]
        return request

    async def _copy(self):
        said = "Copied. Whoever opens it gets this same pattern."
        await copy_text(self._link(), "link", "took-link", said)

    def _link(self):
        """The address of this draft, with the name in it if that is ticked."""
        return address() + "#" + self._session.fragment(self._session.draft, by_id("with-name").checked)

    def _title(self):
        """What the draft on the page is called."""
        title = self._session.catalogue.title(self._session.draft.garment)
        return "%s, drafted with Ellwand" % title
