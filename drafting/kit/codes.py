"""QR codes of a link, for one phone to show and another to read.

The error level is L and the version at most 20, for what stands between two phones is neither dirt
nor a torn label but size. At L the same text takes the fewest modules, and a screen is clean and
bright; where a version has room to spare segno raises the level anyway. Version 20 is 97 modules
wide, 105 with its quiet zone: on a screen 360 CSS pixels wide a module is 3.4 of them, some 0.6 mm on
a phone 65 mm wide, and in a camera's picture 1080 pixels across, two thirds filled by the code, about
7 pixels. common practice, no source: 3 pixels a module is the least that readers want.
"""

from dataclasses import dataclass
from io import BytesIO

from ..words.problems import BadInput, Problem
from .share import parts

LARGEST_VERSION = 20
LONGEST_TEXT = 858
"""Bytes. source: ISO/IEC 18004:2015, table 7, version 20-L in byte mode."""

QUIET_ZONE = 4
"""Modules. source: ISO/IEC 18004:2015, 6.3.8."""

MOST_CODES = 12
"""Nobody scans more one after the other. common practice, no source."""

LEAST_ROOM = 100
"""Characters that must be left for a part beside the page's own address."""


@dataclass(frozen=True)
class Code:
    """One code: the link in it, an SVG, and how many modules wide it is with its quiet zone."""

    link: str
    svg: str
    modules: int


def codes(link: str) -> tuple[Code, ...]:
    """The link as one code, or as several that can be read in any order; each is a link as well.

    Raises BadInput for a link that no code of this size can begin, or that would take too many.
    """
    address, hash_, fragment = link.partition("#")
    room = LONGEST_TEXT - len(f"{address}{hash_}".encode())
    if room < LEAST_ROOM:
        raise BadInput([Problem(
            "link", f"The page's own address is {len(address)} characters long, which leaves a QR code "
            "no room: copy the link instead."
        )])
    cut = parts(fragment, room)
    if len(cut) > MOST_CODES:
        raise BadInput([Problem(
            "link", f"This would take {len(cut)} QR codes, and {MOST_CODES} is as many as anyone scans: "
            "hand over the file instead."
        )])
    return tuple(_code(f"{address}{hash_}{part}") for part in cut)


def _code(link: str) -> Code:
    import segno

    code = segno.make_qr(link, error="L", boost_error=True)
    file = BytesIO()
    code.save(file, kind="svg", border=QUIET_ZONE, dark="#000", light="#fff", xmldecl=False,
              omitsize=True, nl=False)
    return Code(link, file.getvalue().decode(), int(code.symbol_size(border=QUIET_ZONE)[0]))
