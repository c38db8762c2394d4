"""What the parts of the page tell each other, so that none has to know who listens."""


class News:
    def __init__(self):
        self._hearers = {}

    def hear(self, what, react):
        """Have `react` called whenever `what` is told, after those who heard of it before."""
        self._hearers.setdefault(what, []).append(react)

    def tell(self, what, *said):
        for react in self._hearers.get(what, ()):
            react(*said)
