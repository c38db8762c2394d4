"""The impression someone wants to give, and in what, as it was typed: nothing of it is judged yet."""

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True)
class Impression:
    """What of it is "" or empty was not said.

    `year` is a year or a span; `wearer` is woman, man, girl, boy or child; `options` are the garment's
    own, by name; `house_rules` is the text of a group's file or of its link; `activities` are names
    out of ACTIVITIES. `stature` is in mm.
    """

    garment: str = ""
    year: str = ""
    region: str = ""
    rank: str = ""
    colour: str = ""
    fibre: str = ""
    weave: str = ""
    thread: str = ""
    trim: str = ""
    fastening: str = ""
    making: str = ""
    wearer: str = ""
    options: Mapping[str, str] = field(default_factory=dict)
    house_rules: str = ""
    activities: tuple[str, ...] = ()
    age_months: int | None = None
    stature: float | None = None

    @property
    def asks(self) -> bool:
        """Whether it holds anything to be advised on but the garment itself."""
        return any((self.year, self.region, self.house_rules, self.activities,
                    self.fibre, self.weave, self.colour))
