"""The screen stays on while hands are busy with chalk or needle, where the browser can do that."""

import asyncio

from pyscript import document, window


class Awake:
    """Keeps the screen on while anything on the page matches `busy`, a CSS selector."""

    def __init__(self, session, busy):
        self._busy = busy
        self._lock = None
        self._asking = False
        session.hear("opened", self.look)
        session.hear("part", self.look)
        session.hear("seen", self.look)

    def on_toggle(self):
        return (("*", lambda _: self.look()),)

    def look(self):
        """Something was opened or closed, or the page has come to the front again."""
        if not self._asking and getattr(window.navigator, "wakeLock", None):
            self._asking = True
            asyncio.create_task(self._follow())

    async def _follow(self):
        try:
            wanted = bool(document.querySelector(self._busy)) and document.visibilityState == "visible"
            if wanted and (self._lock is None or self._lock.released):
                self._lock = await window.navigator.wakeLock.request("screen")
            elif not wanted and self._lock is not None:
                await self._lock.release()
                self._lock = None
        except Exception:  # the battery is low, or the user forbids it: the screen may dim then
            self._lock = None
        finally:
            self._asking = False
