"""What the page does not need before it listens: fetched, unpacked and made once it does.

The build has made one text of those modules, in hexadecimal digits: a text MicroPython is handed whole, but
bytes one by one.
"""

import binascii

import telling
from pyscript import document, window

FILE = "./app/later.txt"
MISSING = (
    "A part of this page could not be fetched: the kit, the lay, the sewing and the files wait for it. "
    "What you typed is kept. Check the connection, then try again."
)


class Arriving:
    """`make()` makes of it what the page then has: something with `begin()`. `<html data-whole>` says that it
    is here."""

    def __init__(self, make):
        self._make, self._made = make, None
        self._wanting = []
        self._fetching = self._begun = False

    def answers(self):
        return {"later": lambda *_: self.come()}

    def when_here(self, use):
        """Have `use(what was made)` called, now or then."""
        if self._begun:
            use(self._made)
        else:
            self._wanting.append(use)

    async def come(self):
        """Have it come, and begin. Where it cannot be fetched the page says so, and offers another try."""
        if self._fetching or self._begun:
            return
        telling.notice("later", [])
        made = await self.at_once()
        if not made:
            telling.notice("later", [MISSING], [("later", "Try again")])
            return
        self._begun = True
        made.begin()
        for use in self._wanting:
            use(made)
        document.documentElement.dataset.whole = "yes"
        window.performance.mark("whole")

    async def at_once(self):
        """What was made; None where it does not come."""
        if not self._made:
            self._fetching = True
            try:
                response = await window.fetch(FILE)
                unpack(binascii.unhexlify(str(await response.text())))
                self._made = self._make()
            except Exception:
                return None  # whoever needs it then calls come(), which says so
            finally:
                self._fetching = False
        return self._made


def unpack(content):
    """Write the files that the build has made one of (starting.packed)."""
    line, _, rest = content.partition(b"\n")
    sizes, at = line.decode().split(), 0
    for i in range(0, len(sizes), 2):
        size = int(sizes[i + 1])
        with open(sizes[i], "wb") as file:
            file.write(rest[at:at + size])
        at += size
