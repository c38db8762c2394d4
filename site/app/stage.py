"""The cloth with the pieces chalked on it: zoom, and move about by finger, wheel or key.

All of it is the drawing's viewBox; letters grow more slowly than the pieces do, so that zooming in
parts those that lie close.
"""

from pyscript import window
from pyscript.ffi import create_proxy, to_js

MOST = 24.0
STEP = 1.5
LETTERS = 0.35  # the power of the zoom by which letters grow
ARROWS = {
    "ArrowLeft": (-1, 0), "ArrowRight": (1, 0), "ArrowUp": (0, -1), "ArrowDown": (0, 1),
}


class Stage:
    def __init__(self, session, cloth):
        self.cloth = cloth
        self.svg = None
        self.wide = ""
        self.zoom = 1.0
        self.middle = (0.5, 0.5)  # parts of the box that is shown at zoom 1
        self._content = (0.0, 0.0, 1.0, 1.0)
        self._letters = 0.0
        self._fingers = {}
        self._heard = []
        for kind, react in (
            ("pointerdown", self._down), ("pointermove", self._move), ("pointerup", self._up),
            ("pointercancel", self._up), ("keydown", self._key), ("dblclick", self._double),
        ):
            self._listen(kind, react, None)
        self._listen("wheel", self._wheel, to_js({"passive": False}))
        self._resized = create_proxy(lambda *_: self.apply())
        window.ResizeObserver.new(self._resized).observe(cloth)
        self._of_another = False  # whether what is drawn next is another garment
        session.hear("another", self._take_another)

    def _take_another(self):
        self._of_another = True
        self.fit()

    def answers(self):
        return {"zoom": lambda how, _: self._zoom(how)}

    def _zoom(self, how):
        if how == "all":
            self.fit()
        else:
            self.zoom_by(STEP if how == "in" else 1 / STEP)

    def _listen(self, kind, react, options):
        proxy = create_proxy(react)
        self._heard.append(proxy)
        if options is None:
            self.cloth.addEventListener(kind, proxy)
        else:
            self.cloth.addEventListener(kind, proxy, options)

    def show(self, svg, wide):
        """Put another drawing on the cloth; the place looked at stays. `wide`: width over height.

        The names of the pieces that are cut otherwise than in the drawing before, which are marked; none
        where all are, or where that was of another garment."""
        before = self._cut()
        self.cloth.innerHTML = svg
        changed = self._mark_changed(before)
        if wide != self.wide:
            self.wide = wide
            self.cloth.style.setProperty("--wide", wide)
        self.adopt()
        return changed

    def _cut(self):
        """{piece: the lines along which it is cut} of what stands on the cloth."""
        return {
            piece.getAttribute("data-piece"):
            [line.getAttribute("d") for line in piece.querySelectorAll(".cut")]
            for piece in self.cloth.querySelectorAll("g[data-piece]")
        }

    def _mark_changed(self, before):
        after, another = self._cut(), self._of_another
        self._of_another = False
        changed = [name for name in after if after[name] != before.get(name)]
        if another or len(changed) == len(after):
            return []
        for piece in self.cloth.querySelectorAll("g[data-piece]"):
            if piece.getAttribute("data-piece") in changed:
                piece.setAttribute("data-changed", "yes")
        return sorted(changed)

    def adopt(self):
        """Take charge of the drawing that stands on the cloth."""
        self.svg = self.cloth.querySelector("svg")
        if self.svg:
            box = self.svg.getAttribute("viewBox").split()
            self._content = tuple(float(part) for part in box)
            self._letters = float(self.svg.getAttribute("font-size") or 0)
            self.apply()

    def apply(self):
        left, top, width, height = self._box()
        across, down = width / self.zoom, height / self.zoom
        half = 0.5 / self.zoom
        x, y = (min(max(part, half), 1 - half) for part in self.middle)
        self.middle = (x, y)
        if self.svg is None:
            return
        self.svg.setAttribute(
            "viewBox",
            "%.2f %.2f %.2f %.2f"
            % (left + x * width - across / 2, top + y * height - down / 2, across, down),
        )
        size = self._letters * self.zoom ** (LETTERS - 1)
        self.svg.setAttribute("font-size", "%.2f" % size)
        self.cloth.setAttribute("data-zoomed", "yes" if self.zoom > 1.001 else "no")

    def _box(self):
        """The content widened to the cloth's own proportions."""
        left, top, width, height = self._content
        across, down = max(1, self.cloth.clientWidth), max(1, self.cloth.clientHeight)
        if width * down < height * across:
            wider = height * across / down
            return left - (wider - width) / 2, top, wider, height
        taller = width * down / across
        return left, top - (taller - height) / 2, width, taller

    def fit(self):
        self.zoom, self.middle = 1.0, (0.5, 0.5)
        self.apply()

    def zoom_by(self, factor, at=(0.5, 0.5)):
        """`at`: the part of the view that stays where it is."""
        before = self.zoom
        self.zoom = min(max(self.zoom * factor, 1.0), MOST)
        gain = 1 / before - 1 / self.zoom
        self.middle = tuple(m + (a - 0.5) * gain for m, a in zip(self.middle, at))
        self.apply()

    def pan(self, right, down):
        """By parts of the view."""
        self.middle = (self.middle[0] + right / self.zoom, self.middle[1] + down / self.zoom)
        self.apply()

    def _at(self, x, y):
        rect = self.cloth.getBoundingClientRect()
        return (x - rect.left) / max(1, rect.width), (y - rect.top) / max(1, rect.height)

    def _down(self, event):
        self._fingers[event.pointerId] = (event.clientX, event.clientY)

    def _move(self, event):
        finger = event.pointerId
        if finger not in self._fingers:
            return
        before = dict(self._fingers)
        self._fingers[finger] = (event.clientX, event.clientY)
        if len(before) == 1 and self.zoom > 1:
            self.cloth.setPointerCapture(finger)
            (x0, y0), (x1, y1) = before[finger], self._fingers[finger]
            self.pan((x0 - x1) / self.cloth.clientWidth, (y0 - y1) / self.cloth.clientHeight)
        elif len(before) == 2:
            (x0, y0), apart = _spread(before)
            (x1, y1), now = _spread(self._fingers)
            self.pan((x0 - x1) / self.cloth.clientWidth, (y0 - y1) / self.cloth.clientHeight)
            self.zoom_by(now / max(1, apart), self._at(x1, y1))

    def _up(self, event):
        self._fingers.pop(event.pointerId, None)

    def _double(self, event):
        self.zoom_by(2.0, self._at(event.clientX, event.clientY))

    def _wheel(self, event):
        """The page scrolls by until the cloth has been chosen, or looked into, or Ctrl is held."""
        chosen = window.document.activeElement
        if not (event.ctrlKey or event.metaKey or self.zoom > 1 or self.cloth.isSameNode(chosen)):
            return
        event.preventDefault()
        turned = event.deltaY * (16 if event.deltaMode == 1 else 1)
        self.zoom_by(2 ** (-turned / 240), self._at(event.clientX, event.clientY))

    def _key(self, event):
        key = event.key
        if event.ctrlKey or event.metaKey or event.altKey:
            return
        if key in ARROWS and self.zoom > 1:
            right, down = ARROWS[key]
            self.pan(right * 0.15, down * 0.15)
        elif key in ("+", "="):
            self.zoom_by(STEP)
        elif key in ("-", "_"):
            self.zoom_by(1 / STEP)
        elif key == "0":
            self.fit()
        else:
            return
        event.preventDefault()


def _spread(fingers):
    """The middle between two fingers, and how far they are apart."""
    (x0, y0), (x1, y1) = list(fingers.values())[:2]
    return ((x0 + x1) / 2, (y0 + y1) / 2), ((x0 - x1) ** 2 + (y0 - y1) ** 2) ** 0.5
