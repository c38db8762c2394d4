"""The garment on its wearer, before any cloth is cut: hung in the worker while the user watches."""

from lasttime import written
from safe import esc
from telling import by_id, set_html, show
from watching import Watching


class WornPart:
    def __init__(self, session):
        self._session = session
        self._watching = Watching("wear", "The picture", session.worker.ready)
        self._of = None  # what the picture on the page is of
        session.hear("drawn", lambda _: self._check())

    def answers(self):
        return {"wear": lambda *_: self._hang(), "stop-wear": lambda *_: self._stop()}

    async def _hang(self):
        async def hang():
            asked = self._session.ask()
            request = dict(asked)
            request["do"] = "wear"
            result = await self._session.worker.steady.wear(request, self._progress)
            if result["ok"]:
                self._of = written(asked)
                set_html("wear-picture", result["svg"])
                told = "".join("<li>%s</li>" % esc(sentence) for sentence in result["sentences"])
                set_html("wear-sentences", "<ul>%s</ul>" % told)
                show("wear-seen")
            else:
                self._watching.refused(result)

        await self._watching.through(hang)
        self._check()

    async def _stop(self):
        """The user has seen enough: how it hangs by now is how it hangs."""
        self._watching.so_far("Finishing")
        await self._session.worker.steady.stop()

    def _progress(self, step):
        self._watching.so_far("It comes to rest", step["done"])
        if "svg" in step:
            set_html("wear-picture", step["svg"])
            set_html("wear-sentences", "")
            show("wear-seen")

    def _check(self):
        """Say when what hangs there is no longer what is drawn."""
        if self._watching.busy or self._of is None:
            return
        current = written(self._session.ask()) == self._of
        by_id("wear-seen").setAttribute("data-current", "yes" if current else "no")
        self._watching.say("" if current else "The pattern has changed since: hang it again.")
