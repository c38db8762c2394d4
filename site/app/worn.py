"""The garment on its wearer, before any cloth is cut: hung in the worker while the user watches."""

from lasttime import written
from pyscript import document, window
from pyscript.ffi import create_proxy
from safe import esc
from telling import by_id, set_html, show
from watching import Watching

PAINTER = "turn.js"
NO_PAINTER = "What paints the picture could not be fetched: check the connection, then try again."
SIDES = ("from the front", "from the left in front", "from the left", "from the left behind",
         "from behind", "from the right behind", "from the right", "from the right in front")


class WornPart:
    def __init__(self, session):
        self._session = session
        self._watching = Watching("wear", "The picture", session.worker.ready)
        self._of = None  # what the picture on the page is of
        self._turning = None
        self._turned = create_proxy(self._say_side)
        session.hear("drawn", lambda _: self._check())

    def answers(self):
        return {"wear": lambda *_: self._hang(), "stop-wear": lambda *_: self._stop(), "turn": self._turn}

    async def _hang(self):
        async def hang():
            if not await _fetched():
                self._watching.say(NO_PAINTER)
                return
            asked = self._session.ask()
            request = dict(asked)
            request["do"] = "wear"
            result = await self._session.worker.steady.wear(request, self._progress)
            if result["ok"]:
                self._of = written(asked)
                self._paint(result["seen"])
                told = "".join("<li>%s</li>" % esc(sentence) for sentence in result["sentences"])
                set_html("wear-sentences", "<ul>%s</ul>" % told)
            else:
                self._watching.refused(result)

        await self._watching.through(hang)
        self._check()

    async def _stop(self):
        """The user has seen enough: how it hangs by now is how it hangs."""
        self._watching.so_far("Finishing")
        await self._session.worker.steady.stop()

    def _turn(self, degrees, *_):
        if self._turning:
            self._turning.turn(int(degrees))

    def _progress(self, step):
        self._watching.so_far("It comes to rest", step["done"])
        if "seen" in step:
            self._paint(step["seen"])
            set_html("wear-sentences", "")

    def _paint(self, seen):
        show("wear-seen")
        by_id("wear-seen").setAttribute("data-current", "yes")
        self._turning = window.ellwand.turning(by_id("wear-picture"), seen, self._turned)
        window.performance.mark("worn")

    def _say_side(self, degrees):
        picture = by_id("wear-picture")
        picture.setAttribute("aria-valuenow", str(degrees))
        picture.setAttribute("aria-valuetext", SIDES[int((degrees + 22.5) % 360 // 45)])

    def _check(self):
        """Say when what hangs there is no longer what is drawn."""
        if self._watching.busy or self._of is None:
            return
        current = written(self._session.ask()) == self._of
        by_id("wear-seen").setAttribute("data-current", "yes" if current else "no")
        self._watching.say("" if current else "The pattern has changed since: hang it again.")


def _fetched():
    """A promise of whether what paints is here; it is asked for when the first garment is hung."""
    def settle(resolve, reject):
        if hasattr(window.ellwand, "turning"):
            return resolve(True)
        script = document.createElement("script")
        script.src = PAINTER
        script.onload = create_proxy(lambda _: resolve(hasattr(window.ellwand, "turning")))
        script.onerror = create_proxy(lambda _: resolve(False))
        document.head.appendChild(script)

    return window.Promise.new(create_proxy(settle))
