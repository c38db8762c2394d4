"""QR codes on the screen: a link to hand over, one code at a time when it takes several."""

import asyncio

from telling import arrive, by_id, set_html, set_text, show

OFFLINE = " A phone that has opened Ellwand before needs no network for it."
ONE = "Point the other phone's camera at it, and open what it finds." + OFFLINE
SEVERAL = (
    "Point the other phone's camera at it and open what it finds, then go on to the next code. Any "
    "order does: the other phone says how many are there." + OFFLINE
)


class Codes:
    def __init__(self, session):
        self._session = session
        self._codes = []
        self._at = 0
        self._link = ""  # makes the link that is shown, so that it can be made again
        self._made_of = ""
        self._opener = ""
        session.hear("drawn", lambda _: asyncio.create_task(self.check()))

    def answers(self):
        return {"qr:next": lambda *_: self._next(), "qr:close": lambda *_: self._close()}

    async def open(self, link, opener):
        """Show the codes of what `link()` gives; `opener` is the button to go back to."""
        self._link, self._opener = link, opener
        by_id(opener).setAttribute("aria-busy", "true")
        try:
            made = await self._make()
        finally:
            by_id(opener).removeAttribute("aria-busy")
        if made:
            by_id(opener).setAttribute("aria-expanded", "true")
            arrive(by_id("qr"))

    async def check(self):
        """What is shown is always of the draft as it is now."""
        if self._codes and self._link() != self._made_of:
            await self._make()

    async def now_of(self, opener, link):
        """What the code behind `opener` is of has changed, if that is the one that is shown."""
        if self._codes and self._opener == opener:
            self._link = link
            await self.check()

    async def _make(self):
        set_text("qr-label", "Drawing the code…")
        show("qr")
        link = self._link()
        if not await self._session.worker.ready():
            return self._say("The code comes as soon as the drafting tools run.")
        result = await self._session.worker.run({"do": "qr", "link": link})
        if result is None:
            return self._say("The code could not be drawn. Please try again.")
        if not result["ok"]:
            return self._say(result["problems"][0]["message"])
        self._codes, self._made_of = result["codes"], link
        self._at = min(self._at, len(self._codes) - 1)
        self._put()
        self._session.tell("opened")
        return True

    def _say(self, text):
        self._codes, self._made_of = [], ""
        set_text("qr-label", text)
        set_html("qr-code", "")
        set_text("qr-how", "")
        show("qr-next", False)
        return False

    def _next(self):
        self._at = (self._at + 1) % len(self._codes)
        self._put()

    def _close(self):
        self._codes, self._at = [], 0
        show("qr", False)
        set_html("qr-code", "")
        opener = by_id(self._opener)
        opener.setAttribute("aria-expanded", "false")
        arrive(opener, opener)
        self._session.tell("opened")

    def _put(self):
        code, several = self._codes[self._at], len(self._codes) > 1
        set_text("qr-label", "QR code %s" % code["label"] if several else "QR code of the link")
        set_html("qr-code", code["svg"])
        place = by_id("qr-code")
        place.style.setProperty("--modules", str(code["modules"]))
        place.setAttribute("role", "img")
        place.setAttribute("aria-label", "QR code %s" % code["label"])
        set_text("qr-how", SEVERAL if several else ONE)
        show("qr-next", several)
