"""Next season for the family: what fits until when, what to let out now, what to hand on, and what is new."""

import telling
from clock import today
from exchange import take_file
from safe import esc
from shopping import part_html
from telling import by_id, set_html, set_text, show


class SeasonPart:
    def __init__(self, session):
        self._session = session
        self._listing = None

    def answers(self):
        return {"season:look": lambda *_: self._look(), "season:sheet": lambda _, button: self._print(button)}

    async def _look(self):
        day = by_id("season-date")
        day.value = day.value or today()
        set_text("season-said", "Looking ahead…")
        request = {"do": "season", "kit": self._session.kits.as_text(), "date": day.value,
                   "unit": self._session.draft.unit}
        try:
            if not await self._session.worker.ready():
                set_text("season-said", "This comes as soon as the drafting tools run: see above.")
                return
            result = await self._session.worker.steady.run(request)
        except Exception as error:
            set_text("season-said", "That did not work (%s). Please try again." % telling.plain(error))
            return
        if not result["ok"]:
            set_text("season-said", " ".join(problem["message"] for problem in result["problems"]))
            return
        self._listing = result["listing"]
        set_text("season-said", " ".join(result["set_aside"]))
        set_html("season-list", "<h3>%s</h3>%s" % (
            esc(self._listing["title"]), "".join(part_html(part) for part in self._listing["parts"])))
        show("season-shown")

    async def _print(self, button):
        request = {"do": "season-sheet", "listing": self._listing, "paper": by_id("paper").value}
        await take_file(self._session.worker, request, "season-said", button, "Setting the page…")
