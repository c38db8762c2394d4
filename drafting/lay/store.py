"""Results kept for reuse, within limits."""

from typing import Generic, TypeVar

Key = TypeVar("Key")
Value = TypeVar("Value")


class Store(Generic[Key, Value]):
    """A dictionary that is emptied when what it holds has grown too large; `emptied` counts how
    often."""

    def __init__(self, most: int) -> None:
        self.most = most
        self.held = 0
        self.emptied = 0
        self._values: dict[Key, Value] = {}

    def get(self, key: Key) -> Value | None:
        return self._values.get(key)

    def keep(self, key: Key, value: Value, size: int) -> None:
        if self.held + size > self.most and self._values:
            self._values.clear()
            self.held = 0
            self.emptied += 1
        self._values[key] = value
        self.held += size
