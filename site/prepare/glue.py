"""Pyodide's own JavaScript, shorter by two fifths and otherwise the same.

    slim(text)    pyodide.asm.js without the 3,500 definitions that are all alike

Emscripten writes one line for each function that the WebAssembly exports:

    var _f=Module["_f"]=(a0,a1)=>(_f=Module["_f"]=wasmExports["f"])(a0,a1);

Where nothing else in the file names `_f`, one loop over the names does the same to Module. A browser has to
read the whole file before Pyodide starts, on a first visit and on each later one.
"""

import re
from collections import Counter

from machine import Stop

_DEFINITION = re.compile(
    r"var (?P<name>_[\w$]*)=Module\[\"(?P=name)\"\]=(?:\([a-z0-9,]*\)|a0)=>"
    r"\((?P=name)=Module\[\"(?P=name)\"\]=wasmExports\[\"(?P<export>[\w$]+)\"\]\)\([a-z0-9,]*\);"
)
_OF_ITS_OWN = 4  # times that a definition names its function
_LEAST = 1000
_LOOP = (
    'for(const name of"{}".split(" "))Module["_"+name]=(...a)=>(Module["_"+name]=wasmExports[name])(...a);'
)


def slim(text: str) -> str:
    """Raises Stop when the file is not as it was when this was written."""
    named = Counter(re.findall(r"[A-Za-z_$][\w$]*", text))
    alike = {
        found[0]: found["export"] for found in _DEFINITION.finditer(text)
        if named[found["name"]] == _OF_ITS_OWN and found["name"] == "_" + found["export"]
    }
    if len(alike) < _LEAST:
        raise Stop(f"pyodide.asm.js defines only {len(alike)} functions in the way that glue.py shortens.")
    instead = dict.fromkeys(alike, "")
    instead[next(iter(alike))] = _LOOP.format(" ".join(alike.values()))
    return _DEFINITION.sub(lambda found: instead.get(found[0], found[0]), text)
